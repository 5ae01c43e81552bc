package org.voltsecond.analysis;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.CircuitPhase;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.AffineMap;
import org.voltsecond.engine.Cause;
import org.voltsecond.engine.IntervalView;
import org.voltsecond.engine.Phase;
import org.voltsecond.engine.Simulation;
import org.voltsecond.numeric.RoundOff;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * The passages of one period of a steady state, each with the step that leads into it; the step into the first one is that
 * by which the period closes. Those of no length are there too.
 *
 * @param passages in order of time; at least one
 * @param period s
 */
record OrbitLoop(List<Passage> passages, double period) {
    /** How much longer than a period is run, in periods, so as to see how the period closes. */
    private static final double OVERLAP = 0x1p-6;

    private static final double SAME_TIME = 1e-6;

    /**
     * One phase that the orbit passes.
     *
     * @param phase the phase
     * @param jump how the state jumps into it; null if it does not
     * @param start state just after its start
     * @param end state just before its end
     * @param sinceTick time since the clock edge at its start, s
     * @param duration s; may be 0
     * @param cause why it ends
     */
    record Passage(
            Phase phase,
            @Nullable AffineMap jump,
            double[] start,
            double[] end,
            double sinceTick,
            double duration,
            @Nullable Cause cause) {
        /** Whether a form is below zero for certain where a passage without duration begins. */
        boolean fallsAtOnce(AffineForm form) {
            if (duration > 0) {
                return false;
            }
            double size = Math.abs(form.constant()) + Math.abs(form.slope() * sinceTick);
            for (int j = 0; j < form.dimension(); j++) {
                size += Math.abs(form.coefficient(j) * start[j]);
            }
            return form.valueAt(start, sinceTick) < -RoundOff.OF_A_CONDITION * size;
        }

        static Passage of(IntervalView view, int states) {
            double[] start = new double[states];
            double[] end = new double[states];
            view.copyStartState(start);
            view.copyEndState(end);
            return new Passage(view.phase(), view.jump(), start, end, view.sinceTick(), view.duration(), view.cause());
        }

        Passage enteredBy(@Nullable AffineMap otherJump) {
            return new Passage(phase, otherJump, start, end, sinceTick, duration, cause);
        }

        /** Whether the clock ends it, if no guard does; a fixed duration counts from its start. */
        boolean endsByClock() {
            double clockEnd = phase.endSinceTick() - sinceTick;
            return ((CircuitPhase) phase).isOfFixedDrive() || (clockEnd >= 0 && phase.maximumDuration() >= clockEnd);
        }

        double endSinceTick() {
            return sinceTick + duration;
        }
    }

    /**
     * Follows a steady state in a circuit that has states more, which are zero.
     *
     * @param steady the steady state
     * @param circuit the same circuit, perhaps with states more
     */
    static OrbitLoop of(SteadyState steady, DrivenCircuit circuit) {
        double period = steady.period();
        double[] state = circuit.stateFrom(steady.circuit(), steady.state());
        Collector collector = new Collector(circuit, state.length, period);
        Simulation.of(circuit.law()).streamAll(state, period * (1 + OVERLAP), collector::add);
        return new OrbitLoop(collector.closed(), period);
    }

    /**
     * The passages of one period as they are run from its start.
     *
     * @param passages in order of time; at least one
     * @param closing that which begins the next cycle of a circuit without a clock; else null
     */
    record Once(List<Passage> passages, @Nullable Passage closing) {}

    /**
     * Follows a steady state, once.
     *
     * @param steady the steady state
     * @param circuit the same circuit, perhaps with its edges told apart
     * @return its passages
     */
    static Once once(SteadyState steady, DrivenCircuit circuit) {
        double[] state = circuit.stateFrom(steady.circuit(), steady.state());
        Collector collector = new Collector(circuit, state.length, steady.period());
        Simulation.of(circuit.law()).streamAll(state, steady.period() * (1 + OVERLAP), collector::add);
        List<Passage> passages = collector.passages;
        if (circuit.isClocked() && endMoves(passages.get(passages.size() - 1))) {
            // a phase of no length between an edge that moves and the clock edge belongs to the period that it ends
            Collections.rotate(passages, -1);
        }
        return new Once(List.copyOf(passages), circuit.isClocked() ? null : collector.closing);
    }

    private static boolean endMoves(Passage passage) {
        return ((CircuitPhase) passage.phase()).endMoves();
    }

    /** The passage before another one; before the first comes the last. */
    Passage before(int index) {
        return passages.get(index == 0 ? passages.size() - 1 : index - 1);
    }

    private static final class Collector {
        private final DrivenCircuit circuit;
        private final int states;
        private final double period;
        private final List<Passage> passages = new ArrayList<>();
        private final double clockPeriod;
        private @Nullable Passage closing;

        Collector(DrivenCircuit circuit, int states, double period) {
            this.circuit = circuit;
            this.states = states;
            this.period = period;
            clockPeriod = circuit.law().clockPeriod();
        }

        void add(IntervalView view) {
            if (closing != null) {
                return;
            }
            Passage passage = Passage.of(view, states);
            if (!passages.isEmpty() && beginsAnew(view)) {
                closing = passage;
            } else {
                passages.add(passage);
            }
        }

        private boolean beginsAnew(IntervalView view) {
            if (circuit.isClocked()) {
                return view.tick() >= Math.round(period / clockPeriod);
            }
            double time = view.tick() * clockPeriod + view.sinceTick();
            Phase last = passages.get(passages.size() - 1).phase();
            return time >= period * (1 - SAME_TIME) && circuit.opensCycle(view.phase()) && !circuit.opensCycle(last);
        }

        List<Passage> closed() {
            Passage again = closing;
            if (again != null && again.phase() != passages.get(0).phase() && beginsOnce(again.phase())) {
                passages.remove(0);
            }
            if (again == null || again.phase() != passages.get(0).phase()) {
                throw new IllegalStateException("the period of " + Quantity.format(period, Unit.SECOND, 6)
                        + " does not close: the phase that begins it, "
                        + passages.get(0).phase()
                        + ", does not begin after it; a frequency response needs a steady state "
                        + "of a circuit in which every period begins alike");
            }
            passages.set(0, passages.get(0).enteredBy(again.jump()));
            return List.copyOf(passages);
        }

        /** Whether a run begins in a phase of no length that which leads to where every later clock edge leads by itself. */
        private boolean beginsOnce(Phase phaseAfterEdge) {
            return passages.size() > 1
                    && passages.get(0).duration() == 0
                    && passages.get(1).phase() == phaseAfterEdge;
        }
    }
}
