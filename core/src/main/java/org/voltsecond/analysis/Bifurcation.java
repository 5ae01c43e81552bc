package org.voltsecond.analysis;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.DoubleFunction;
import java.util.function.Function;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.Configuration;
import org.voltsecond.engine.IntervalListener;
import org.voltsecond.engine.IntervalView;
import org.voltsecond.engine.PeriodMap;
import org.voltsecond.engine.Simulation;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.waveform.Signal;

/**
 * What a circuit settles to over a swept parameter: a signal, sampled once in every clock period after it has settled. One
 * value for a steady state of one period, two where the period has doubled, a band where there is chaos. Every value of the
 * parameter starts from where the one before has ended. Immutable.
 *
 * <pre>{@code
 * Bifurcation doubling = Bifurcation.sweep(
 *         new double[] {1, 2}, // A: the command of the peak current
 *         command -> stage.input(9).drive(CurrentMode.peak(kilo(300), command)).driven(),
 *         circuit -> circuit.current("L1"),
 *         200, // periods to settle
 *         8); // samples of each
 * List<Double> current = doubling.points().get(1).samples(); // A
 * }</pre>
 *
 * @param signal name of the signal
 * @param unit symbol of its unit
 * @param points one for each value of the parameter, in the order of the sweep
 */
public record Bifurcation(String signal, String unit, List<Point> points) {
    /** Samples closer than this share of the largest count as the same. */
    private static final double SAME = 1e-6;

    /**
     * Copies the list.
     *
     * @param signal name of the signal
     * @param unit symbol of its unit
     * @param points one for each value of the parameter
     */
    public Bifurcation {
        points = List.copyOf(points);
    }

    /**
     * What was seen at one value of the parameter.
     *
     * @param parameter the value, SI units
     * @param samples the signal just after clock edges, in the order of time; none if the run could not go on
     * @param reason why the run could not go on; empty if it could
     */
    public record Point(double parameter, List<Double> samples, String reason) {
        /**
         * Copies the list.
         *
         * @param parameter the value, SI units
         * @param samples the signal just after clock edges
         * @param reason why the run could not go on; empty if it could
         */
        public Point {
            samples = List.copyOf(samples);
        }

        /**
         * Returns after how many clock periods the samples repeat, to within a millionth of the largest.
         *
         * @return the number of periods; 0 if they do not repeat within half of the samples
         */
        public int periods() {
            double largest = samples.stream().mapToDouble(Math::abs).max().orElse(0);
            for (int period = 1; 2 * period <= samples.size(); period++) {
                boolean repeats = true;
                for (int i = 0; repeats && i + period < samples.size(); i++) {
                    repeats = Math.abs(samples.get(i + period) - samples.get(i)) <= SAME * largest;
                }
                if (repeats) {
                    return period;
                }
            }
            return 0;
        }
    }

    /**
     * Sweeps a parameter.
     *
     * @param parameters its values, in the order of the sweep; at least one
     * @param circuit the driven circuit for a value; all with the same states, without scheduled changes, with a clock
     * @param signal what to sample in it
     * @param settling how many clock periods pass before the first sample; at least 1
     * @param samples how many clock periods are sampled; at least 1
     * @return what was seen
     * @throws IllegalArgumentException if a number is out of its range, or a circuit has no clock
     */
    public static Bifurcation sweep(
            double[] parameters,
            DoubleFunction<DrivenCircuit> circuit,
            Function<DrivenCircuit, Signal> signal,
            int settling,
            int samples) {
        if (parameters.length == 0 || !(settling >= 1) || !(samples >= 1)) {
            throw new IllegalArgumentException(
                    "a sweep needs at least 1 value, 1 period to settle and 1 to sample, but was " + "given "
                            + parameters.length + ", " + settling + " and " + samples);
        }
        List<Point> points = new ArrayList<>();
        double[] state = {};
        Signal first = signal.apply(circuit.apply(parameters[0]));
        for (double parameter : parameters) {
            DrivenCircuit driven = circuit.apply(parameter);
            if (!driven.isClocked()) {
                throw new IllegalArgumentException("samples are taken on clock edges, but at " + parameter
                        + " the circuit has no clock; sweep one that has, or look at its steady states");
            }
            Sampler sampler = new Sampler(signal.apply(driven), samples);
            try {
                double[] start = state.length == 0 ? driven.restState() : state;
                double[] settled = PeriodMap.of(driven.law(), settling).apply(start);
                state = Simulation.of(driven.law()).stream(settled, samples * driven.clockPeriod(), sampler);
                points.add(new Point(parameter, sampler.samples(), ""));
            } catch (SwitchingException e) {
                state = new double[0];
                points.add(new Point(parameter, List.of(), String.valueOf(e.getMessage())));
            }
        }
        return new Bifurcation(first.name(), first.unit().symbol(), points);
    }

    /** Reads the signal in the first interval of every period. */
    private static final class Sampler implements IntervalListener {
        private final Signal signal;
        private final double[] values;
        private int count;

        Sampler(Signal signal, int samples) {
            this.signal = signal;
            values = new double[samples];
        }

        @Override
        public void onInterval(IntervalView interval) {
            if (interval.tick() == count && count < values.length) {
                Configuration configuration = interval.phase().configuration();
                double[] state = new double[configuration.dimension()];
                interval.copyStartState(state);
                values[count++] = signal.in(configuration).valueAt(state, interval.sinceTick());
            }
        }

        List<Double> samples() {
            return Arrays.stream(values, 0, count).boxed().toList();
        }
    }
}
