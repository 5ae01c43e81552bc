package org.voltsecond.plot;

import org.voltsecond.study.Axis;
import org.voltsecond.study.OperatingMap;

/** A figure of a map between its points, bilinear in steps or factors as the axes have them. */
record MapField(double[] across, double[] up, double[][] values) {
    static MapField of(OperatingMap map, int figure) {
        double[] across = positions(map.across());
        double[] up = positions(map.up());
        double[][] values = new double[across.length][up.length];
        for (int i = 0; i < across.length; i++) {
            for (int j = 0; j < up.length; j++) {
                values[i][j] = map.value(figure, i, j);
            }
        }
        return new MapField(across, up, values);
    }

    static double[] positions(Axis axis) {
        return axis.values().stream()
                .mapToDouble(value -> position(axis, value))
                .toArray();
    }

    static double position(Axis axis, double value) {
        return axis.logarithmic() ? Math.log10(value) : value;
    }

    /** The value at a place; not a number beside a point that has none. */
    double at(double x, double y) {
        int i = cell(across, x);
        int j = cell(up, y);
        double u = (x - across[i]) / (across[i + 1] - across[i]);
        double v = (y - up[j]) / (up[j + 1] - up[j]);
        double low = values[i][j] + u * (values[i + 1][j] - values[i][j]);
        double high = values[i][j + 1] + u * (values[i + 1][j + 1] - values[i][j + 1]);
        return low + v * (high - low);
    }

    private static int cell(double[] nodes, double at) {
        int cell = 0;
        while (cell + 2 < nodes.length && at >= nodes[cell + 1]) {
            cell++;
        }
        return cell;
    }
}
