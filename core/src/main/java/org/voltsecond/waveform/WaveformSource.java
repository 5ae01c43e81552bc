package org.voltsecond.waveform;

/**
 * Something that holds waveforms: a transient or a periodic steady state.
 *
 * <pre>{@code
 * for (WaveformSource source : List.of(steady, start)) { // one period, and a start-up
 *     System.out.println(source.of(rail.inductorCurrent()).maximum());
 * }
 * }</pre>
 */
@FunctionalInterface
public interface WaveformSource {
    /**
     * Returns the waveform of a signal.
     *
     * @param signal what to look at
     * @return its waveform over all the time that this source covers
     */
    Waveform of(Signal signal);
}
