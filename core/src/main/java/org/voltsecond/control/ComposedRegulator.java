package org.voltsecond.control;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import java.util.function.ToDoubleFunction;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.numeric.Bernstein;
import org.voltsecond.numeric.UnitPolynomial;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * What the regulators of this library have in common: each is made of a control voltage, a modulator and what surrounds them.
 *
 * @param <M> the kind of modulator
 * @param <R> the kind of regulator
 */
abstract sealed class ComposedRegulator<M extends Modulator, R extends ComposedRegulator<M, R>> implements Regulator
        permits AverageCurrentMode, ConstantOnTime, CurrentMode, Hysteretic, SampledControl, VoltageMode {
    private final Parts<M> parts;

    /**
     * What a regulator is made of.
     *
     * @param path where the control voltage comes from
     * @param modulator makes pulses of it
     * @param protection what surrounds both
     * @param <M> the kind of modulator
     */
    record Parts<M extends Modulator>(ControlPath path, M modulator, Protection protection) {
        static <M extends Modulator> Parts<M> of(ControlPath path, M modulator) {
            return new Parts<>(path, modulator, Protection.none());
        }
    }

    ComposedRegulator(Parts<M> parts) {
        this.parts = parts;
    }

    /** The same kind of regulator made of other parts. */
    abstract R of(Parts<M> others);

    final M modulator() {
        return parts.modulator();
    }

    final R with(M modulator) {
        return of(new Parts<>(parts.path(), modulator, parts.protection()));
    }

    private R with(ControlPath path) {
        return of(new Parts<>(path, parts.modulator(), parts.protection()));
    }

    private ControlLoop loop() {
        if (parts.path() instanceof ControlLoop loop) {
            return loop;
        }
        throw new IllegalStateException("the control voltage of this regulator is made by the circuit: "
                + "change the circuit's reference, network or amplifier instead");
    }

    /**
     * Returns this regulator with a soft start.
     *
     * @param time in which the reference, or the command that is given, rises linearly from 0, s; 0 or more
     * @return a new regulator
     * @throws IllegalStateException if the control voltage is made by the circuit
     */
    public final R withSoftStart(double time) {
        return with(loop().withSoftStart(time));
    }

    /**
     * Returns this regulator with another reference.
     *
     * @param reference V, or A of a regulator whose inductor current is commanded; more than 0
     * @return a new regulator
     * @throws IllegalStateException if the control voltage is made by the circuit
     */
    @Override
    public final R withReference(double reference) {
        return with(loop().withReference(reference));
    }

    @Override
    public final OptionalDouble reference() {
        return ofLoop(ControlLoop::reference);
    }

    @Override
    public final OptionalDouble divider() {
        return ofLoop(ControlLoop::divider);
    }

    private OptionalDouble ofLoop(ToDoubleFunction<ControlLoop> value) {
        return parts.path() instanceof ControlLoop loop && !loop.commanded()
                ? OptionalDouble.of(value.applyAsDouble(loop))
                : OptionalDouble.empty();
    }

    /**
     * Returns this regulator with another divider.
     *
     * @param divider sensed voltage over output voltage; more than 0 and at most 1
     * @return a new regulator
     * @throws IllegalStateException if the inductor current is commanded, or the control voltage is made by the circuit
     */
    @Override
    public final R withDivider(double divider) {
        if (divider().isEmpty()) {
            throw new IllegalStateException("this regulator senses no output: it has no divider to change");
        }
        return with(loop().withDivider(divider));
    }

    final R withLimits(ControlLimits limits) {
        return with(loop().within(limits));
    }

    @Override
    public final Protection protection() {
        return parts.protection();
    }

    @Override
    public final R withProtection(Protection protection) {
        return of(new Parts<>(parts.path(), parts.modulator(), protection));
    }

    @Override
    public final double clockPeriod() {
        return parts.modulator().clockPeriod();
    }

    @Override
    public final boolean isClocked() {
        return parts.modulator().isClocked();
    }

    @Override
    public final Comparison comparison() {
        boolean commanded = parts.path() instanceof ControlLoop loop && loop.commanded();
        return parts.modulator().comparison(commanded);
    }

    @Override
    public final OptionalDouble target() {
        return parts.path().target();
    }

    @Override
    public final List<String> faults() {
        Checks ofParts = new Checks()
                .and(parts.modulator().faults())
                .and(parts.path().faults())
                .and(parts.protection().faults());
        return ofParts.faults().isEmpty() ? parts.protection().faults(clockPeriod()) : ofParts.faults();
    }

    @Override
    public final List<String> faultsIn(SwitchPattern pattern) {
        List<String> faults = faults();
        return faults.isEmpty() ? parts.modulator().faultsIn(pattern) : faults;
    }

    @Override
    public final ControlLimits controlLimits(Plant plant) {
        ControlLimits usable = parts.modulator().usableOfLegs(plant, parts.protection());
        return parts.path().limits(usable);
    }

    /** What is as near as this to where it would not hold, in its own size, is not certain: far beyond the rounding of a period. */
    private static final double CERTAIN = 1e-9;

    @Override
    public final boolean keeps(Plant plant, SensedPeriod period) {
        Modulator modulator = parts.modulator().ofLeg(plant.pattern(), 0);
        if (plant.pattern().legs().size() > 1 || !(parts.path() instanceof ControlLoop loop)) {
            return false;
        }
        double error = period.divider() * period.mean() - period.reference();
        if (!(Math.abs(error) <= CERTAIN * period.reference())) {
            return false;
        }
        double onTime = 0;
        double highestCurrent = Double.NEGATIVE_INFINITY;
        double[][] ramp = new double[period.pulse()][];
        for (int k = 0; k < ramp.length; k++) {
            double[] current = new double[SensedPeriod.HIGHEST_DEGREE + 2];
            period.current(k, current);
            double[] part = modulator.rampOfPulse(onTime, period.duration(k), current);
            if (part == null) {
                return false;
            }
            ramp[k] = part;
            onTime += period.duration(k);
            highestCurrent = Math.max(highestCurrent, -least(current, -1));
        }
        double[][] control = control(loop, period, atEnd(ramp[ramp.length - 1]));
        return control != null
                && isWithin(modulator.dutyCycles(), onTime / clockPeriod())
                && comesUpOnce(ramp, control)
                && nothingActs(plant, period, control, onTime, highestCurrent);
    }

    private static double atEnd(double[] curve) {
        return UnitPolynomial.sum(curve, curve.length - 1);
    }

    private static boolean isWithin(double @Nullable [] range, double dutyCycle) {
        return range != null && dutyCycle * (1 - CERTAIN) > range[0] && dutyCycle * (1 + CERTAIN) < range[1];
    }

    /**
     * The control voltage is above what it is compared with all through the pulse, at the end of which they meet: in the last
     * part their difference is (1 - u) r with r above zero, whose coefficients are the sums of those of the difference.
     */
    private static boolean comesUpOnce(double[][] ramp, double[][] control) {
        boolean above = true;
        for (int part = 0; part < ramp.length; part++) {
            double[] left = new double[ramp[part].length];
            double steepest = 0;
            for (int k = 0; k < left.length; k++) {
                left[k] = control[part][k] - ramp[part][k];
                steepest += k * Math.abs(ramp[part][k]);
            }
            boolean last = part == ramp.length - 1;
            for (int k = 1; k < left.length && last; k++) {
                left[k] = k == left.length - 1 ? 0 : left[k] + left[k - 1];
            }
            above &= least(left, 1) > CERTAIN * steepest;
        }
        return above;
    }

    private boolean nothingActs(
            Plant plant, SensedPeriod period, double[][] control, double onTime, double highestCurrent) {
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (double[] stretch : control) {
            low = Math.min(low, least(stretch, 1));
            high = Math.max(high, -least(stretch, -1));
        }
        double near = CERTAIN * Math.max(Math.abs(low), Math.abs(high));
        ControlLimits limits = controlLimits(plant);
        return low - near > limits.low()
                && high + near < limits.high()
                && protection()
                        .staysOut(
                                onTime * (1 - CERTAIN),
                                highestCurrent * (1 + CERTAIN),
                                low - near,
                                period.inputVoltage(),
                                plant.pattern().isSynchronous());
    }

    /** The control voltage over the period, which meets the end of the ramp as the pulse ends; null where it is not known. */
    private static double @Nullable [][] control(ControlLoop loop, SensedPeriod period, double meeting) {
        int count = period.intervals();
        double[] duration = new double[count];
        double[][] curve = new double[count][];
        int[] degree = new int[count];
        for (int k = 0; k < count; k++) {
            duration[k] = period.duration(k);
            curve[k] = new double[SensedPeriod.HIGHEST_DEGREE + 2];
            degree[k] = period.output(k, curve[k]);
            for (int j = 0; j <= degree[k]; j++) {
                curve[k][j] *= -period.divider();
            }
            curve[k][0] += period.divider() * period.mean();
        }
        if (!loop.compensator().rateOf(duration, curve, degree)) {
            return null;
        }
        double moved = 0;
        double end = 0;
        double pulsed = 0;
        for (int k = 0; k < count; k++) {
            for (int j = degree[k]; j >= 0; j--) {
                curve[k][j + 1] = duration[k] * curve[k][j] / (j + 1);
                moved += Math.abs(curve[k][j + 1]);
            }
            curve[k][0] = end;
            end = UnitPolynomial.sum(curve[k], degree[k] + 1);
            pulsed = k < period.pulse() ? end : pulsed;
        }
        for (double[] stretch : curve) {
            stretch[0] += meeting - pulsed;
        }
        end += meeting - pulsed;
        // with an error that has a mean the control voltage would not come back
        return Math.abs(end - curve[0][0]) <= CERTAIN * moved ? curve : null;
    }

    /** The least value of a polynomial times a sign, by a bound: the least of its Bernstein coefficients. */
    private static double least(double[] coefficients, double sign) {
        int count = coefficients.length;
        while (count > 2 && coefficients[count - 1] == 0) {
            count--;
        }
        double[] form = Arrays.copyOf(coefficients, count);
        Bernstein.replace(form, count);
        double least = sign * form[0];
        for (double each : form) {
            least = Math.min(least, sign * each);
        }
        return least;
    }

    @Override
    public final Controller on(Plant plant) {
        List<String> faults = faultsIn(plant.pattern());
        if (!faults.isEmpty()) {
            throw new IllegalArgumentException("the regulator cannot be built:\n" + String.join("\n", faults));
        }
        parts.path().requireIn(plant);
        ControlPath path = parts.path().within(controlLimits(plant));
        return RegulatedController.of(plant, path, parts.modulator(), parts.protection());
    }

    /** Collects what is wrong with the values of a regulator, each with what is valid and the value given. */
    static final class Checks {
        private final List<String> faults = new ArrayList<>();

        /** Adds a line unless the condition holds; write it so that a value that is not a number does not meet it. */
        Checks require(boolean holds, String what, String valid, double value, String unit) {
            if (!holds) {
                faults.add("the " + what + " must be " + valid + " but was " + told(value, unit));
            }
            return this;
        }

        private static String told(double value, String symbol) {
            return Stream.of(Unit.values())
                    .filter(unit -> unit.symbol().equals(symbol))
                    .findFirst()
                    .map(unit -> Quantity.brief(value, unit))
                    .orElse(value + " " + symbol);
        }

        Checks positive(String what, double value, String unit) {
            return require(value > 0 && value < Double.POSITIVE_INFINITY, what, "more than 0 and finite", value, unit);
        }

        Checks notNegative(String what, double value, String unit) {
            return require(value >= 0 && value < Double.POSITIVE_INFINITY, what, "0 or more and finite", value, unit);
        }

        /** Checks a clock period, which the user gave as a frequency. */
        Checks frequency(String what, double clockPeriod) {
            double frequency = 1 / clockPeriod;
            boolean finite = clockPeriod > 0 && clockPeriod < Double.POSITIVE_INFINITY;
            return require(
                    frequency > 0 && frequency < Double.POSITIVE_INFINITY && finite,
                    what,
                    "more than 0 and, like its inverse, finite",
                    frequency,
                    "Hz");
        }

        Checks dutyCycle(double maximum) {
            return require(maximum > 0 && maximum <= 1, "maximum duty cycle", "more than 0 and at most 1", maximum, "");
        }

        Checks and(List<String> others) {
            faults.addAll(others);
            return this;
        }

        List<String> faults() {
            return List.copyOf(faults);
        }
    }
}
