package org.voltsecond.waveform;

import java.util.Arrays;
import org.voltsecond.engine.Piece;
import org.voltsecond.engine.Trajectory.Block;

/**
 * A waveform seen in columns of equal width, as on a screen: for each column the lowest, the highest, the first and the
 * last value, all exact. No swing between two columns is lost, however many periods a column holds. Immutable.
 *
 * <pre>{@code
 * Envelope screen = start.of(rail.inductorCurrent()).envelope(0, milli(2), 800); // one for each pixel
 * double inrush = screen.maximum(16); // 7.226 A
 * }</pre>
 */
public final class Envelope {
    private final double start;
    private final double end;
    private final double[] minima;
    private final double[] maxima;
    private final double[] firsts;
    private final double[] lasts;

    private Envelope(double start, double end, int columns) {
        this.start = start;
        this.end = end;
        minima = filled(columns, Double.POSITIVE_INFINITY);
        maxima = filled(columns, Double.NEGATIVE_INFINITY);
        firsts = filled(columns, Double.NaN);
        lasts = filled(columns, Double.NaN);
    }

    private static double[] filled(int size, double value) {
        double[] array = new double[size];
        Arrays.fill(array, value);
        return array;
    }

    static Envelope of(Timeline window, Curve curve, int columns) {
        if (columns < 1) {
            throw new IllegalArgumentException("an envelope needs at least 1 column but got " + columns);
        }
        Envelope envelope = new Envelope(window.start(), window.end(), columns);
        for (Block block : window.blocks()) {
            int turn = 0;
            while (turn < block.times()) {
                int from = block.first() + turn * block.count();
                for (int span = from; span < from + block.count(); span++) {
                    for (Piece piece : curve.pieces(span)) {
                        envelope.add(piece);
                    }
                }
                turn = Math.max(turn + 1, envelope.lastInColumn(window, block, turn));
            }
        }
        return envelope;
    }

    /** The last repetition that lies in the column of this one as a whole, for all between them tell nothing new. */
    private int lastInColumn(Timeline window, Block block, int turn) {
        int column = columnOf(Math.floor(position(window.start(block.first() + turn * block.count()))));
        int low = turn;
        int high = block.times();
        while (high - low > 1) {
            int middle = (low + high) >>> 1;
            double end = position(window.start(block.first() + (middle + 1) * block.count()));
            if (end <= column + 1) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return low;
    }

    private void add(Piece piece) {
        double position = position(piece.start());
        int first = columnOf(Math.floor(position));
        // a piece that ends on the border of two columns belongs to the left one alone
        int last = Math.max(first, columnOf(Math.ceil(position(piece.end())) - 1));
        if (first == last && hidden(piece, first)) {
            lasts[first] = piece.valueAt(1);
            return;
        }
        double[] turns = Pieces.turns(piece);
        for (int column = first; column <= last; column++) {
            double from = column == first ? 0 : Pieces.fraction(piece, startOf(column));
            double to = column == last ? 1 : Pieces.fraction(piece, startOf(column + 1));
            add(piece, turns, column, from, to);
        }
    }

    private boolean hidden(Piece piece, int column) {
        return Pieces.isWithin(piece, minima[column], maxima[column]);
    }

    private void add(Piece piece, double[] turns, int column, double from, double to) {
        double first = piece.valueAt(from);
        double last = piece.valueAt(to);
        firsts[column] = Double.isNaN(firsts[column]) ? first : firsts[column];
        lasts[column] = last;
        include(column, first);
        include(column, last);
        for (double turn : turns) {
            if (turn > from && turn < to) {
                include(column, piece.valueAt(turn));
            }
        }
    }

    private void include(int column, double value) {
        minima[column] = Math.min(minima[column], value);
        maxima[column] = Math.max(maxima[column], value);
    }

    /** The position of a time in columns; one that misses a border by rounding alone is put on it. */
    private double position(double time) {
        double position = (time - start) / (end - start) * columns();
        double border = Math.rint(position);
        return Math.abs(position - border) < 1e-9 ? border : position;
    }

    private int columnOf(double position) {
        return (int) Math.max(0, Math.min(columns() - 1, position));
    }

    /**
     * Returns the number of columns.
     *
     * @return the number of columns
     */
    public int columns() {
        return minima.length;
    }

    /**
     * Returns where a column begins.
     *
     * @param column index of the column; the number of columns for the end of the last one
     * @return the time, s
     */
    public double startOf(int column) {
        return column == columns() ? end : start + (end - start) * column / columns();
    }

    /**
     * Returns the lowest value in a column.
     *
     * @param column index of the column
     * @return the lowest value, in the unit of the waveform
     */
    public double minimum(int column) {
        return minima[column];
    }

    /**
     * Returns the highest value in a column.
     *
     * @param column index of the column
     * @return the highest value, in the unit of the waveform
     */
    public double maximum(int column) {
        return maxima[column];
    }

    /**
     * Returns the value at the start of a column (the value after, should the waveform jump there).
     *
     * @param column index of the column
     * @return the first value, in the unit of the waveform
     */
    public double first(int column) {
        return firsts[column];
    }

    /**
     * Returns the value at the end of a column (the value before, should the waveform jump there).
     *
     * @param column index of the column
     * @return the last value, in the unit of the waveform
     */
    public double last(int column) {
        return lasts[column];
    }

    @Override
    public String toString() {
        return columns() + " columns from " + startOf(0) + " s";
    }
}
