package org.voltsecond.examples.gallery;

import static org.voltsecond.examples.gallery.Rails.logicRail;
import static org.voltsecond.units.Si.milli;

import java.util.List;
import org.voltsecond.figures.Figures;
import org.voltsecond.plot.MapPictures;
import org.voltsecond.plot.Picture;
import org.voltsecond.study.Axis;
import org.voltsecond.study.Execution;
import org.voltsecond.study.OperatingMap;

/** Figures over two quantities. */
final class OperatingMaps {
    private OperatingMaps() {}

    @Shown(
            value = "Map of conduction",
            about =
                    "Over load and line, the output held at 5 V; hatched where it is discontinuous. The boundary is exact.")
    static Picture conduction() {
        OperatingMap map = OperatingMap.holding(
                logicRail(),
                5, // V
                Axis.loadCurrent(milli(20), 2, 40),
                Axis.inputVoltage(9, 15, 25),
                Figures.usual(),
                Execution.standard());
        return MapPictures.conduction("Logic rail at 5 V: mode of conduction", map);
    }

    @Shown(
            value = "Contours of a figure",
            about =
                    "The efficiency that ideal switching leaves, over load and line; any figure of a stage can be drawn.")
    static Picture contours() {
        OperatingMap map = OperatingMap.holding(
                logicRail(),
                5, // V
                Axis.loadCurrent(milli(20), 2, 40),
                Axis.inputVoltage(9, 15, 25),
                List.of(Figures.EFFICIENCY),
                Execution.standard());
        return MapPictures.contours("Logic rail at 5 V: efficiency", map, 0);
    }
}
