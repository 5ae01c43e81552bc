package org.voltsecond.plot;

import java.awt.Color;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.Predicate;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Phase;
import org.voltsecond.stage.Roles;

/**
 * A stretch of time to be shaded across all panels, for example one on interval.
 *
 * <pre>{@code
 * List<TimeBand> period = List.of(
 *         new TimeBand(0, steady.onTime(), TimeBand.Kind.ON),
 *         new TimeBand(steady.onTime(), steady.period(), TimeBand.Kind.OFF));
 * Picture picture = Pictures.stack()
 *         .bands(TimeBand.repeated(period, steady.period(), 2))
 *         .panel(steady.of(rail.switchNode()).repeated(2))
 *         .build();
 * }</pre>
 *
 * @param start start, s
 * @param end end, s; after the start
 * @param kind what lasts
 */
public record TimeBand(double start, double end, Kind kind) {
    /** What lasts, with the word that is written above the band. */
    public enum Kind {
        /** The transistor conducts. */
        ON("on", 0, 0.15),
        /** The rectifier conducts. */
        OFF("off", 5, 0.16),
        /** Neither conducts; the inductor current rests at zero. */
        IDLE("idle", 4, 0.07);

        private final String word;
        private final Color color;

        Kind(String word, int trace, double strength) {
            this.word = word;
            this.color = Look.veil(Look.trace(trace), strength);
        }

        String word() {
            return word;
        }

        Color color() {
            return color;
        }
    }

    /**
     * Checks the band.
     *
     * @param start start, s
     * @param end end, s
     * @param kind what lasts
     * @throws IllegalArgumentException if the end is not after the start
     */
    public TimeBand {
        if (!(end > start)) {
            throw new IllegalArgumentException(
                    "a band of time must end after it starts but goes from " + start + " s to " + end + " s");
        }
    }

    /**
     * Returns the bands of one period of a steady state: on, off and idle time of the transistors that drive the inductor.
     *
     * @param steady the steady state
     * @return the bands, in order; neighbours are of different kinds
     */
    public static List<TimeBand> of(ConverterSteadyState steady) {
        List<TimeBand> bands = new ArrayList<>();
        Function<Phase, Kind> kinds = kinds(steady);
        for (Interval interval : steady.periodic().trajectory().intervals()) {
            if (interval.end() > interval.start()) {
                append(bands, new TimeBand(interval.start(), interval.end(), kinds.apply(interval.phase())));
            }
        }
        return List.copyOf(bands);
    }

    /**
     * Tells what lasts, by the transistors that drive the inductor: those of a bridge or a push-pull stage take turns, and it is on
     * in each turn. Of interleaved phases it is that of the first.
     *
     * @param steady the steady state
     * @return on, off or idle by the phase of an interval
     */
    public static Function<Phase, Kind> kinds(ConverterSteadyState steady) {
        Predicate<Phase> isOn = steady.isOn();
        Predicate<Phase> isOff = steady.isOff();
        DrivenCircuit driven = steady.converter().driven();
        Optional<String> inductor = steady.converter().roles().inductor();
        List<Roles.Cell> cells = steady.converter().roles().cells().stream()
                .filter(cell -> cell.inductor().isPresent() && cell.inductor().equals(inductor))
                .toList();
        return phase -> {
            boolean on = isOn.test(phase)
                    || cells.stream()
                            .flatMap(cell -> cell.switches().stream())
                            .anyMatch(name -> driven.conducts(phase, name));
            boolean off = isOff.test(phase)
                    || cells.stream()
                            .flatMap(cell -> cell.rectifiers().stream())
                            .anyMatch(name -> driven.conducts(phase, name));
            return on ? Kind.ON : off ? Kind.OFF : Kind.IDLE;
        };
    }

    /** A comparator that is listened to again, say, parts an interval in two that look the same. */
    private static void append(List<TimeBand> bands, TimeBand next) {
        TimeBand last = bands.isEmpty() ? null : bands.get(bands.size() - 1);
        if (last != null && last.kind() == next.kind()) {
            bands.set(bands.size() - 1, new TimeBand(last.start(), next.end(), last.kind()));
        } else {
            bands.add(next);
        }
    }

    /**
     * Returns the bands of one period as they go on over several periods.
     *
     * @param period the bands of the first period
     * @param length length of a period, s
     * @param times number of periods
     * @return the bands of all periods
     */
    public static List<TimeBand> repeated(List<TimeBand> period, double length, int times) {
        List<TimeBand> all = new ArrayList<>();
        for (int turn = 0; turn < times; turn++) {
            double shift = turn * length;
            period.forEach(band -> all.add(new TimeBand(band.start + shift, band.end + shift, band.kind)));
        }
        return all;
    }
}
