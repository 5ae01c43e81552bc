package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.DoubleStream;
import org.voltsecond.control.ComposedRegulator.Checks;
import org.voltsecond.control.Controller.OwnState;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;

/**
 * Digital control: once a period the error is sampled, and a difference equation makes the duty cycle of it,
 *
 * <pre>{@code y[n] = b0 e[n] + b1 e[n-1] + ... - a1 y[n-1] - a2 y[n-2] - ...,  d[n] = bias + y[n]}</pre>
 *
 * <p>which is held for a pulse that begins with the clock. The duty cycle is limited to 0 and the maximum; where the
 * equation looks back at its own results it finds the limited ones, so that it does not wind up; quantisation is only that
 * of the pulse, not of the results (G. F. Franklin, J. D. Powell, M. L. Workman, Digital Control of Dynamic Systems, 3rd
 * ed., 1998, from memory). Immutable; every {@code with} returns a new one.
 *
 * <pre>{@code
 * SampledControl regulator = SampledControl.of(kilo(300), 1, 0.2, 0.3, -0.295) // b0, b1: 1/V
 *         .withDenominator(-1) // an integrator
 *         .withSampling(0.8, nano(500)) // late in the period; the converter takes 500 ns
 *         .withQuantisedDutyCycle(1024)
 *         .withSoftStart(milli(1));
 * double output = stage.drive(regulator).startUp(milli(4)).finalCapacitorVoltage(); // 5.00 V
 * }</pre>
 */
public final class SampledControl extends ComposedRegulator<SampledControl.SampledModulator, SampledControl> {
    private SampledControl(Parts<SampledModulator> parts) {
        super(parts);
    }

    /**
     * Returns a regulator that samples on the clock and uses the result at once, without memory, bias, limit below 1 or
     * quantisation.
     *
     * @param switchingFrequency Hz; more than 0
     * @param reference V; more than 0
     * @param divider sensed voltage over output voltage; more than 0, at most 1
     * @param numerator b0, b1, ...: duty cycle per volt of the error just sampled, of the one before, and so on, 1/V
     * @return the regulator
     */
    public static SampledControl of(double switchingFrequency, double reference, double divider, double... numerator) {
        return new SampledControl(Parts.of(
                ControlLoop.of(reference, divider, Compensator.proportional(1)),
                new SampledModulator(1 / switchingFrequency, listOf(numerator), List.of(), 0, 0, 0, 1, 0)));
    }

    private static List<Double> listOf(double[] values) {
        return DoubleStream.of(values).boxed().toList();
    }

    /**
     * Returns this regulator with results of the difference equation fed back into it.
     *
     * @param denominator a1, a2, ...: by these factors earlier results are subtracted; -1 alone makes an integrator
     * @return a new regulator
     */
    public SampledControl withDenominator(double... denominator) {
        return with(modulator().withEquation(listOf(denominator), modulator().bias()));
    }

    /**
     * Returns this regulator with a duty cycle at zero error, which also holds until the first result can be used.
     *
     * @param dutyCycle finite
     * @return a new regulator
     */
    public SampledControl withBias(double dutyCycle) {
        return with(modulator().withEquation(modulator().denominator(), dutyCycle));
    }

    /**
     * Returns this regulator with another instant of sampling, and a time that the result takes. A pulse has the duty
     * cycle of the latest result that is ready on the clock edge on which it begins.
     *
     * @param instant as a fraction of the period; 0 or more, below 1
     * @param delay from the sample until its result can be used, s; 0 or more, at most 16 periods
     * @return a new regulator
     */
    public SampledControl withSampling(double instant, double delay) {
        return with(modulator().withSampling(instant, delay));
    }

    /**
     * Returns this regulator with a limit of the duty cycle.
     *
     * @param maximumDutyCycle more than 0, at most 1
     * @return a new regulator
     */
    public SampledControl withMaximumDutyCycle(double maximumDutyCycle) {
        return with(modulator().withPulses(maximumDutyCycle, modulator().steps()));
    }

    /**
     * Returns this regulator with a duty cycle that comes in whole steps, to the nearest.
     *
     * @param steps of the duty cycle in one period; 0 for no quantisation
     * @return a new regulator
     */
    public SampledControl withQuantisedDutyCycle(int steps) {
        return with(modulator().withPulses(modulator().maximumDutyCycle(), steps));
    }

    @Override
    SampledControl of(Parts<SampledModulator> others) {
        return new SampledControl(others);
    }

    @Override
    public String toString() {
        return "sampled control at " + Quantity.format(1 / clockPeriod(), Unit.HERTZ, 4);
    }

    /**
     * Samples the error once a period, works out a duty cycle by a difference equation, holds it, and makes a pulse of that
     * length from the clock on. States, all counted from the bias: the duty cycle that holds now; the results of the
     * difference equation, latest first; the errors that it still needs, latest first.
     *
     * @param clockPeriod s
     * @param numerator factor of the error just sampled, of the one before, and so on
     * @param denominator factor of the last result, of the one before, and so on, by which they are subtracted
     * @param bias duty cycle where all errors are zero
     * @param sampling instant of the sample as a fraction of the period
     * @param delay time from the sample until its result can be used, s
     * @param maximumDutyCycle longest pulse in periods
     * @param steps of the duty cycle in one period; 0 for no quantisation
     */
    record SampledModulator(
            double clockPeriod,
            List<Double> numerator,
            List<Double> denominator,
            double bias,
            double sampling,
            double delay,
            double maximumDutyCycle,
            int steps)
            implements Modulator {
        private static final double SCALE = 0x1p-8;
        private static final int MOST_PERIODS = 16;

        /**
         * Where in the period.
         *
         * @param on whether the pulse lasts
         * @param sampled whether this period's sample has been taken
         */
        private record Part(boolean on, boolean sampled) implements Pulse {}

        /** The very first clock edge, on which what belongs to an edge has yet to happen. */
        private enum Begin implements Pulse {
            EDGE;

            @Override
            public boolean on() {
                return true;
            }
        }

        SampledModulator withEquation(List<Double> newDenominator, double newBias) {
            return new SampledModulator(
                    clockPeriod, numerator, newDenominator, newBias, sampling, delay, maximumDutyCycle, steps);
        }

        SampledModulator withSampling(double instant, double newDelay) {
            return new SampledModulator(
                    clockPeriod, numerator, denominator, bias, instant, newDelay, maximumDutyCycle, steps);
        }

        SampledModulator withPulses(double newMaximum, int newSteps) {
            return new SampledModulator(
                    clockPeriod, numerator, denominator, bias, sampling, delay, newMaximum, newSteps);
        }

        @Override
        public double highestDutyCycle() {
            return steps == 0 ? maximumDutyCycle : Math.floor(maximumDutyCycle * steps) / steps;
        }

        /** The control voltage is the error; what is limited is the result of the equation. */
        @Override
        public ControlLimits usableControl(Plant plant, Protection protection) {
            return new ControlLimits(0, maximumDutyCycle, ControlLimits.Origin.DUTY_CYCLE);
        }

        @Override
        public Comparison comparison(boolean commanded) {
            return new Comparison("reference less sensed voltage", Unit.VOLT, "duty cycle left", Unit.ONE, 0);
        }

        @Override
        public List<String> faults() {
            Checks checks = new Checks()
                    .frequency("switching frequency", clockPeriod)
                    .require(
                            !numerator.isEmpty(),
                            "number of numerator coefficients",
                            "at least 1",
                            numerator.size(),
                            "")
                    .require(Double.isFinite(bias), "bias of the duty cycle", "finite", bias, "")
                    .require(
                            sampling >= 0 && sampling < 1,
                            "sampling instant",
                            "0 or more and below 1 period",
                            sampling,
                            "periods")
                    .require(
                            delay >= 0 && !(delay > MOST_PERIODS * clockPeriod),
                            "delay",
                            "0 s or more and at most " + MOST_PERIODS + " periods, "
                                    + Quantity.brief(MOST_PERIODS * clockPeriod, Unit.SECOND) + ",",
                            delay,
                            "s")
                    .dutyCycle(maximumDutyCycle)
                    .require(steps >= 0, "number of steps of the duty cycle", "0 (none) or more", steps, "");
            for (double coefficient : numerator) {
                checks.require(Double.isFinite(coefficient), "numerator coefficient", "finite", coefficient, "1/V");
            }
            for (double coefficient : denominator) {
                checks.require(Double.isFinite(coefficient), "denominator coefficient", "finite", coefficient, "");
            }
            return checks.faults();
        }

        /** How many clock edges later the result of a sample is used; 0 if at the very edge on which it was taken. */
        private int edgesLater() {
            double periods = sampling + delay / clockPeriod;
            return (int) Math.ceil(periods - 0x1p-40);
        }

        private int results() {
            return Math.max(denominator.size(), Math.max(1, edgesLater()));
        }

        private int errors() {
            return numerator.size() - 1;
        }

        @Override
        public List<OwnState> states() {
            List<OwnState> states = new ArrayList<>();
            states.add(new OwnState("duty cycle above its bias", SCALE, 0));
            for (int i = 0; i < results(); i++) {
                states.add(new OwnState("result " + (i + 1) + " of the difference equation", SCALE, 0));
            }
            for (int i = 0; i < errors(); i++) {
                states.add(new OwnState("error " + (i + 1) + " of the difference equation", SCALE, 0));
            }
            return states;
        }

        @Override
        public Pulse start() {
            return Begin.EDGE;
        }

        @Override
        public Next cut(Pulse pulse, Sensing sensing) {
            return pulse instanceof Part part ? Next.to(new Part(false, part.sampled())) : Next.to(pulse);
        }

        @Override
        public Present in(Pulse pulse, Sensing sensing, AffineForm control, Signal current) {
            List<AffineForm> rates = new ArrayList<>();
            for (int i = 0; i < 1 + results() + errors(); i++) {
                rates.add(sensing.constant(0));
            }
            AffineForm left = sensing.own(0).plus(bias).plusRamp(-1 / clockPeriod);
            if (!(pulse instanceof Part part)) {
                PulseRule atOnce = new PulseRule("first clock edge", sensing.constant(-1), edge(sensing, control));
                return new Present(rates, List.of(atOnce), clockPeriod, edge(sensing, control), left);
            }
            List<PulseRule> rules = part.on()
                    ? List.of(new PulseRule("held duty cycle", left, Next.to(new Part(false, part.sampled()))))
                    : List.of();
            boolean samplingDue = !part.sampled() && !(part.on() && longest() < sampling * clockPeriod);
            if (samplingDue) {
                return new Present(rates, rules, sampling * clockPeriod, sample(part, sensing, control), left);
            }
            if (part.on() && maximumDutyCycle < 1) {
                return new Present(rates, rules, longest(), Next.to(new Part(false, part.sampled())), left);
            }
            return new Present(rates, rules, clockPeriod, edge(sensing, control), left);
        }

        private double longest() {
            return maximumDutyCycle * clockPeriod;
        }

        /** A pulse begins with the duty cycle that is ready; a sample at the edge itself may be ready at once. */
        private Next edge(Sensing sensing, AffineForm error) {
            Part begin = new Part(true, sampling == 0);
            AffineForm result = result(sensing, error);
            AffineForm ready = edgesLater() == 0 ? result : sensing.own(edgesLater());
            boolean plain = steps == 0 && (sampling > 0 || denominator.isEmpty());
            return plain
                    ? Next.to(begin, after(sensing, error, ready, result, sampling == 0))
                    : new Next(begin, null, state -> {
                        AffineForm stored = limited(result, state, sensing);
                        AffineForm held = quantised(edgesLater() == 0 ? stored : ready, state, sensing);
                        return after(sensing, error, held, stored, sampling == 0);
                    });
        }

        private Next sample(Part part, Sensing sensing, AffineForm error) {
            Part then = new Part(part.on(), true);
            AffineForm result = result(sensing, error);
            AffineForm held = sensing.own(0);
            return denominator.isEmpty()
                    ? Next.to(then, after(sensing, error, held, result, true))
                    : new Next(then, null, state -> after(sensing, error, held, limited(result, state, sensing), true));
        }

        private AffineForm result(Sensing sensing, AffineForm error) {
            AffineForm sum = error.times(numerator.get(0));
            for (int i = 1; i < numerator.size(); i++) {
                sum = sum.plus(numerator.get(i), sensing.own(results() + i));
            }
            for (int i = 0; i < denominator.size(); i++) {
                sum = sum.plus(-denominator.get(i), sensing.own(1 + i));
            }
            return sum;
        }

        /** The result as a pulse can follow it, from 0 to the maximum, so that what looks back at it does not wind up. */
        private AffineForm limited(AffineForm result, double[] state, Sensing sensing) {
            double wanted = bias + result.valueAt(state, 0);
            double possible = Math.max(0, Math.min(maximumDutyCycle, wanted));
            return possible == wanted ? result : sensing.constant(possible - bias);
        }

        /** The nearest of the whole steps from 0 to the maximum. */
        private AffineForm quantised(AffineForm result, double[] state, Sensing sensing) {
            if (steps == 0) {
                return result;
            }
            double nearest = Math.rint(steps * (bias + result.valueAt(state, 0)));
            double whole = Math.max(0, Math.min(Math.floor(maximumDutyCycle * steps), nearest));
            return sensing.constant(whole / steps - bias);
        }

        /** All states after a jump; results and errors move on by one if a sample is taken. */
        private List<AffineForm> after(
                Sensing sensing, AffineForm error, AffineForm held, AffineForm result, boolean samples) {
            List<AffineForm> after = new ArrayList<>();
            after.add(held);
            for (int i = 1; i <= results(); i++) {
                after.add(!samples ? sensing.own(i) : i == 1 ? result : sensing.own(i - 1));
            }
            for (int i = 1; i <= errors(); i++) {
                int at = results() + i;
                after.add(!samples ? sensing.own(at) : i == 1 ? error : sensing.own(at - 1));
            }
            return after;
        }
    }
}
