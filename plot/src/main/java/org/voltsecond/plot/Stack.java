package org.voltsecond.plot;

import java.util.List;

/** What a stacked picture shows. */
record Stack(Sheet sheet, List<Panel> panels, List<TimeBand> bands, List<TimeMark> marks, double from, double to) {}
