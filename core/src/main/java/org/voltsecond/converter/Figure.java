package org.voltsecond.converter;

import java.util.function.ToDoubleFunction;
import org.voltsecond.units.Unit;

/**
 * One number that describes a steady state, such as the ripple of the output voltage. Those that every stage has are
 * {@link StageFigure}s; {@link #of} makes one of one's own.
 *
 * <pre>{@code
 * Figure heat = Figure.of("heat of the rectifier", Unit.WATT, found -> found.losses().rectifier());
 * double watt = heat.in(rail.steadyState()); // 486.8 mW
 * }</pre>
 */
public interface Figure {

    /**
     * Returns what it is, for headings.
     *
     * @return a few words in lower case
     */
    String name();

    /**
     * Returns the unit.
     *
     * @return the unit of the values
     */
    Unit unit();

    /**
     * Measures a steady state.
     *
     * @param steady the steady state
     * @return the figure, in {@link #unit()}; not a number where it does not exist
     */
    double in(ConverterSteadyState steady);

    /**
     * Returns a figure of one's own.
     *
     * @param name what it is, for headings, in lower case
     * @param unit the unit of the values
     * @param measure reads it off a steady state; not a number where it does not exist; safe for several threads at once
     * @return the figure
     */
    static Figure of(String name, Unit unit, ToDoubleFunction<ConverterSteadyState> measure) {
        record Own(String name, Unit unit, ToDoubleFunction<ConverterSteadyState> measure) implements Figure {
            @Override
            public double in(ConverterSteadyState steady) {
                return measure.applyAsDouble(steady);
            }
        }
        return new Own(name, unit, measure);
    }
}
