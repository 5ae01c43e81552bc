package org.voltsecond.control;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;

/**
 * How one drive reaches the switches of a circuit, one or many: each leg has a train of pulses of its own, and closes its switches
 * with them and its complementary ones between them. Immutable.
 *
 * <pre>{@code
 * SwitchPattern phases = SwitchPattern.of(SwitchPattern.Timing.INTERLEAVED, List.of("Q1", "Q3"), List.of("Q2", "Q4"));
 * Map<String, Drive> gates = phases.drives(Drive.fixedDuty(0.3, kilo(200)), 0);
 * String second = gates.get("Q3").toString(); // "on from 0.5 to 0.8 at 200 kHz"
 * }</pre>
 *
 * @param timing how the pulses of the legs lie to each other
 * @param legs in the order of their pulses; at least one
 */
public record SwitchPattern(Timing timing, List<Leg> legs) {
    /** Of two halves each gets at most this share of its own period, so that they never conduct together. */
    private static final double HALF = 0.5;

    /** How the pulses of the legs lie to each other. */
    public enum Timing {
        /** All switches close and open at once: one leg. */
        TOGETHER("together"),
        /** Two halves in turn, half a period apart, each for at most half of its period: push-pull, half and full bridge. */
        ALTERNATING("alternating"),
        /** Phases whose pulses are spread evenly over the period, each as long as it likes. */
        INTERLEAVED("interleaved"),
        /**
         * Two legs that take turns as the control voltage rises: the first one (input leg) is modulated by the ramp, the second one
         * (output leg) by the same ramp raised by its height, so that the stage steps down, then up. A fixed duty cycle drives
         * both at once.
         */
        FOUR_SWITCH("four-switch");

        private final String words;

        Timing(String words) {
            this.words = words;
        }

        @Override
        public String toString() {
            return words;
        }
    }

    /**
     * Switches that follow one train of pulses.
     *
     * @param switches those that a pulse closes; at least one
     * @param complementary those that are closed between the pulses
     */
    public record Leg(List<String> switches, List<String> complementary) {
        /**
         * Copies the lists.
         *
         * @param switches those that a pulse closes; at least one
         * @param complementary those that are closed between the pulses
         */
        public Leg {
            switches = List.copyOf(switches);
            complementary = List.copyOf(complementary);
        }
    }

    /**
     * Copies the list and checks it.
     *
     * @param timing how the pulses of the legs lie to each other
     * @param legs in the order of their pulses
     * @throws IllegalArgumentException if the number of legs does not fit the timing, a leg has no switch, or a switch stands twice
     */
    public SwitchPattern {
        legs = List.copyOf(legs);
        List<String> faults = faults(timing, legs);
        if (!faults.isEmpty()) {
            throw new IllegalArgumentException(String.join("\n", faults));
        }
    }

    private static List<String> faults(Timing timing, List<Leg> legs) {
        List<String> faults = new ArrayList<>();
        int count = legs.size();
        boolean fits = switch (timing) {
            case TOGETHER -> count == 1;
            case ALTERNATING, FOUR_SWITCH -> count == 2;
            case INTERLEAVED -> count >= 1;
        };
        if (!fits) {
            String valid =
                    timing == Timing.TOGETHER ? "1 leg" : timing == Timing.INTERLEAVED ? "1 leg or more" : "2 legs";
            faults.add("switches that are driven " + timing + " must form " + valid + " but formed " + count);
        }
        if (legs.stream().anyMatch(leg -> leg.switches().isEmpty())) {
            faults.add("each leg must have a switch that its pulse closes but they were " + legs);
        }
        List<String> all = names(legs).toList();
        all.stream()
                .filter(name -> all.indexOf(name) != all.lastIndexOf(name))
                .distinct()
                .forEach(name -> faults.add("each switch must be driven once but " + name + " was given twice"));
        return faults;
    }

    private static Stream<String> names(List<Leg> legs) {
        return legs.stream().flatMap(leg -> Stream.concat(leg.switches().stream(), leg.complementary().stream()));
    }

    /**
     * Deals switches to legs: alternating ones to two halves (of four switches the first two are one diagonal), interleaved
     * ones to a phase each, of a four-switch stage those of the input leg first.
     *
     * @param timing how the pulses lie to each other
     * @param switches those that pulses close, in the order of the legs
     * @param complementary those that are closed between the pulses, in the same order; fewer, such as none, where diodes carry
     *     the rest
     * @return the pattern
     * @throws IllegalArgumentException if the switches cannot be dealt to the legs in equal numbers
     */
    public static SwitchPattern of(Timing timing, List<String> switches, List<String> complementary) {
        int count = switch (timing) {
            case TOGETHER -> 1;
            case ALTERNATING, FOUR_SWITCH -> 2;
            case INTERLEAVED -> Math.max(1, switches.size());
        };
        List<Leg> legs = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            legs.add(new Leg(dealt(timing, switches, i, count), dealt(timing, complementary, i, count)));
        }
        return new SwitchPattern(timing, legs);
    }

    private static List<String> dealt(Timing timing, List<String> names, int leg, int count) {
        if (names.size() % count != 0) {
            throw new IllegalArgumentException("switches that are driven " + timing + " must be dealt to " + count
                    + " legs in equal numbers but were " + names);
        }
        int each = names.size() / count;
        return names.subList(leg * each, (leg + 1) * each);
    }

    /**
     * Returns the pattern of one switch.
     *
     * @param switches those that close together
     * @return the pattern
     */
    public static SwitchPattern together(String... switches) {
        return of(Timing.TOGETHER, List.of(switches), List.of());
    }

    /** {@return all switches, in the order of the legs} */
    public List<String> switches() {
        return names(legs).toList();
    }

    /** {@return whether any switch is closed between pulses} */
    public boolean isSynchronous() {
        return legs.stream().anyMatch(leg -> !leg.complementary().isEmpty());
    }

    /**
     * Returns by how much the pulses of a leg come later than those of the first.
     *
     * @param leg its place in {@link #legs()}
     * @return share of the switching period, from 0 to below 1
     */
    public double delay(int leg) {
        return timing == Timing.ALTERNATING || timing == Timing.INTERLEAVED ? (double) leg / legs.size() : 0;
    }

    /** {@return the longest pulse that any leg may have, as a share of its period} */
    public double longestPulse() {
        return timing == Timing.ALTERNATING ? HALF : 1;
    }

    /** By how many of its heights the ramp of a leg is raised. */
    double raise(int leg) {
        return timing == Timing.FOUR_SWITCH ? leg : 0;
    }

    /**
     * Returns the fixed drives of all switches, if the first leg has one.
     *
     * @param pulse the drive of the first leg; of a four-switch stage that of both
     * @param deadTime share of the period by which complementary switches close later and open earlier; 0 or more
     * @return a drive for each switch
     */
    public Map<String, Drive> drives(Drive pulse, double deadTime) {
        Map<String, Drive> drives = new LinkedHashMap<>();
        for (int i = 0; i < legs.size(); i++) {
            double delay = delay(i);
            Drive own = delay == 0 ? pulse : pulse.delayedBy(delay);
            legs.get(i).switches().forEach(name -> drives.put(name, own));
            legs.get(i).complementary().forEach(name -> drives.put(name, own.complement(deadTime)));
        }
        return drives;
    }
}
