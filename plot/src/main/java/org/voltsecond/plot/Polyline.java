package org.voltsecond.plot;

import java.awt.geom.Path2D;

/**
 * A path that leaves out points which a straight line passes within a twentieth of a pixel: nobody sees the difference
 * but the size of the file.
 */
final class Polyline {
    private static final double TOLERANCE = 0.05;
    private static final int LONGEST_RUN = 128;

    private final Path2D.Double path = new Path2D.Double();
    private final double[] runX = new double[LONGEST_RUN];
    private final double[] runY = new double[LONGEST_RUN];
    private int run;
    private double anchorX;
    private double anchorY;
    private boolean started;

    void add(double x, double y) {
        if (!started) {
            started = true;
            path.moveTo(x, y);
            anchorX = x;
            anchorY = y;
            return;
        }
        if (run > 0 && (run == LONGEST_RUN || !straight(x, y))) {
            flush();
        }
        runX[run] = x;
        runY[run++] = y;
    }

    private boolean straight(double x, double y) {
        double dx = x - anchorX;
        double dy = y - anchorY;
        double length = Math.hypot(dx, dy);
        double last = 0;
        for (int i = 0; i < run; i++) {
            double px = runX[i] - anchorX;
            double py = runY[i] - anchorY;
            double along = length == 0 ? 0 : (px * dx + py * dy) / length;
            double across = length == 0 ? Math.hypot(px, py) : Math.abs(px * dy - py * dx) / length;
            if (across > TOLERANCE || along < last - TOLERANCE || along > length + TOLERANCE) {
                return false;
            }
            last = along;
        }
        return true;
    }

    private void flush() {
        anchorX = runX[run - 1];
        anchorY = runY[run - 1];
        path.lineTo(anchorX, anchorY);
        run = 0;
    }

    Path2D open() {
        if (run > 0) {
            flush();
        }
        return path;
    }

    Path2D closed() {
        open();
        path.closePath();
        return path;
    }
}
