package org.voltsecond.stage;

import java.util.List;

/**
 * How many times inductor and switches of a stage stand side by side, each driven a share of the period after the one before.
 *
 * <pre>{@code
 * Phases four = new Phases(4); // a quarter of a period apart
 * }</pre>
 *
 * @param count from 1 to 64
 */
public record Phases(double count) implements StagePart {
    private static final int MOST = 64; // as many devices as a circuit may have

    @Override
    public List<String> faults() {
        boolean whole = count >= 1 && count <= MOST && count == Math.rint(count);
        return whole ? List.of() : List.of("phases: must be a whole number from 1 to " + MOST + " but was " + count);
    }
}
