package org.voltsecond.control;

import java.util.List;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.waveform.Signal;

/**
 * How a controller reads the circuit in one of its configurations, and its own states: as forms over the states of the
 * circuit followed by those of the controller. Immutable.
 *
 * <pre>{@code
 * Signal output = rail.outputVoltage();
 * Function<Sensing, AffineForm> error = sensing -> sensing.constant(1).plus(-0.2, sensing.of(output)); // V
 * Function<Sensing, AffineForm> threshold = sensing -> sensing.own(0).plus(-0.5); // V, of its first own state
 * }</pre>
 */
public final class Sensing {
    private final List<AffineForm> circuitChannels;
    private final List<String> channelNames;
    private final int firstOwn;
    private final int dimension;

    Sensing(List<AffineForm> circuitChannels, List<String> channelNames, int firstOwn, int dimension) {
        this.circuitChannels = circuitChannels;
        this.channelNames = channelNames;
        this.firstOwn = firstOwn;
        this.dimension = dimension;
    }

    /**
     * Reads a signal of the circuit.
     *
     * @param signal a voltage or current of the circuit
     * @return its value as a form
     * @throws IllegalArgumentException if the circuit has no such voltage or current
     */
    public AffineForm of(Signal signal) {
        return signal.in(circuitChannels, channelNames).extendedTo(dimension);
    }

    /**
     * Reads a state of the controller.
     *
     * @param index its position in {@link Controller#states()}
     * @return its value as a form
     */
    public AffineForm own(int index) {
        double[] coefficients = new double[dimension];
        coefficients[firstOwn + index] = 1;
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

    /** Reads the same circuit, and as own states those of the controller from a position on. */
    Sensing from(int index) {
        return new Sensing(circuitChannels, channelNames, firstOwn + index, dimension);
    }
}
