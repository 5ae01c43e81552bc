package org.voltsecond.control;

import java.util.List;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.waveform.Signal;

/**
 * How a controller reads the circuit in one of its configurations, and its own states: as forms over the states of the
 * circuit followed by those of the controller. Immutable.
 */
public final class Sensing {
    private final List<AffineForm> circuitChannels;
    private final int circuitStates;
    private final int dimension;

    Sensing(List<AffineForm> circuitChannels, int circuitStates, int dimension) {
        this.circuitChannels = circuitChannels;
        this.circuitStates = circuitStates;
        this.dimension = dimension;
    }

    /**
     * Reads a signal of the circuit.
     *
     * @param signal a voltage or current of the circuit
     * @return its value as a form
     */
    public AffineForm of(Signal signal) {
        return signal.in(circuitChannels).extendedTo(dimension);
    }

    /**
     * Reads a state of the controller.
     *
     * @param index its position in {@link Controller#states()}
     * @return its value as a form
     */
    public AffineForm own(int index) {
        double[] coefficients = new double[dimension];
        coefficients[circuitStates + index] = 1;
        return AffineForm.of(coefficients, 0);
    }

    /**
     * Returns a constant.
     *
     * @param value its value
     * @return the form
     */
    public AffineForm constant(double value) {
        return AffineForm.constant(dimension, value);
    }
}
