package org.voltsecond.control;

import java.util.List;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Regime;
import org.voltsecond.engine.Configuration;
import org.voltsecond.engine.Phase;

/** A phase of a driven circuit: which circuit it is now, and which of its switches and rectifiers conduct. */
public final class CircuitPhase extends Phase {
    private final int epoch;
    private final int segment;
    private final Circuit circuit;
    private final Regime regime;
    private final List<Integer> rectifierOfGuard;

    CircuitPhase(
            Configuration configuration,
            double endSinceTick,
            int epoch,
            int segment,
            Circuit circuit,
            Regime regime,
            List<Integer> rectifierOfGuard) {
        super(configuration, endSinceTick, Double.POSITIVE_INFINITY);
        this.epoch = epoch;
        this.segment = segment;
        this.circuit = circuit;
        this.regime = regime;
        this.rectifierOfGuard = rectifierOfGuard;
    }

    /**
     * Returns how many scheduled changes have happened before.
     *
     * @return the number of changes, 0 at the start
     */
    public int epoch() {
        return epoch;
    }

    int segment() {
        return segment;
    }

    int rectifierOf(int guard) {
        return rectifierOfGuard.get(guard);
    }

    /**
     * Returns the circuit with the values that it has in this phase.
     *
     * @return the circuit
     */
    public Circuit circuit() {
        return circuit;
    }

    /**
     * Returns the linear circuit of this phase.
     *
     * @return the regime
     */
    public Regime regime() {
        return regime;
    }
}
