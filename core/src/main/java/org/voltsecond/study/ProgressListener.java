package org.voltsecond.study;

/**
 * Is told how far a study is.
 *
 * <pre>{@code
 * int[] percent = {0};
 * ProgressListener bar = (done, total) -> percent[0] = 100 * done / total;
 * Sweep.of(rail, Axis.inputVoltage(9, 15, 7), List.of(), Execution.standard().withProgress(bar));
 * }</pre>
 */
@FunctionalInterface
public interface ProgressListener {
    /**
     * Is called after every batch of designs, by one thread at a time though not always the same, with a count that grows
     * from call to call and reaches the total unless the study is cancelled. What it throws ends the study.
     *
     * @param done how many designs have been run, those that failed included
     * @param total how many there are
     */
    void reached(int done, int total);
}
