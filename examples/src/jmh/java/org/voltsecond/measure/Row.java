package org.voltsecond.measure;

import java.util.List;
import java.util.Map;

/**
 * A line of the table.
 *
 * @param label what is measured
 * @param unit unit of the values
 * @param source where the values come from
 * @param floor the case of the hand-written program beside it, or empty
 * @param rival the benchmark of the integrator beside it, or empty
 * @param aim what is asked for
 */
record Row(String label, String unit, Source source, String floor, String rival, String aim) {
    /** Where a value comes from. */
    sealed interface Source permits Bench, Line {}

    /**
     * A benchmark: the least time of its iterations, or the highest rate.
     *
     * @param name class and method
     * @param parameters its parameters
     * @param after a benchmark that warms up in the same Java machine before it, or empty
     * @param bytes whether its bytes allocated are the value
     * @param warmups how many short runs go before; what leads through much code takes many until all of it is compiled
     */
    record Bench(String name, Map<String, String> parameters, String after, boolean bytes, int warmups)
            implements Source {
        private static final int FEW = 8;
        /**
         * 5 s. A new design took 288 µs after 8 of them, 112 after 30, 80 after 100 on a machine with five times as many jobs as
         * processors, where compilers wait as well, 21 after 100 on a quiet one, and the same calls 22 µs of processor time after a minute.
         */
        private static final int MANY = 40;

        Bench(String name, Map<String, String> parameters) {
            this(name, parameters, "", false, FEW);
        }

        Bench(String name, Map<String, String> parameters, boolean bytes) {
            this(name, parameters, "", bytes, MANY);
        }
    }

    /**
     * The command: processor time of its process and the processes that this started.
     *
     * @param design name of a design in {@link Designs}, or empty for the demo
     * @param options further words of the command line
     */
    record Line(String design, List<String> options) implements Source {}

    private static Row peer(String label, String name, String floor, String rival, String aim) {
        return new Row(label, "ns a period", new Bench("PeerCases." + name, Map.of()), floor, rival, aim);
    }

    private static Row study(String label, String unit, String name, int threads, String aim) {
        return new Row(label, unit, new Bench(name, Map.of("threads", "" + threads)), "", "", aim);
    }

    private static Row rival(String label, String circuit) {
        Bench bench = new Bench("PeerRivals.integrated", Map.of("circuit", circuit));
        return new Row(label, "ns a period", bench, "", "", "");
    }

    private static Row command(String label, String design, String aim, String... options) {
        return new Row(label, "s", new Line(design, List.of(options)), "", "", aim);
    }

    private static Row states(String label, String name) {
        Bench bench = new Bench(name, Map.of("states", "32", "load", "2.5"));
        return new Row(label, "ns a period", bench, "", "", "");
    }

    private static Row steady(String label, String name, boolean bytes, String floor, String aim) {
        Bench bench = new Bench("PeerCases." + name, Map.of(), bytes);
        return new Row(label, bytes ? "bytes" : "ns", bench, floor, "", aim);
    }

    private static Row design(String label, String load, String aim) {
        return new Row(label, "µs", new Bench("NewDesigns.steady", Map.of("load", load), false), "", "", aim);
    }

    /** All rows in their order. */
    static List<Row> all() {
        Bench loop = new Bench("PeerCases.closedLoop", Map.of(), false);
        Bench after = new Bench("PeerCases.discontinuous", Map.of(), "PeerCases.continuous", false, Bench.FEW);
        return List.of(
                peer("continuous, from rest", "continuous", "A", "", "2 × C"),
                peer("discontinuous, from rest", "discontinuous", "B", "", "1.5 × C"),
                new Row("the same after continuous in one machine", "ns a period", after, "B", "", "as alone"),
                new Row("closed loop, two load steps", "ns a period", loop, "C", "", "2 × C"),
                peer("type 2, pole at 140 kHz, settled", "fastPole", "D", "", "160 ns"),
                peer("type 3 with limits, settled", "type3", "E", "", "400 ns"),
                peer("peak current mode, outer loop, settled", "peakCurrent", "F", "", ""),
                peer("twelve phases, settled", "twelvePhases", "", "", ""),
                rival("twelve phases, by the integrator", "TWELVE_PHASES"),
                peer("amplifier of parts, settled", "amplifier", "", "", ""),
                rival("amplifier of parts, by the integrator", "AMPLIFIER"),
                peer("saturating inductor, from rest", "saturating", "", "", ""),
                rival("saturating inductor, by the integrator", "SATURATING"),
                peer("ringing at 50 MHz, settled", "ringing", "", "", "2 µs"),
                rival("ringing at 50 MHz, by the integrator", "RINGING"),
                states("32 states, settled", "ManyStates.exact"),
                states("32 states, by the integrator", "ManyStates.integrated"),
                steady("steady state, continuous", "steadyContinuous", false, "PA", "1.5 µs"),
                steady("steady state, continuous", "steadyContinuous", true, "", "2 kB"),
                steady("steady state, discontinuous", "steadyDiscontinuous", false, "PB", "5 µs"),
                steady("steady state, discontinuous", "steadyDiscontinuous", true, "", "2 kB"),
                design("new design and its steady state, continuous", "2.5", "30 µs"),
                design("new design and its steady state, discontinuous", "100", "30 µs"),
                study("cold search, type 3 with limits, 100 Ω", "µs", "Regulated.coldSearch", 1, "1 ms"),
                study("Monte Carlo, regulated, one thread", "designs/s", "Regulated.tolerance", 1, "30,000"),
                study("Monte Carlo, regulated, two threads", "designs/s", "Regulated.tolerance", 2, "1.9 × one"),
                study("map 200 × 200, regulated, two threads", "ms", "Regulated.map", 2, "2 s"),
                study("Monte Carlo, regulated SEPIC, one thread", "designs/s", "Regulated.sepicTolerance", 1, "30,000"),
                study("map 200 × 200, regulated SEPIC, two threads", "ms", "Regulated.sepicMap", 2, "2 s"),
                command("command: fixed duty cycle", "fixed-duty", "0.8 s", "--no-pictures"),
                command("command: voltage mode", "voltage-mode", "1.2 s", "--no-pictures"),
                command("command: voltage mode with pictures", "voltage-mode", "2.5 s"),
                command("command: ripple and frequency response", "ripple-and-response", "5 s", "--no-pictures"),
                command("command: amplifier of parts", "amplifier", "2 s", "--no-pictures"),
                command("command: the demo", "", "5 s"));
    }
}
