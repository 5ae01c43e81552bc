package org.voltsecond.plot.explain;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.StageMeasurement;
import org.voltsecond.converter.StageSampler;
import org.voltsecond.converter.StageSignal;
import org.voltsecond.converter.StageValue;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.plot.LineBuilder;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;
import org.voltsecond.study.Axis;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * The ratio of output to input voltage over the duty cycle: in closed form for ideal parts, and of exact steady states with
 * the losses of conduction, at the load of the design and at lighter loads, where conduction becomes discontinuous. Every load is a
 * resistor, since the ratio in discontinuous conduction hangs on it. Magnitudes: an inverting stage is drawn upwards. Immutable.
 *
 * <pre>{@code
 * ConversionCurve curve = ConversionCurve.of(steady, 60, 10, 50);
 * double duty = curve.design().dutyCycle(); // 0.45
 * double ratio = curve.design().ratio(); // 0.4188
 * curve.picture("Logic rail: what the duty cycle does").writePng(folder.resolve("conversion-ratio.png"));
 * }</pre>
 *
 * @param stage which stage
 * @param dutyCycles where the ratios are, ascending
 * @param ideal the closed form in continuous conduction; not a number where the stage has none
 * @param loads the exact ones, that of the design first
 * @param design the operating point
 * @param maximum where more duty cycle gives less output at the load of the design; empty where it does not turn over
 */
public record ConversionCurve(
        Topology stage,
        List<Double> dutyCycles,
        List<Double> ideal,
        List<AtLoad> loads,
        Point design,
        Optional<Point> maximum) {
    /** The range of duty cycles is this part of what the stage bears: at its ends there is nothing to see, and some have no steady state. */
    private static final double LOWEST = 0.02;

    private static final double HIGHEST = 0.97;

    /** So many halvings by the golden section find a maximum to 1e-8 of its place, where it is flat to round-off. */
    private static final int MOST_SECTIONS = 30;

    private static final double GOLDEN = 0.5 * (Math.sqrt(5) - 1);

    /** What is drawn above the highest ratio at the load of the design: the closed form goes to infinity. */
    private static final double HEADROOM = 1.6;

    /**
     * The ratios at one load.
     *
     * @param resistance its resistance, Ω
     * @param ratios magnitudes of exact steady states; not a number where there is none
     */
    public record AtLoad(double resistance, List<Double> ratios) {
        /**
         * Makes the list unmodifiable.
         *
         * @param resistance its resistance, Ω
         * @param ratios magnitudes of exact steady states
         */
        public AtLoad {
            ratios = List.copyOf(ratios);
        }
    }

    /**
     * A place in the picture.
     *
     * @param dutyCycle duty cycle, 0 to 1
     * @param ratio magnitude of the output voltage over the input voltage
     */
    public record Point(double dutyCycle, double ratio) {}

    /**
     * Makes the lists unmodifiable.
     *
     * @param stage which stage
     * @param dutyCycles where the ratios are
     * @param ideal the closed form in continuous conduction
     * @param loads the exact ones
     * @param design the operating point
     * @param maximum where the stage turns over
     */
    public ConversionCurve {
        dutyCycles = List.copyOf(dutyCycles);
        ideal = List.copyOf(ideal);
        loads = List.copyOf(loads);
    }

    /**
     * Works out the ratios.
     *
     * @param steady the operating point; what regulates it is left away
     * @param count number of duty cycles, at least 2
     * @param lighter for each further load how many times its resistance is that of the design
     * @return the curve
     * @throws IllegalArgumentException if there are less than two duty cycles, a factor is not more than 0, or nothing flows into the load
     */
    public static ConversionCurve of(ConverterSteadyState steady, int count, double... lighter) {
        Converter converter = steady.converter();
        double output = Math.abs(steady.of(converter.outputVoltage()).mean());
        double resistance = output / Math.abs(steady.of(converter.loadCurrent()).mean());
        if (count < 2 || !(resistance > 0 && resistance < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(
                    "a curve needs at least 2 duty cycles and a load that takes current, but got " + count
                            + " and a load of " + resistance + " Ω");
        }
        double most = HIGHEST * converter.topology().longestDutyCycle();
        List<Double> dutyCycles = Axis.linear("duty cycle", LOWEST, most, count);
        Converter open = open(steady);
        List<AtLoad> loads = new ArrayList<>();
        Ratios nominal = new Ratios(open.withLoad(Load.resistor(resistance)));
        loads.add(new AtLoad(resistance, nominal.at(dutyCycles)));
        for (double factor : lighter) {
            Ratios light = new Ratios(open.withLoad(Load.resistor(resistance * factor)));
            loads.add(new AtLoad(resistance * factor, light.at(dutyCycles)));
        }
        Topology stage = converter.topology();
        List<Double> ideal = dutyCycles.stream()
                .map(duty -> Math.abs(stage.continuousRatio(duty)))
                .toList();
        Point design = new Point(steady.dutyCycle(), output / converter.inputVoltage());
        return new ConversionCurve(
                stage, dutyCycles, ideal, loads, design, nominal.maximum(dutyCycles, loads.get(0).ratios));
    }

    /**
     * Returns whether the ratios of a stage take some ten microseconds each, not a search of some milliseconds.
     *
     * @param steady the operating point
     * @return whether {@link #of} is quick
     */
    public static boolean isQuickFor(ConverterSteadyState steady) {
        return StageSampler.isQuickFor(open(steady));
    }

    private static Converter open(ConverterSteadyState steady) {
        Converter converter = steady.converter();
        return converter.isRegulated()
                ? converter.withDrive(Drive.fixedDuty(steady.dutyCycle(), frequency(steady)))
                : converter;
    }

    private static double frequency(ConverterSteadyState steady) {
        return steady.periodic().periods() / steady.period();
    }

    /** One stage at any duty cycle, by its kernel where it has one. */
    private static final class Ratios {
        private final StageSampler sampler;
        private final double input;

        Ratios(Converter converter) {
            sampler = StageSampler.of(
                    converter,
                    List.of(StageValue.DUTY_CYCLE),
                    List.of(StageMeasurement.of(StageMeasurement.Measure.MEAN, StageSignal.OUTPUT_VOLTAGE)));
            input = converter.inputVoltage();
        }

        List<Double> at(List<Double> dutyCycles) {
            return dutyCycles.stream().map(this::at).toList();
        }

        double at(double dutyCycle) {
            double[] output = new double[1];
            try {
                sampler.measure(new double[] {dutyCycle}, output);
            } catch (NoSteadyStateException | SwitchingException | InvalidStageException none) {
                return Double.NaN;
            }
            return Math.abs(output[0]) / input;
        }

        /** The highest of all points, by the golden section between its neighbours; none where it is the last. */
        Optional<Point> maximum(List<Double> dutyCycles, List<Double> ratios) {
            int best = 0;
            for (int k = 1; k < ratios.size(); k++) {
                best = ratios.get(k) > ratios.get(best) || Double.isNaN(ratios.get(best)) ? k : best;
            }
            if (best == 0 || best == ratios.size() - 1 || !(ratios.get(best + 1) < ratios.get(best))) {
                return Optional.empty();
            }
            double low = dutyCycles.get(best - 1);
            double high = dutyCycles.get(best + 1);
            for (int k = 0; k < MOST_SECTIONS; k++) {
                double left = high - GOLDEN * (high - low);
                double right = low + GOLDEN * (high - low);
                if (at(left) < at(right)) {
                    low = left;
                } else {
                    high = right;
                }
            }
            double place = 0.5 * (low + high);
            return Optional.of(new Point(place, at(place)));
        }
    }

    /**
     * Draws the curves, with the design and where the stage turns over.
     *
     * @param title in bold at the top
     * @return the picture
     */
    public Picture picture(String title) {
        double[] places = array(dutyCycles);
        LineBuilder lines = Pictures.lines(title)
                .subtitle(
                        stage + (stage.isInverting() ? " stage, magnitude of the negative output" : " stage")
                                + "; the further a curve is from the ideal one, the higher the losses, or the shorter the time that current flows")
                .x("Duty cycle", Unit.ONE)
                .y("Output over input voltage", Unit.ONE)
                .yRange(0, HEADROOM * highest().orElse(1));
        for (int k = 0; k < loads.size(); k++) {
            AtLoad load = loads.get(k);
            if (load.ratios.stream().anyMatch(Double::isFinite)) {
                String words = Quantity.format(load.resistance, Unit.OHM, 3);
                lines.line(k == 0 ? "at the design's load of " + words : "at " + words, places, array(load.ratios));
            }
        }
        if (ideal.stream().anyMatch(Double::isFinite)) {
            lines.line("ideal, in continuous conduction", places, array(ideal));
        }
        maximum.ifPresent(
                point -> lines.mark(point.dutyCycle, point.ratio, "turns over at " + number(point.dutyCycle)));
        return lines.mark(
                        design.dutyCycle,
                        design.ratio,
                        "design: " + number(design.ratio) + " at " + number(design.dutyCycle))
                .build();
    }

    private OptionalDouble highest() {
        return Stream.concat(Stream.of(design.ratio), loads.get(0).ratios.stream())
                .filter(Double::isFinite)
                .mapToDouble(Double::doubleValue)
                .max();
    }

    private static String number(double value) {
        return Quantity.format(value, Unit.ONE, 3);
    }

    private static double[] array(List<Double> values) {
        return values.stream().mapToDouble(Double::doubleValue).toArray();
    }
}
