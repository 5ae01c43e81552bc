package org.voltsecond.waveform;

/** Something that holds waveforms: a transient or a periodic steady state. */
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
