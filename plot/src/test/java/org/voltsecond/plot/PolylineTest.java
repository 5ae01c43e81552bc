package org.voltsecond.plot;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.geom.PathIterator;
import java.awt.geom.Point2D;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

class PolylineTest {
    private static List<Point2D> corners(Polyline line) {
        List<Point2D> corners = new ArrayList<>();
        double[] xy = new double[6];
        for (PathIterator it = line.open().getPathIterator(null); !it.isDone(); it.next()) {
            it.currentSegment(xy);
            corners.add(new Point2D.Double(xy[0], xy[1]));
        }
        return corners;
    }

    @Test
    void pointsOnAStraightLineAreLeftOut() {
        Polyline line = new Polyline();
        for (int i = 0; i <= 100; i++) {
            line.add(i, 2 * i);
        }
        line.add(100, 0);
        assertThat(corners(line))
                .containsExactly(new Point2D.Double(0, 0), new Point2D.Double(100, 200), new Point2D.Double(100, 0));
    }

    @Test
    void aTurnBackOnTheSameLineIsKept() {
        Polyline line = new Polyline();
        line.add(0, 0);
        line.add(0, 10);
        line.add(0, -5);
        assertThat(corners(line)).hasSize(3);
    }

    @Test
    void aCurveIsNeverFartherThanAFractionOfAPixel() {
        Polyline line = new Polyline();
        for (int i = 0; i <= 2000; i++) {
            line.add(0.5 * i, 200 * Math.sin(0.01 * i));
        }
        List<Point2D> corners = corners(line);
        assertThat(corners).hasSizeLessThan(700);
        int segment = 0;
        for (int i = 0; i <= 2000; i++) {
            double x = 0.5 * i;
            while (corners.get(segment + 1).getX() < x) {
                segment++;
            }
            Point2D a = corners.get(segment);
            Point2D b = corners.get(segment + 1);
            double y = a.getY() + (x - a.getX()) / (b.getX() - a.getX()) * (b.getY() - a.getY());
            assertThat(Math.abs(y - 200 * Math.sin(0.01 * i))).isLessThan(0.3);
        }
    }
}
