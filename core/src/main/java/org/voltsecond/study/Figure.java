package org.voltsecond.study;

import java.util.List;
import java.util.function.ToDoubleFunction;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.units.Unit;

/**
 * A number that describes a steady state. Immutable if its measure is.
 *
 * @param name what it is, for headings, in lower case
 * @param unit the unit of the values
 * @param measure reads it off a steady state; not a number where it does not exist
 */
public record Figure(String name, Unit unit, ToDoubleFunction<ConverterSteadyState> measure) {
    /**
     * Returns the figures that a designer looks at first.
     *
     * @return output voltage, its ripple, peak inductor current, efficiency
     */
    public static List<Figure> usual() {
        return List.of(outputVoltage(), outputRipple(), peakCurrent(), efficiency());
    }

    /**
     * Returns the mean output voltage.
     *
     * @return the figure, V; negative of an inverting stage
     */
    public static Figure outputVoltage() {
        return new Figure(
                "output voltage",
                Unit.VOLT,
                steady -> steady.of(steady.converter().outputVoltage()).mean());
    }

    /**
     * Returns the ripple of the output voltage.
     *
     * @return the figure, V peak to peak
     */
    public static Figure outputRipple() {
        return new Figure(
                "output ripple",
                Unit.VOLT,
                steady -> steady.of(steady.converter().outputVoltage()).peakToPeak());
    }

    /**
     * Returns the peak of the inductor current.
     *
     * @return the figure, A
     */
    public static Figure peakCurrent() {
        return new Figure(
                "peak inductor current",
                Unit.AMPERE,
                steady -> steady.of(steady.converter().inductorCurrent()).maximum());
    }

    /**
     * Returns the ripple of the inductor current.
     *
     * @return the figure, A peak to peak
     */
    public static Figure rippleCurrent() {
        return new Figure(
                "inductor ripple",
                Unit.AMPERE,
                steady -> steady.of(steady.converter().inductorCurrent()).peakToPeak());
    }

    /**
     * Returns the duty cycle that is found, which a regulator sets.
     *
     * @return the figure, from 0 to 1
     */
    public static Figure dutyCycle() {
        return new Figure("duty cycle", Unit.ONE, ConverterSteadyState::dutyCycle);
    }

    /**
     * Returns the efficiency.
     *
     * @return the figure, from 0 to 1; not a number where the source delivers nothing
     */
    public static Figure efficiency() {
        return new Figure("efficiency", Unit.ONE, steady -> steady.efficiency().orElse(Double.NaN));
    }

    /**
     * Reads the figure off a steady state.
     *
     * @param steady the steady state
     * @return the value, in {@link #unit()}
     */
    public double in(ConverterSteadyState steady) {
        return measure.applyAsDouble(steady);
    }
}
