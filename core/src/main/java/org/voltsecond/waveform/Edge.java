package org.voltsecond.waveform;

/**
 * An instant at which a waveform jumps.
 *
 * <pre>{@code
 * Edge fall = steady.of(rail.switchNode()).edges().get(0); // the transistor opens
 * double swing = fall.height(); // -12.266 V
 * double instant = fall.time(); // 1.500 µs
 * }</pre>
 *
 * @param time when, s
 * @param before the value just before, in the unit of the waveform
 * @param after the value just after
 */
public record Edge(double time, double before, double after) {
    /**
     * Returns how far the waveform jumps.
     *
     * @return the value after less the value before
     */
    public double height() {
        return after - before;
    }
}
