package org.voltsecond.plot;

import java.awt.Shape;
import java.awt.geom.Path2D;
import java.awt.geom.Rectangle2D;
import org.voltsecond.study.OperatingMap;

/** The cells of a map at a corner of which there is no steady state, so that nothing is known between. */
final class MissingCells {
    private MissingCells() {}

    static boolean misses(OperatingMap map, int i, int j) {
        return map.outcome(i, j).value().isEmpty()
                || map.outcome(i + 1, j).value().isEmpty()
                || map.outcome(i, j + 1).value().isEmpty()
                || map.outcome(i + 1, j + 1).value().isEmpty();
    }

    /** The cells in the plane. */
    static Shape in(OperatingMap map, Mapping mapping) {
        double[] across = MapField.positions(map.across());
        double[] up = MapField.positions(map.up());
        Path2D area = new Path2D.Double();
        for (int i = 0; i + 1 < across.length; i++) {
            for (int j = 0; j + 1 < up.length; j++) {
                if (misses(map, i, j)) {
                    Rectangle2D cell = new Rectangle2D.Double(mapping.x(across[i]), mapping.y(up[j + 1]), 0, 0);
                    cell.add(mapping.x(across[i + 1]), mapping.y(up[j]));
                    area.append(cell, false);
                }
            }
        }
        return area;
    }
}
