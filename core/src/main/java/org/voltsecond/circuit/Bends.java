package org.voltsecond.circuit;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.characteristic.CurrentCurve;
import org.voltsecond.engine.AffineMap;

/**
 * The parts of a circuit that consist of segments, and where they stand: a position of the rectifiers has, in the bits above
 * theirs, the segment of each such part, counted from the one in which the part rests at zero, upwards and downwards in turn. So
 * zero is the position of a circuit at rest. A segment ends where what it is measured by, a state or a voltage, comes to a knee;
 * the neighbour follows. Immutable.
 */
final class Bends {
    /** A part with segments, in ascending order of what it is measured by. */
    sealed interface Segmented {
        String part();

        int count();

        /** Where a segment ends and the next begins. */
        double knee(int segment);

        /** The segment with zero in it. */
        int rest();

        /** The segment of a measure; at a knee the one above it. */
        default int at(double measure) {
            int low = 0;
            int high = count() - 1;
            while (low < high) {
                int middle = (low + high) >>> 1;
                if (measure < knee(middle)) {
                    high = middle;
                } else {
                    low = middle + 1;
                }
            }
            return low;
        }
    }

    /**
     * An inductor or a capacitor: measured by its state.
     *
     * @param state which state
     * @param value inductance or capacitance below the first bend
     */
    record Storing(String part, int state, double value, List<Bend> bends) implements Segmented {
        @Override
        public int count() {
            return 2 * bends.size() + 1;
        }

        @Override
        public int rest() {
            return bends.size();
        }

        @Override
        public double knee(int segment) {
            int m = bends.size();
            return segment < m
                    ? -bends.get(m - 1 - segment).above()
                    : bends.get(segment - m).above();
        }

        /** How many bends lie between zero and a segment. */
        int bendsBelow(int segment) {
            return Math.abs(segment - bends.size());
        }

        double storage(int segment) {
            int below = bendsBelow(segment);
            return below == 0 ? value : bends.get(below - 1).value();
        }

        /** The energy at a state: the integral of x d(flux or charge). */
        double energy(double x) {
            double energy = 0;
            double from = 0;
            for (int k = 0; k <= bends.size() && from < Math.abs(x); k++) {
                double knee = k < bends.size() ? bends.get(k).above() : Double.POSITIVE_INFINITY;
                double to = Math.min(knee, Math.abs(x));
                energy += 0.5 * storage(bends.size() + k) * (to - from) * (to + from);
                from = to;
            }
            return energy;
        }
    }

    /** A rectifier with a forward curve: measured by its current, so that it rests on the first segment while it blocks. */
    record Conducting(Part.Rectifier rectifier) implements Segmented {
        @Override
        public String part() {
            return rectifier.name();
        }

        @Override
        public int count() {
            return rectifier.junction().segments();
        }

        @Override
        public int rest() {
            return 0;
        }

        @Override
        public double knee(int segment) {
            return rectifier.junction().knee(segment);
        }
    }

    /** A nonlinear resistor: measured by its voltage. */
    record Resisting(String part, CurrentCurve curve) implements Segmented {
        @Override
        public int count() {
            return curve.segments();
        }

        @Override
        public int rest() {
            return curve.segmentAt(0);
        }

        @Override
        public double knee(int segment) {
            return curve.knee(segment);
        }
    }

    private final List<Segmented> parts;
    private final int[] shift;
    private final long[] mask;

    private Bends(List<Segmented> parts, int rectifiers) {
        this.parts = parts;
        shift = new int[parts.size()];
        mask = new long[parts.size()];
        int next = rectifiers;
        for (int k = 0; k < parts.size(); k++) {
            int width = width(parts.get(k).count());
            shift[k] = next;
            mask[k] = (1L << width) - 1;
            next += width;
        }
    }

    /** How many bits the segments of a part take. */
    static int width(int segments) {
        return Long.SIZE - Long.numberOfLeadingZeros(2L * segments);
    }

    static Bends of(List<Segmented> parts, int rectifiers) {
        return new Bends(List.copyOf(parts), rectifiers);
    }

    int count() {
        return parts.size();
    }

    Segmented part(int bend) {
        return parts.get(bend);
    }

    /** Which part bears a name; -1 for one that does not bend. */
    int indexOf(String part) {
        for (int k = 0; k < parts.size(); k++) {
            if (parts.get(k).part().equals(part)) {
                return k;
            }
        }
        return -1;
    }

    /** The segment of a part in a position. */
    int segment(int bend, long position) {
        long turn = (position >>> shift[bend]) & mask[bend];
        int steps = (int) ((turn + 1) >>> 1);
        return parts.get(bend).rest() + ((turn & 1) != 0 ? steps : -steps);
    }

    /** Whether a part carries no current in a position. */
    boolean isOpen(int bend, long position) {
        return parts.get(bend) instanceof Resisting part && part.curve().isOpen(segment(bend, position));
    }

    /** The same position with another segment of a part. */
    long with(int bend, int segment, long position) {
        int steps = segment - parts.get(bend).rest();
        long turn = steps > 0 ? 2L * steps - 1 : -2L * steps;
        return (position & ~(mask[bend] << shift[bend])) | (turn << shift[bend]);
    }

    /** The position of another circuit's parts with the same names, as far as there are some. */
    long from(Bends other, long position, long rectifiers) {
        long result = rectifiers;
        for (int k = 0; k < parts.size(); k++) {
            for (int j = 0; j < other.parts.size(); j++) {
                if (other.parts.get(j).equals(parts.get(k))) {
                    result = with(k, other.segment(j, position), result);
                }
            }
        }
        return result;
    }

    /** Inductance or capacitance of each state in a position. */
    double[] storage(double[] atRest, long position) {
        if (parts.isEmpty()) {
            return atRest;
        }
        double[] storage = atRest.clone();
        for (int k = 0; k < parts.size(); k++) {
            if (parts.get(k) instanceof Storing part) {
                storage[part.state()] = part.storage(segment(k, position));
            }
        }
        return storage;
    }

    /**
     * Where a state lands that jumps because capacitances meet or currents are held to each other: along the way the capacitance
     * or inductance of a part changes wherever it passes a knee, so that charge and flux are kept. The regime of the segments on
     * which it lands says how the landing depends on the state before.
     */
    static final class Landing {
        private final Bends bends;
        private final Network network;
        private final long closed;
        /** The regime of the segments that it lands on; null where one on the way is refused. */
        @Nullable
        Regime regime;

        double[] after;

        /** The integral over the instant of what the conditions of rectifiers are about. */
        final double[] impulses;

        private Landing(Bends bends, Network network, long closed, double[] before, int rectifiers) {
            this.bends = bends;
            this.network = network;
            this.closed = closed;
            after = before;
            impulses = new double[rectifiers];
        }

        /** From a state, with the rectifiers of a position. */
        static Landing of(Bends bends, Network network, long closed, long conducting, double[] before, int rectifiers) {
            Landing landing = new Landing(bends, network, closed, before, rectifiers);
            long position = conducting;
            for (int k = 0; k < bends.count(); k++) {
                if (bends.part(k) instanceof Storing part) {
                    position = bends.with(k, part.at(before[part.state()]), position);
                }
            }
            long next = landing.step(position);
            while (next != position) {
                position = next;
                next = landing.step(position);
            }
            return landing;
        }

        /** Goes on to the end or to the next knee; the position there. */
        private long step(long position) {
            regime = network.compiled(closed, position).regime();
            AffineMap entry = regime == null ? null : regime.entry();
            if (regime == null || entry == null) {
                return position;
            }
            double[] to = entry.apply(after);
            double share = 1;
            long next = position;
            for (int k = 0; k < bends.count(); k++) {
                if (bends.part(k) instanceof Storing part) {
                    int segment = bends.segment(k, position);
                    double x = to[part.state()];
                    int step = segment < part.count() - 1 && x > part.knee(segment)
                            ? 1
                            : segment > 0 && x < part.knee(segment - 1) ? -1 : 0;
                    double from = after[part.state()];
                    double reached = step == 0
                            ? 1
                            : Math.max(0, (part.knee(step > 0 ? segment : segment - 1) - from) / (x - from));
                    if (reached < share) {
                        share = reached;
                        next = bends.with(k, segment + step, position);
                    }
                }
            }
            for (int d = 0; d < impulses.length; d++) {
                impulses[d] += share * regime.impulses().get(d).valueAt(after, 0);
            }
            double[] landed = after.clone();
            for (int j = 0; j < landed.length; j++) {
                landed[j] += share * (to[j] - after[j]);
            }
            after = landed;
            return next;
        }

        /** The jump as a map: flux and charge before, on the segments before, are those after, on the segments after. */
        AffineMap map(double[] before) {
            Regime landed = Objects.requireNonNull(regime);
            AffineMap entry = Objects.requireNonNull(landed.entry());
            int n = before.length;
            double[][] matrix = new double[n][n];
            double[] offset = after.clone();
            double[] ratio = new double[n];
            Arrays.fill(ratio, 1);
            for (int k = 0; k < bends.count(); k++) {
                if (bends.part(k) instanceof Storing part) {
                    int j = part.state();
                    ratio[j] = part.storage(part.at(before[j])) / part.storage(bends.segment(k, landed.conducting()));
                }
            }
            for (int i = 0; i < n; i++) {
                for (int j = 0; j < n; j++) {
                    matrix[i][j] = entry.entry(i, j) * ratio[j];
                    offset[i] -= matrix[i][j] * before[j];
                }
            }
            return AffineMap.of(matrix, offset);
        }
    }

    /** What the segments are called where they are not those of rest; those of resistors go without saying. */
    List<String> words(long position) {
        List<String> words = new ArrayList<>();
        for (int k = 0; k < parts.size(); k++) {
            if (parts.get(k) instanceof Storing part) {
                int below = part.bendsBelow(segment(k, position));
                if (below > 0) {
                    words.add(part.part() + " above "
                            + part.bends().get(below - 1).above());
                }
            }
        }
        return words;
    }
}
