package org.voltsecond.figures;

import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/**
 * One number that describes a subject, such as the ripple of the output voltage a steady state. Those that the library tells
 * are in {@link Figures}; {@link #of(String, Unit, ToDoubleFunction)} makes one of your own, for studies.
 *
 * <pre>{@code
 * Figure<ConverterSteadyState> heat =
 *         Figure.of("heat of the rectifier", Unit.WATT, found -> found.losses().rectifier());
 * double watt = heat.of(rail.steadyState()).get(); // 486.8 mW
 * }</pre>
 *
 * @param <S> what the figure describes
 */
public interface Figure<S> {
    /**
     * Returns the key of the figure in design files, and in figures.json the last part of its place.
     *
     * @return lower case, words joined by underscores, for example "output_ripple"
     */
    String key();

    /**
     * Returns the place of the figure in the object of figures.json that describes its subject.
     *
     * @return keys with a stroke between them, for example "power/efficiency"
     */
    default String path() {
        return key();
    }

    /**
     * Returns what the figure is, for headings.
     *
     * @return a few words in lower case, for example "output ripple"
     */
    String words();

    /**
     * Returns the unit.
     *
     * @return the unit of the values
     */
    Unit unit();

    /**
     * Measures a subject.
     *
     * @param subject what the figure describes
     * @return the figure in {@link #unit()}, or the reason why there is none
     */
    Result<Double> of(S subject);

    /**
     * Measures a subject for arithmetic and charts.
     *
     * @param subject what the figure describes
     * @return the figure in {@link #unit()}; not a number where there is none
     */
    default double in(S subject) {
        return of(subject).orElse(Double.NaN);
    }

    /**
     * Defines a figure.
     *
     * @param path its place, as of {@link #path()}; the last part is the key
     * @param words what it is, for headings, in lower case
     * @param unit the unit of the values
     * @param definition measures a subject; safe for several threads at once
     * @param <S> what the figure describes
     * @return the figure
     */
    static <S> Figure<S> of(String path, String words, Unit unit, Function<? super S, Result<Double>> definition) {
        record Defined<S>(String path, String words, Unit unit, Function<? super S, Result<Double>> definition)
                implements Figure<S> {
            @Override
            public String key() {
                return path.substring(path.lastIndexOf('/') + 1);
            }

            @Override
            public Result<Double> of(S subject) {
                return definition.apply(subject);
            }

            @Override
            public String toString() {
                return words;
            }
        }
        return new Defined<>(path, words, unit, definition);
    }

    /**
     * Returns a custom figure.
     *
     * @param words what it is, for headings, in lower case
     * @param unit the unit of the values
     * @param measure reads it off a steady state; not a number where it does not exist; safe for several threads at once
     * @return the figure
     */
    static Figure<ConverterSteadyState> of(String words, Unit unit, ToDoubleFunction<ConverterSteadyState> measure) {
        return of(
                words.replace(' ', '_').replace('-', '_'),
                words,
                unit,
                steady -> Result.finite(measure.applyAsDouble(steady), "this steady state has no " + words));
    }
}
