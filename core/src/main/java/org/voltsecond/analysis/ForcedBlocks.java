package org.voltsecond.analysis;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.numeric.Matrices;

/**
 * The passages of a long orbit in blocks, each a power series in the frequency: with {@code z = -j omega H}, H the scale of a level, a
 * block turns the unknowns v at its start into {@code exp(z t) M v + F(z)} and adds {@code R(z) v + S(z)} to the integral of what is
 * read, t its length over H. M and all coefficients are real and are worked out once; then a frequency takes as many blocks as
 * the orbit has times {@code 1 / omega}, in place of all passages. Blocks of the next level are two of the one below. A
 * named numeric kernel.
 *
 * <p>The series are those of integrals of {@code exp(z x)} over parts of a block, so that their terms fall as those of exp(z).
 */
final class ForcedBlocks {
    /** Up to it the terms add up without a loss of digits: they are at most e^2 times as large as what they come to. */
    private static final double LARGEST_ANGLE = 2;
    /** 2^24 / 24! is 2.7e-17. */
    private static final int TERMS = 24;
    /** Fewer passages are gone through as quickly one by one; measured. */
    private static final int FEWEST = 100;
    /** Passages of a block of the first level. */
    private static final int PASSAGES = 4;
    /** What is smaller than this beside the first term of a series is left out. */
    private static final double NOT_SEEN = 1e-18;

    /** Beyond this angle the recursion of the moments, from the highest down, would lose digits. */
    private static final double LARGEST_OF_A_PASSAGE = 4;

    private final int width;
    private final List<Level> levels = new ArrayList<>();

    /** What a passage does to the unknowns, from just before the step into it to just before its end. */
    static final class Way {
        /** Rows of n + 1: the step. */
        final double[] step;
        /** What the sine adds in the step, and what its derivative does, per omega. */
        final double[] direct;

        final double[] quadrature;
        final double duration;
        /** A in scaled coordinates. */
        final double[][] dynamics;
        /** exp(A h). */
        final double[] exponential;
        /** How the sine drives the states, and how its derivative does, per omega. */
        final double[] input;

        final double[] derivativeInput;
        /** Of the series of h exp(A h x); 0 where it is too long. */
        int terms;
        /** Its terms applied to the inputs, n numbers each; empty without input. */
        double[] inputTerms = {};

        double[] derivativeTerms = {};

        Way(int n, double duration, double[][] dynamics, double[] exponential) {
            step = new double[(n + 1) * (n + 1)];
            direct = new double[n + 1];
            quadrature = new double[n + 1];
            input = new double[n];
            derivativeInput = new double[n];
            this.duration = duration;
            this.dynamics = dynamics;
            this.exponential = exponential;
        }

        boolean isSeries(double omega) {
            return terms > 0 && omega * duration <= LARGEST_OF_A_PASSAGE;
        }

        /** Whether the sine does anything to the states. */
        boolean isDriven() {
            return inputTerms.length > 0;
        }
    }

    /** A signal, read in each passage: made once for all frequencies. */
    record Read(double step, double direct, double quadrature, double[] factors, double[] terms) {}

    private record Level(double scale, List<Block> blocks) {}

    /** Rows of coefficients. */
    private static final class Block {
        final double[] map;
        final double[][] forced;
        final double[][] read;
        final double[] sum = new double[TERMS];
        double length;

        Block(int width) {
            map = new double[width * width];
            forced = new double[width][TERMS];
            read = new double[width][TERMS];
            for (int i = 0; i < width; i++) {
                map[i * width + i] = 1;
            }
        }
    }

    private ForcedBlocks(int width) {
        this.width = width;
    }

    /** Null where the passages are few, or one of them is no series. Without reads the sums stay zero. */
    static @Nullable ForcedBlocks of(Way[] ways, @Nullable List<Read> reads) {
        for (Way way : ways) {
            if (way.terms == 0 || ways.length < FEWEST) {
                return null;
            }
        }
        ForcedBlocks all = new ForcedBlocks(ways[0].direct.length);
        double scale = 0;
        for (int from = 0; from < ways.length; from += PASSAGES) {
            double length = 0;
            for (int k = from; k < Math.min(ways.length, from + PASSAGES); k++) {
                length += ways[k].duration;
            }
            scale = Math.max(scale, length);
        }
        List<Block> blocks = new ArrayList<>();
        for (int from = 0; from < ways.length; from += PASSAGES) {
            Block block = new Block(all.width);
            for (int k = from; k < Math.min(ways.length, from + PASSAGES); k++) {
                all.append(block, ways[k], reads == null ? null : reads.get(k), scale);
            }
            blocks.add(block);
        }
        all.levels.add(new Level(scale, blocks));
        while (blocks.size() > 1) {
            List<Block> next = new ArrayList<>();
            for (int k = 0; k < blocks.size(); k += 2) {
                next.add(all.doubled(blocks.get(k), k + 1 < blocks.size() ? blocks.get(k + 1) : null));
            }
            blocks = next;
            scale *= 2;
            all.levels.add(new Level(scale, blocks));
        }
        return all;
    }

    private void append(Block block, Way way, @Nullable Read read, double scale) {
        int n = width - 1;
        double length = way.duration / scale;
        double[] before = exponential(block.length);
        double[] map = Matrices.multiply(way.step, block.map, width);
        double[][] state = new double[width][];
        for (int i = 0; i < width; i++) {
            state[i] = new double[TERMS];
            for (int j = 0; j < width; j++) {
                add(state[i], way.step[i * width + j], block.forced[j]);
            }
            // j omega is -z / H
            state[i][0] += way.direct[i];
            state[i][1] -= way.quadrature[i] / scale;
        }
        double[] turn = exponential(length);
        if (read != null) {
            for (int j = 0; j < width; j++) {
                add(block.read[j], read.step() * map[n * width + j], before);
            }
            add(block.sum, read.step(), state[n]);
            block.sum[0] += read.direct();
            block.sum[1] -= read.quadrature() / scale;
            integrate(block, way, read, scale, turn, before, map, state);
        }
        for (int i = 0; i < width; i++) {
            double[] flown = new double[TERMS];
            for (int j = 0; j < width; j++) {
                double factor = i == n || j == n ? (i == j ? 1 : 0) : way.exponential[i * n + j];
                add(flown, factor, state[j]);
            }
            Arrays.fill(block.forced[i], 0);
            addProduct(block.forced[i], turn, flown);
            for (int j = 0; j < width; j++) {
                double entry = i == n ? map[n * width + j] : 0;
                for (int m = 0; m < n && i < n; m++) {
                    entry += way.exponential[i * n + m] * map[m * width + j];
                }
                block.map[i * width + j] = entry;
            }
        }
        for (int m = 0; m < way.terms && way.isDriven(); m++) {
            for (int k = 0; k < TERMS && turn[k] != 0; k++) {
                double moment = turn[k] / (m + k + 1);
                for (int i = 0; i < n; i++) {
                    block.forced[i][k] += moment * way.inputTerms[m * n + i];
                    if (k + 1 < TERMS) {
                        block.forced[i][k + 1] -= moment / scale * way.derivativeTerms[m * n + i];
                    }
                }
            }
        }
        block.length += length;
    }

    /** What is read in a passage: of the unknowns and what has been forced before, and of what the sine adds meanwhile. */
    private void integrate(
            Block block,
            Way way,
            Read read,
            double scale,
            double[] turn,
            double[] before,
            double[] map,
            double[][] state) {
        int n = width - 1;
        double[][] rows = new double[n][TERMS];
        for (int m = 0; m < way.terms; m++) {
            double direct = 0;
            double quadrature = 0;
            for (int i = 0; i < n; i++) {
                double term = read.terms()[m * n + i];
                direct += term * way.input[i] * way.duration;
                quadrature += term * way.derivativeInput[i] * way.duration / scale;
                for (int k = 0; k < TERMS && turn[k] != 0; k++) {
                    rows[i][k] += term * turn[k] / (m + k + 1);
                }
            }
            for (int k = 0; k < TERMS && turn[k] != 0; k++) {
                double rest = turn[k] / ((m + k + 1.0) * (m + k + 2.0));
                block.sum[k] += rest * direct;
                if (k + 1 < TERMS) {
                    block.sum[k + 1] -= rest * quadrature;
                }
            }
        }
        for (int i = 0; i < n; i++) {
            addProduct(block.sum, rows[i], state[i]);
        }
        for (int j = 0; j < width; j++) {
            double[] row = new double[TERMS];
            for (int i = 0; i < n; i++) {
                add(row, map[i * width + j], rows[i]);
            }
            addProduct(block.read[j], row, before);
        }
    }

    /** Two blocks, or one, on twice the scale. */
    private Block doubled(Block first, @Nullable Block second) {
        Block both = new Block(width);
        both.length = (first.length + (second == null ? 0 : second.length)) / 2;
        double[] map = second == null ? first.map : Matrices.multiply(second.map, first.map, width);
        System.arraycopy(map, 0, both.map, 0, map.length);
        add(both.sum, 1, first.sum);
        double[] before = exponential(first.length);
        double[] turn = second == null ? new double[TERMS] : exponential(second.length);
        for (int i = 0; i < width; i++) {
            add(both.read[i], 1, first.read[i]);
            if (second == null) {
                add(both.forced[i], 1, first.forced[i]);
                continue;
            }
            double[] row = new double[TERMS];
            double[] column = new double[TERMS];
            for (int j = 0; j < width; j++) {
                add(row, first.map[j * width + i], second.read[j]);
                add(column, second.map[i * width + j], first.forced[j]);
            }
            addProduct(both.read[i], before, row);
            addProduct(both.forced[i], turn, column);
            add(both.forced[i], 1, second.forced[i]);
            addProduct(both.sum, second.read[i], first.forced[i]);
        }
        if (second != null) {
            add(both.sum, 1, second.sum);
        }
        for (int k = 0; k < TERMS; k++) {
            both.sum[k] = Math.scalb(both.sum[k], -k);
            for (int i = 0; i < width; i++) {
                both.read[i][k] = Math.scalb(both.read[i][k], -k);
                both.forced[i][k] = Math.scalb(both.forced[i][k], -k);
            }
        }
        return both;
    }

    private static double[] exponential(double length) {
        double[] terms = new double[TERMS];
        terms[0] = 1;
        for (int k = 1; k < TERMS && terms[k - 1] > NOT_SEEN; k++) {
            terms[k] = terms[k - 1] * length / k;
        }
        return terms;
    }

    private static void add(double[] into, double factor, double[] series) {
        for (int k = 0; k < TERMS && factor != 0; k++) {
            into[k] += factor * series[k];
        }
    }

    /** The last terms of both factors, often zero, cost nothing. */
    private static void addProduct(double[] into, double[] one, double[] other) {
        int count = TERMS;
        while (count > 0 && other[count - 1] == 0) {
            count--;
        }
        for (int k = 0; k < TERMS; k++) {
            double factor = one[k];
            int end = Math.min(TERMS, k + count);
            for (int i = k; i < end && factor != 0; i++) {
                into[i] += factor * other[i - k];
            }
        }
    }

    /** Whether the series hold at a frequency, 1/s. */
    boolean reach(double omega) {
        return omega * levels.get(0).scale <= LARGEST_ANGLE;
    }

    /** Leads the unknowns around; adds what is read, real and imaginary part, to a sum if there is one. */
    void run(double omega, double[] re, double[] im, double @Nullable [] sum) {
        int at = 0;
        while (at + 1 < levels.size() && omega * levels.get(at + 1).scale <= LARGEST_ANGLE) {
            at++;
        }
        Level level = levels.get(at);
        // real powers of z are those of even exponents, with the sign of (-j)^k
        double[] powers = new double[TERMS];
        double power = 1;
        for (int k = 0; k < TERMS; k++) {
            powers[k] = (k & 3) == 0 || (k & 3) == 3 ? power : -power;
            power *= omega * level.scale;
        }
        double[] nextRe = new double[width];
        double[] nextIm = new double[width];
        for (Block block : level.blocks) {
            double c = Math.cos(omega * level.scale * block.length);
            double s = Math.sin(omega * level.scale * block.length);
            if (sum != null) {
                addRead(block, powers, re, im, sum);
            }
            for (int i = 0; i < width; i++) {
                double a = 0;
                double b = 0;
                for (int j = 0; j < width; j++) {
                    a += block.map[i * width + j] * re[j];
                    b += block.map[i * width + j] * im[j];
                }
                nextRe[i] = c * a + s * b + value(block.forced[i], powers, 0);
                nextIm[i] = c * b - s * a + value(block.forced[i], powers, 1);
            }
            System.arraycopy(nextRe, 0, re, 0, width);
            System.arraycopy(nextIm, 0, im, 0, width);
        }
    }

    private void addRead(Block block, double[] powers, double[] re, double[] im, double[] sum) {
        sum[0] += value(block.sum, powers, 0);
        sum[1] += value(block.sum, powers, 1);
        for (int i = 0; i < width; i++) {
            double rowRe = value(block.read[i], powers, 0);
            double rowIm = value(block.read[i], powers, 1);
            sum[0] += rowRe * re[i] - rowIm * im[i];
            sum[1] += rowRe * im[i] + rowIm * re[i];
        }
    }

    /** The terms of even or odd powers. */
    private static double value(double[] series, double[] powers, int first) {
        double value = 0;
        for (int k = first; k < TERMS; k += 2) {
            value += series[k] * powers[k];
        }
        return value;
    }
}
