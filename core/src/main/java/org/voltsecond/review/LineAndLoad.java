package org.voltsecond.review;

import java.util.List;
import java.util.Optional;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.figures.Figures;
import org.voltsecond.units.Result;

/**
 * How far the output moves while the input goes through its range at full load (line regulation), or the load through its range at the
 * converter's own input (load regulation): of the mean, by magnitude, with the drive as it is. Common practice, no source. Immutable.
 *
 * <pre>{@code
 * OperatingCorners corners = OperatingCorners.between(new Span(9, 15), new Span(0.2, 2)); // V, A
 * LineAndLoad moved = LineAndLoad.of(rail, corners);
 * double line = moved.line().get().change(); // 2.62 V, since a fixed duty cycle holds nothing
 * double load = moved.load().get().share(); // -7.48 %
 * }</pre>
 *
 * @param line from the lowest input to the highest
 * @param load from the lightest load to full load
 */
public record LineAndLoad(Result<Moved> line, Result<Moved> load) {
    /** A steady state is right to this share, so that an output that a regulator holds moves by no less. */
    private static final double ACCURACY = 1e-11;

    /**
     * Two levels of the output.
     *
     * @param from magnitude of its mean at the lowest input, or the lightest load, V
     * @param to at the highest input, or full load, V
     * @param level at the converter's own input and full load, of which a share counts, V
     */
    public record Moved(double from, double to, double level) {
        /** {@return how far the output rises on the way, V; negative where it falls, 0 where that is less than rounding} */
        public double change() {
            return Math.abs(to - from) < ACCURACY * level ? 0 : to - from;
        }

        /** {@return the same as a share of the level} */
        public double share() {
            return change() / level;
        }
    }

    /**
     * Measures a converter with its drive as it is.
     *
     * @param converter the converter
     * @param corners range of input and load; an output that they hold is not held here
     * @return line and load regulation, or why there is none
     */
    public static LineAndLoad of(Converter converter, OperatingCorners corners) {
        OperatingCorners free = OperatingCorners.between(corners.input(), corners.load());
        return of(converter, free, free.states(converter));
    }

    /** The same, where the states with the drive as it is are known. */
    static LineAndLoad of(Converter converter, OperatingCorners corners, List<CornerState> states) {
        double own = converter.inputVoltage();
        double full = corners.load().high();
        Result<Double> level = output(states, own, full);
        return new LineAndLoad(
                moved(
                        output(states, corners.input().low(), full),
                        output(states, corners.input().high(), full),
                        level),
                moved(output(states, own, corners.load().low()), level, level));
    }

    private static Result<Moved> moved(Result<Double> from, Result<Double> to, Result<Double> level) {
        return from.flatMap(a -> to.flatMap(b -> level.map(c -> new Moved(a, b, c))));
    }

    private static Result<Double> output(List<CornerState> states, double input, double load) {
        Optional<Result<ConverterSteadyState>> found = states.stream()
                .filter(state ->
                        state.corner().inputVoltage() == input && state.corner().loadCurrent() == load)
                .map(CornerState::steady)
                .findFirst();
        return found.orElseThrow().map(steady -> Math.abs(Figures.OUTPUT_VOLTAGE.in(steady)));
    }
}
