package org.voltsecond.control;

import java.util.List;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Regime;
import org.voltsecond.engine.Configuration;
import org.voltsecond.engine.Phase;

/**
 * A phase of a driven circuit: which circuit it is now, and which of its switches and rectifiers conduct.
 *
 * <pre>{@code
 * CircuitPhase first = (CircuitPhase) steady.periodic().trajectory().interval(0).phase();
 * String closed = first.regime().name(); // "Q1 closed, D1 blocking"
 * }</pre>
 */
public final class CircuitPhase extends Phase {
    private final int epoch;
    private final Controller.Mode mode;
    private final Circuit circuit;
    private final Regime regime;
    private final ControlLaw law;
    private final List<Integer> rectifierOfGuard;

    CircuitPhase(
            Configuration configuration,
            int epoch,
            Controller.Mode mode,
            Circuit circuit,
            Regime regime,
            ControlLaw law,
            List<Integer> rectifierOfGuard) {
        super(configuration, law.endSinceTick(), law.maximumDuration());
        this.epoch = epoch;
        this.mode = mode;
        this.circuit = circuit;
        this.regime = regime;
        this.law = law;
        this.rectifierOfGuard = rectifierOfGuard;
    }

    /**
     * Returns how many scheduled changes lie before this phase.
     *
     * @return the number of instants at which something scheduled has changed
     */
    public int epoch() {
        return epoch;
    }

    /**
     * Tells whether it ends with an edge of a gate that moves; see {@link DrivenCircuit#withMovingEdges}.
     *
     * @return true if it does, unless a guard ends it before
     */
    public boolean endMoves() {
        return ClockedController.movesAtEnd(mode);
    }

    /**
     * Tells whether fixed drives alone decide when it ends, unless a guard ends it before.
     *
     * @return true of a circuit whose gates the clock alone drives
     */
    public boolean isOfFixedDrive() {
        return ClockedController.isOwn(mode);
    }

    /**
     * Returns the mode of the controller.
     *
     * @return the mode
     */
    public Controller.Mode mode() {
        return mode;
    }

    /**
     * Returns how many of the guards of the configuration are those of rectifiers; those of the controller follow.
     *
     * @return the number of guards of rectifiers
     */
    public int rectifierGuards() {
        return rectifierOfGuard.size();
    }

    /**
     * Returns which rectifier a guard of this phase belongs to.
     *
     * @param guard index of a guard of the configuration, of those that belong to rectifiers
     * @return index of the rectifier, as in {@link Regime#conditions()}
     */
    public int rectifierOf(int guard) {
        return rectifierOfGuard.get(guard);
    }

    ControlLaw law() {
        return law;
    }

    /**
     * Returns the circuit with the values that hold in this phase.
     *
     * @return the circuit
     */
    public Circuit circuit() {
        return circuit;
    }

    /**
     * Returns the regime: which switches are closed and which rectifiers conduct.
     *
     * @return the regime of the circuit
     */
    public Regime regime() {
        return regime;
    }
}
