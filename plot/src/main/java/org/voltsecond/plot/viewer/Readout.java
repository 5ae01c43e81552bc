package org.voltsecond.plot.viewer;

import java.util.List;

/**
 * What the two cursors measure. Every value is that of the exact waveform, whatever the zoom. Immutable.
 *
 * <pre>{@code
 * SwingUtilities.invokeAndWait(() -> {
 *     WaveformView view = Viewer.builder("start-up").panel(start.of(rail.outputVoltage())).view();
 *     view.measure(micro(50), micro(60));
 *     Readout readout = view.readout();
 *     double frequency = readout.frequency(); // 100 kHz
 * });
 * }</pre>
 *
 * @param timeA time of cursor A, s
 * @param timeB time of cursor B, s
 * @param readings one for each trace, from top to bottom, those switched off included
 */
public record Readout(double timeA, double timeB, List<CursorReading> readings) {
    /**
     * Copies the readings.
     *
     * @param timeA time of cursor A, s
     * @param timeB time of cursor B, s
     * @param readings one for each trace
     */
    public Readout {
        readings = List.copyOf(readings);
    }

    /**
     * Returns the time from A to B.
     *
     * @return the difference, s; negative if B is before A
     */
    public double interval() {
        return timeB - timeA;
    }

    /**
     * Returns the frequency of which the time between the cursors is one period.
     *
     * @return the reciprocal of the time between them, Hz; infinite if they are at the same time
     */
    public double frequency() {
        return 1 / Math.abs(interval());
    }

    /**
     * Returns the reading of one trace.
     *
     * @param name name of the trace
     * @return the first reading of that name
     * @throws IllegalArgumentException if there is no such trace
     */
    public CursorReading of(String name) {
        return readings.stream()
                .filter(reading -> reading.name().equals(name))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("there is no trace \"" + name + "\"; there are "
                        + readings.stream().map(CursorReading::name).toList()));
    }
}
