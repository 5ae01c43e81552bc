package org.voltsecond.plot.slides;

import java.util.List;
import java.util.Optional;
import java.util.function.DoubleFunction;
import java.util.function.DoubleUnaryOperator;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.plot.Panel;
import org.voltsecond.plot.Pictures;
import org.voltsecond.plot.explain.ConversionCurve;
import org.voltsecond.plot.slides.Slide.Draft;
import org.voltsecond.plot.slides.SteadySlides.Orbit;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;
import org.voltsecond.study.BoundaryLoad;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/** Why the output is what it is, and where the current runs dry. */
final class RatioSlides {
    private static final int POINTS = 60;
    /** For the discontinuous branch: this many times the resistance of the load. */
    private static final double LIGHTER = 10;

    /** A smaller part of the output is no drop that anybody would look for. */
    private static final double NO_DROP = 5e-4;

    /** Loads on both sides of the boundary that are well seen beside it. */
    private static final double[] BESIDE = {0.4, 1, 2.5};

    private static final int DIGITS = 4;

    private RatioSlides() {}

    /**
     * A law that the ratio of ideal parts may follow, but for a constant factor, such as the turns of a transformer.
     *
     * @param symbols as one writes it
     * @param law by the duty cycle
     * @param numbers as one writes it with a duty cycle
     */
    private record Law(String symbols, DoubleUnaryOperator law, DoubleFunction<String> numbers) {
        private static final double[] TRIED = {0.1, 0.25, 0.4};

        private static final List<Law> KNOWN = List.of(
                new Law("V·D", duty -> duty, duty -> " × " + number(duty)),
                new Law("V/(1−D)", duty -> 1 / (1 - duty), duty -> " / (1 − " + number(duty) + ")"),
                new Law(
                        "V·D/(1−D)",
                        duty -> duty / (1 - duty),
                        duty -> " × " + number(duty) + " / (1 − " + number(duty) + ")"));

        static Optional<Law> of(Topology stage) {
            return KNOWN.stream().filter(law -> law.isOf(stage)).findFirst();
        }

        private boolean isOf(Topology stage) {
            double factor = factor(stage);
            for (double duty : TRIED) {
                // a few roundings; a ratio that is not a number fits none
                if (!(Math.abs(stage.continuousRatio(duty) - factor * law.applyAsDouble(duty))
                        <= 1e-12 * Math.abs(factor))) {
                    return false;
                }
            }
            return true;
        }

        double factor(Topology stage) {
            return stage.continuousRatio(TRIED[0]) / law.applyAsDouble(TRIED[0]);
        }

        /** Such as "0.333 × "; empty for one, whatever the sign. */
        static String times(double factor) {
            return Math.abs(Math.abs(factor) - 1) < 1e-12 ? "" : number(Math.abs(factor)) + " × ";
        }
    }

    private static String number(double value) {
        return Quantity.format(value, Unit.ONE, 3);
    }

    static Result<List<Slide>> conversionRatio(Orbit orbit) {
        ConverterSteadyState steady = orbit.steady();
        if (orbit.steady().of(orbit.converter().loadCurrent()).mean() == 0) {
            return Result.missing("nothing flows into its load");
        }
        if (!ConversionCurve.isQuickFor(steady)) {
            return Result.missing("each point of it would be a search");
        }
        Draft draft = orbit.draft("conversion-ratio")
                .definition(
                        "Ratio of output to input voltage over the duty cycle D: of ideal parts in continuous conduction, and of exact "
                                + "steady states with the drops of this design. In discontinuous conduction the ratio hangs on the load.");
        ConversionCurve curve = ConversionCurve.of(steady, POINTS, LIGHTER);
        return Result.of(List.of(draft.of(message(orbit, draft), curve.picture(""))));
    }

    private static String message(Orbit orbit, Draft draft) {
        Topology stage = orbit.converter().topology();
        double input = orbit.converter().inputVoltage();
        double duty = orbit.steady().dutyCycle();
        double output = Math.abs(orbit.output().mean());
        double ideal = Math.abs(stage.continuousRatio(duty)) * input;
        String told = draft.tell("output voltage, magnitude", output, Unit.VOLT);
        String wanted = draft.tell("of ideal parts, magnitude", ideal, Unit.VOLT);
        draft.note("duty cycle", duty, Unit.ONE);
        draft.note("input voltage", input, Unit.VOLT);
        Optional<Law> law = Law.of(stage);
        String name =
                law.map(found -> Law.times(found.factor(stage)) + found.symbols).orElse("that of ideal parts");
        if (orbit.steady().conduction() == Conduction.DISCONTINUOUS) {
            return "The current runs dry, so that the output is " + told + " and not " + name + ", " + wanted;
        }
        String sum = law.map(found -> Law.times(found.factor(stage)) + Quantity.format(input, Unit.VOLT, 3)
                        + found.numbers.apply(duty) + " = " + wanted)
                .orElse(wanted);
        return "The output is " + name + ": " + sum + difference(ideal - output, output, draft);
    }

    private static String difference(double drops, double output, Draft draft) {
        if (Math.abs(drops) < NO_DROP * output) {
            return "";
        }
        return drops > 0
                ? ", less " + draft.tell("drops", drops, Unit.VOLT) + " of drops"
                : ", and " + draft.tell("more than ideal parts give", -drops, Unit.VOLT) + " more";
    }

    static Result<List<Slide>> boundary(Orbit orbit) {
        return BoundaryLoad.of(orbit.steady()).flatMap(found -> {
            try {
                return Result.of(List.of(boundary(orbit, found)));
            } catch (NoSteadyStateException | SwitchingException e) {
                return Result.missing("there is no steady state beside the boundary");
            }
        });
    }

    private static Slide boundary(Orbit orbit, BoundaryLoad found) {
        Load load = orbit.converter().load();
        boolean resistance = load.hasResistance();
        Unit unit = resistance ? Unit.OHM : Unit.AMPERE;
        double at = resistance ? found.resistance() : found.current();
        Draft draft = orbit.draft("boundary")
                .definition(
                        "At the boundary the inductor current just reaches zero as the period ends. With a lighter load it rests at "
                                + "zero for the remainder, and the output leaves the law of continuous conduction unless a regulator holds it.");
        String message =
                "The current runs dry " + (resistance ? "above " : "below ") + draft.tell("boundary", at, unit, DIGITS);
        if (resistance && orbit.converter().isRegulated()) {
            message += ", below " + draft.tell("load current there", found.current(), Unit.AMPERE, DIGITS);
        }
        Waveform[] currents = new Waveform[BESIDE.length];
        for (int k = 0; k < BESIDE.length; k++) {
            double beside = BESIDE[k] * at;
            Converter there = orbit.converter()
                    .withLoad(
                            resistance
                                    ? Load.resistor(beside)
                                    : load.drawing(beside, found.current() * found.resistance()));
            currents[k] = there.steadyState().of(there.inductorCurrent()).named(Quantity.format(beside, unit, 3));
        }
        Panel panel = Panel.of(currents).titled("inductor current at").limit(0, "");
        return draft.of(message, Pictures.stack().panel(panel).build());
    }
}
