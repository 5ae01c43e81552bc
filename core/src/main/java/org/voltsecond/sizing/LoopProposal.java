package org.voltsecond.sizing;

import java.util.List;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.SwitchPattern;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.numeric.Complex;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * A voltage-mode regulator proposed for a stage: the K factor sets the compensator by the phase that the stage has at the
 * wanted crossover (H. D. Venable, Powercon 10, 1983, from memory). The loop gain is then worked out from the switching model
 * itself, where the ripple of the control voltage takes part, and the compensator is moved until crossover and phase margin are
 * those that were asked for. The control voltage is held within the ramp. Immutable.
 *
 * <pre>{@code
 * LoopProposal loop = LoopProposal.of(rail, LoopTarget.of(kilo(20), 60)); // for a stage with a fixed duty cycle
 * Converter regulated = loop.converter(); // at the same output voltage
 * double margin = regulated.steadyState().smallSignal().loopGain(FrequencyResponse.decades(1e3, 1e5, 20)).margins()
 *         .phaseMargin().orElseThrow(); // 60.00 degrees
 * }</pre>
 *
 * @param target what was asked for
 * @param divider reference over output voltage
 * @param type of the compensator: 1, 2 or 3
 * @param integratorGain of the compensator, 1/s
 * @param zero of each of its one or two zeros, Hz; not a number for type 1
 * @param pole of each of its one or two poles, Hz; not a number for type 1
 * @param maximumDutyCycle above what is needed, so that a stage that steps up cannot be held closed for ever
 * @param converter the stage with its regulator
 */
public record LoopProposal(
        LoopTarget target,
        double divider,
        int type,
        double integratorGain,
        double zero,
        double pole,
        double maximumDutyCycle,
        Converter converter) {
    private static final int MOST_ROUNDS = 30;
    /** How near to the wanted value the loop gain at the crossover is brought. */
    private static final double ACCURACY = 1e-9;
    /** A duty cycle that was searched gives the output to less than this, and the output may be its own reference. */
    private static final double SAME_VOLTAGE = 1e-6;

    /**
     * Proposes a regulator.
     *
     * @param stage a converter with a fixed duty cycle, at the output voltage that the regulator is to hold
     * @param target what the loop is to do
     * @return the proposal; where the stage leaves more phase than is asked for, the margin is larger
     * @throws SizingException if the crossover is beyond half the switching frequency, the output below the reference, or
     *     no compensator has the phase that this takes, or leaves a steady state
     * @throws NoSteadyStateException if the stage has no steady state
     * @throws IllegalArgumentException if the stage is regulated already
     */
    public static LoopProposal of(Converter stage, LoopTarget target) {
        requireFixedDuty(stage);
        return of(stage, target, mostDutyCycle(stage));
    }

    /**
     * Proposes a regulator with a limit of the duty cycle, which has to leave room for the lowest input.
     *
     * @param stage a converter with a fixed duty cycle, at the output voltage that the regulator is to hold
     * @param target what the loop is to do
     * @param maximumDutyCycle more than the duty cycle of the stage, at most 1
     * @return the proposal; where the stage leaves more phase than is asked for, the margin is larger
     * @throws SizingException as {@link #of(Converter, LoopTarget)}, and if the limit leaves no room for the duty cycle
     * @throws NoSteadyStateException if the stage has no steady state
     * @throws IllegalArgumentException if the stage is regulated already
     */
    public static LoopProposal of(Converter stage, LoopTarget target, double maximumDutyCycle) {
        requireFixedDuty(stage);
        double half = stage.drive().switchingFrequency() / 2;
        if (!(target.crossover() < half)) {
            throw new SizingException(List.of("crossover must be below half the switching frequency, " + hertz(half)
                    + ", but was " + hertz(target.crossover()) + "; usual is a tenth of the switching frequency"));
        }
        if (!(maximumDutyCycle > stage.drive().dutyCycle() && maximumDutyCycle <= 1)) {
            throw new SizingException(List.of("maximum duty cycle must be above that of the stage, "
                    + stage.drive().dutyCycle() + ", and at most 1, but was " + maximumDutyCycle));
        }
        ConverterSteadyState steady = stage.steadyState();
        double output = steady.of(stage.outputVoltage()).mean();
        double ratio = target.reference() / Math.abs(output);
        if (!(ratio <= 1 + SAME_VOLTAGE)) {
            throw new SizingException(List.of("reference must not be above the output of " + volt(Math.abs(output))
                    + " but was " + volt(target.reference())));
        }
        double divider = Math.min(1, ratio);
        Complex open = steady.smallSignal()
                .controlToOutput(target.crossover())
                .value(0)
                .multiply(Math.copySign(divider, output) / target.ramp());
        return closed(stage, target, divider, open, maximumDutyCycle);
    }

    private static void requireFixedDuty(Converter stage) {
        if (stage.isRegulated()) {
            throw new IllegalArgumentException(
                    "a regulator is proposed for a stage with a fixed duty cycle, but this one is regulated: " + stage
                            + "; take the stage with Drive.fixedDuty");
        }
    }

    private static LoopProposal closed(
            Converter stage, LoopTarget target, double divider, Complex open, double mostDutyCycle) {
        Complex plant = open;
        for (int round = 0; round < MOST_ROUNDS; round++) {
            KFactor shape = shape(target, plant);
            Converter converter =
                    stage.withRegulator(regulator(stage, target, divider, shape.compensator(), mostDutyCycle));
            Complex gain = gain(converter, target);
            boolean hasMore = shape.type() == 1 && excess(gain, target) >= 0;
            double off = hasMore
                    ? Math.abs(gain.magnitude() - 1)
                    : gain.subtract(wanted(target)).magnitude();
            if (off <= ACCURACY) {
                return new LoopProposal(
                        target,
                        divider,
                        shape.type(),
                        shape.integratorGain(),
                        shape.zero(),
                        shape.pole(),
                        mostDutyCycle,
                        converter);
            }
            plant = gain.divide(shape.at(target.crossover()));
        }
        throw new SizingException(List.of("no compensator was found that gives a crossover of "
                + hertz(target.crossover()) + " with a phase margin of " + target.phaseMargin()
                + " degrees; take a lower crossover"));
    }

    private static Complex gain(Converter converter, LoopTarget target) {
        try {
            return converter
                    .steadyState()
                    .smallSignal()
                    .loopGain(target.crossover())
                    .value(0);
        } catch (NoSteadyStateException | SwitchingException e) {
            throw new SizingException(List.of("with a crossover of " + hertz(target.crossover())
                    + " the regulated converter has no steady state (" + e.getMessage()
                    + "): take a lower crossover"));
        } catch (IllegalStateException e) {
            throw new SizingException(List.of("with a crossover of " + hertz(target.crossover())
                    + " the regulated converter has no loop gain (" + e.getMessage()
                    + "): take a lower crossover, or more ripple of the inductor current"));
        }
    }

    private static KFactor shape(LoopTarget target, Complex plant) {
        // an integrator has -90 degrees, and the margin counts from -180
        double boost = target.phaseMargin() - 90 - degrees(plant);
        if (!(boost <= KFactor.MOST_BOOST)) {
            throw new SizingException(List.of("a phase margin of " + target.phaseMargin() + " degrees at "
                    + hertz(target.crossover()) + " takes " + Math.round(boost)
                    + " degrees more than an integrator has, since the stage lags by " + Math.round(-degrees(plant))
                    + " degrees there; at most " + KFactor.MOST_BOOST + " can be had: take a lower crossover"));
        }
        return KFactor.of(target.crossover(), boost, 1 / plant.magnitude());
    }

    /** A stage lags; from -300 to 60 degrees, since sampling and a zero in the right half-plane take more than half a turn. */
    private static double degrees(Complex plant) {
        double degrees = StrictMath.toDegrees(plant.argument());
        return degrees > 60 ? degrees - 360 : degrees;
    }

    private static double excess(Complex gain, LoopTarget target) {
        return 180 + StrictMath.toDegrees(gain.argument()) - target.phaseMargin();
    }

    private static Complex wanted(LoopTarget target) {
        double angle = StrictMath.toRadians(target.phaseMargin() - 180);
        return new Complex(StrictMath.cos(angle), StrictMath.sin(angle));
    }

    /** Held within the ramp, the control voltage does not run away while the soft start of a boost stage is below its input. */
    private static VoltageMode regulator(
            Converter stage, LoopTarget target, double divider, Compensator compensator, double mostDutyCycle) {
        return VoltageMode.of(stage.drive().switchingFrequency(), target.reference(), divider, compensator)
                .withRamp(0, target.ramp())
                .withControlLimits(0, heights(stage) * target.ramp())
                .withMaximumDutyCycle(mostDutyCycle);
    }

    /**
     * Returns how many heights of the ramp the control voltage may rise.
     *
     * @param stage a converter
     * @return 1; 2 where two legs take turns as it rises, the second of which has the ramp raised by its height
     */
    public static int heights(Converter stage) {
        SwitchPattern pattern = stage.roles().pattern();
        return pattern.timing() == SwitchPattern.Timing.FOUR_SWITCH
                ? pattern.legs().size()
                : 1;
    }

    /** Half of what is left is left. */
    private static double mostDutyCycle(Converter stage) {
        double longest = stage.topology().longestDutyCycle();
        return Math.max(0.9 * longest, (longest + stage.drive().dutyCycle()) / 2);
    }

    /**
     * Returns the loop gain at every corner of input and load, since the crossover and the phase move with both.
     *
     * @param input range of the input voltage, V; more than 0
     * @param load range of the load current, A; more than 0
     * @return the check
     */
    public LoopCheck check(Span input, Span load) {
        return LoopCheck.of(converter, input, load);
    }

    /**
     * Returns the compensator.
     *
     * @return type I, II or III
     */
    public Compensator compensator() {
        return new KFactor(type, integratorGain, zero, pole).compensator();
    }

    private static String hertz(double value) {
        return Quantity.brief(value, Unit.HERTZ);
    }

    private static String volt(double value) {
        return Quantity.brief(value, Unit.VOLT);
    }

    @Override
    public String toString() {
        String pairs = type == 1
                ? ""
                : ", " + (type == 2 ? "zero at " : "two zeros at ") + Quantity.format(zero, Unit.HERTZ, 4)
                        + (type == 2 ? ", pole at " : ", two poles at ") + Quantity.format(pole, Unit.HERTZ, 4);
        return "type " + type + ", integrator gain " + Quantity.format(integratorGain, Unit.PER_SECOND, 4) + pairs;
    }
}
