package org.voltsecond.control;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.AffineMap;

/**
 * Puts the jump of the circuit's states and that of the controller's together. States stand in the order: those that the
 * circuit stores, those of its ramping sources, those of the controller.
 */
final class StateJumps {
    private final int storedStates;
    private final int circuitStates;
    private final int dimension;

    StateJumps(int storedStates, int circuitStates, int dimension) {
        this.storedStates = storedStates;
        this.circuitStates = circuitStates;
        this.dimension = dimension;
    }

    /** Returns the jump of all states; null if nothing jumps. */
    @Nullable
    AffineMap of(@Nullable AffineMap ofCircuit, @Nullable List<AffineForm> ofController) {
        if (ofController == null && (ofCircuit == null || dimension == circuitStates)) {
            return ofCircuit;
        }
        double[][] matrix = new double[dimension][dimension];
        double[] offset = new double[dimension];
        for (int i = 0; i < circuitStates; i++) {
            offset[i] = ofCircuit == null ? 0 : ofCircuit.offset(i);
            for (int j = 0; j < circuitStates; j++) {
                matrix[i][j] = factor(ofCircuit, i, j);
            }
        }
        for (int i = circuitStates; i < dimension; i++) {
            if (ofController == null) {
                matrix[i][i] = 1;
            } else {
                AffineForm after = ofController.get(i - circuitStates);
                offset[i] = after.constant();
                for (int j = 0; j < dimension; j++) {
                    matrix[i][j] = after.coefficient(j);
                }
            }
        }
        return AffineMap.of(matrix, offset);
    }

    /** Puts the values of ramping sources before the jump; null if nothing jumps. */
    @Nullable
    AffineMap withSources(@Nullable AffineMap ofCircuit, double[] sources) {
        if (circuitStates == storedStates) {
            return of(ofCircuit, null);
        }
        double[][] matrix = new double[circuitStates][circuitStates];
        double[] offset = new double[circuitStates];
        for (int i = 0; i < circuitStates; i++) {
            offset[i] = ofCircuit == null ? 0 : ofCircuit.offset(i);
            for (int j = 0; j < circuitStates; j++) {
                double factor = factor(ofCircuit, i, j);
                if (j < storedStates) {
                    matrix[i][j] = factor;
                } else {
                    offset[i] += factor * sources[j];
                }
            }
        }
        return of(AffineMap.of(matrix, offset), null);
    }

    private static double factor(@Nullable AffineMap jump, int row, int column) {
        if (jump != null) {
            return jump.entry(row, column);
        }
        return row == column ? 1 : 0;
    }
}
