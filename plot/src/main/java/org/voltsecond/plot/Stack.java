package org.voltsecond.plot;

import java.util.List;
import org.voltsecond.waveform.Waveform;

/** What a stacked picture shows. */
record Stack(Sheet sheet, List<Panel> panels, List<TimeBand> bands, List<TimeMark> marks, double from, double to) {
    /** The part of a waveform that is shown; null-free: the builder has checked that there is some. */
    Waveform shown(Waveform waveform) {
        return waveform.between(Math.max(from, waveform.startTime()), Math.min(to, waveform.endTime()));
    }

    int traces() {
        return panels.stream().mapToInt(panel -> panel.waveforms().size()).sum();
    }
}
