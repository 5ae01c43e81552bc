package org.voltsecond.study;

/** Is told how far a study is. */
@FunctionalInterface
public interface Progress {
    /**
     * Is called after every batch of designs, by one thread at a time though not always the same, with a count that grows
     * from call to call and reaches the total unless the study is cancelled. What it throws ends the study.
     *
     * @param done how many designs have been run, those that failed included
     * @param total how many there are
     */
    void reached(int done, int total);
}
