package org.voltsecond.engine;

import org.jspecify.annotations.Nullable;

/**
 * The step into the next phase.
 *
 * <pre>{@code
 * Phase waiting = steady.periodic().trajectory().interval(0).phase();
 * Entry plain = Entry.of(waiting); // the state stays as it is
 * Entry reset = new Entry(waiting, AffineMap.of(new double[][] {{0, 0}, {0, 1}}, new double[] {0, 0})); // x0 to zero
 * }</pre>
 *
 * @param phase the phase that begins
 * @param jump how the state jumps on entering; null if it does not
 * @param repeatable whether the same jump follows wherever the same phase follows after the same cause; false where the
 *     jump depends on the state in more than an affine way, so that a run must ask each time
 */
public record Entry(Phase phase, @Nullable AffineMap jump, boolean repeatable) {
    /**
     * An entry whose jump is the same map wherever the phase follows.
     *
     * @param phase the phase that begins
     * @param jump how the state jumps on entering; null if it does not
     */
    public Entry(Phase phase, @Nullable AffineMap jump) {
        this(phase, jump, true);
    }

    /**
     * Returns an entry without a jump.
     *
     * @param phase the phase that begins
     * @return the entry
     */
    public static Entry of(Phase phase) {
        return new Entry(phase, null);
    }
}
