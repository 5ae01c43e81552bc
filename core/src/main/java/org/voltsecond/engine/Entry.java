package org.voltsecond.engine;

import org.jspecify.annotations.Nullable;

/**
 * The step into the next phase.
 *
 * @param phase the phase that begins
 * @param jump how the state jumps on entering; null if it does not
 */
public record Entry(Phase phase, @Nullable AffineMap jump) {
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
