package org.voltsecond.waveform;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;
import org.voltsecond.engine.Piece;
import org.voltsecond.units.Unit;

/** What must hold for any piecewise polynomial. */
class WaveformProperties {
    /** Random pieces of random degree with jumps between them; the same lengths for the same seed and count. */
    private static Waveform random(String name, long lengths, long values, int count, int degree) {
        Random time = new Random(lengths);
        Random value = new Random(values);
        List<Piece> pieces = new ArrayList<>();
        double start = 0;
        for (int i = 0; i < count; i++) {
            double[] coefficients = new double[degree + 1];
            for (int k = 0; k <= degree; k++) {
                coefficients[k] = value.nextGaussian() * Math.pow(0.7, k);
            }
            Piece piece = Piece.of(start, 1e-6 * (0.01 + time.nextDouble()), coefficients);
            pieces.add(piece);
            start = piece.end();
        }
        return Waveform.of(name, Unit.VOLT, pieces);
    }

    @Property(tries = 300)
    void measuresAreLinear(
            @ForAll long seed,
            @ForAll @IntRange(min = 1, max = 12) int count,
            @ForAll @IntRange(min = 0, max = 18) int degree,
            @ForAll @DoubleRange(min = -5, max = 5) double factor) {
        Waveform a = random("a", seed, seed, count, degree);
        Waveform b = random("b", seed, ~seed, count, degree);
        Waveform sum = a.plus(b.times(factor));
        double time = a.endTime() * 0.37;
        assertThat(sum.mean()).isCloseTo(a.mean() + factor * b.mean(), within(1e-12));
        assertThat(sum.at(time)).isCloseTo(a.at(time) + factor * b.at(time), within(1e-11));
        assertThat(sum.minus(a).mean()).isCloseTo(factor * b.mean(), within(1e-12));
    }

    @Property(tries = 300)
    void nothingIsBeyondTheExtremesAndTheyAreReached(
            @ForAll long seed,
            @ForAll @IntRange(min = 1, max = 12) int count,
            @ForAll @IntRange(min = 0, max = 18) int degree) {
        Waveform wave = random("w", seed, seed, count, degree);
        for (int k = 0; k <= 500; k++) {
            double time = wave.endTime() * k / 500;
            assertThat(wave.at(time, Side.BEFORE)).isBetween(wave.minimum() - 1e-12, wave.maximum() + 1e-12);
            assertThat(wave.at(time, Side.AFTER)).isBetween(wave.minimum() - 1e-12, wave.maximum() + 1e-12);
        }
        double before = wave.at(wave.timeOfMaximum(), Side.BEFORE);
        double after = wave.at(wave.timeOfMaximum(), Side.AFTER);
        assertThat(Math.max(before, after)).isCloseTo(wave.maximum(), within(1e-9));
    }

    @Property(tries = 300)
    void squareOfRmsIsSquareOfMeanPlusVariance(
            @ForAll long seed,
            @ForAll @IntRange(min = 1, max = 12) int count,
            @ForAll @IntRange(min = 0, max = 18) int degree) {
        Waveform wave = random("w", seed, seed, count, degree);
        double variance = Math.pow(wave.ripple().rms(), 2);
        assertThat(Math.pow(wave.rms(), 2)).isCloseTo(Math.pow(wave.mean(), 2) + variance, within(1e-12));
        assertThat(wave.times(wave, "square", Unit.WATT).mean()).isCloseTo(Math.pow(wave.rms(), 2), within(1e-12));
    }

    @Property(tries = 300)
    void integralsAndExtremesOfPartsAddUp(
            @ForAll long seed,
            @ForAll @IntRange(min = 1, max = 12) int count,
            @ForAll @IntRange(min = 0, max = 18) int degree,
            @ForAll @DoubleRange(min = 0.01, max = 0.99) double cut) {
        Waveform wave = random("w", seed, seed, count, degree);
        double middle = cut * wave.endTime();
        Waveform left = wave.between(0, middle);
        Waveform right = wave.between(middle, wave.endTime());
        assertThat(left.integral() + right.integral()).isCloseTo(wave.integral(), within(1e-17));
        assertThat(Math.max(left.maximum(), right.maximum())).isCloseTo(wave.maximum(), within(1e-10));
        assertThat(Math.min(left.minimum(), right.minimum())).isCloseTo(wave.minimum(), within(1e-10));
        assertThat(left.at(0.5 * middle)).isCloseTo(wave.at(0.5 * middle), within(1e-10));
    }

    @Property(tries = 300)
    void crossingsAlternateAndSeparateTheSides(
            @ForAll long seed,
            @ForAll @IntRange(min = 1, max = 12) int count,
            @ForAll @IntRange(min = 1, max = 18) int degree,
            @ForAll @DoubleRange(min = -1, max = 1) double level) {
        Waveform wave = random("w", seed, seed, count, degree);
        List<Crossing> crossings = wave.crossings(level);
        boolean above = wave.at(1e-6 * wave.endTime()) > level;
        double from = 0;
        for (int k = 0; k <= crossings.size(); k++) {
            double to = k < crossings.size() ? crossings.get(k).time() : wave.endTime();
            if (to - from > 1e-4 * wave.endTime()) {
                assertThat(wave.at(0.5 * (from + to)) > level).isEqualTo(above);
            }
            assertThat(k == crossings.size() || crossings.get(k).rising() != above)
                    .isTrue();
            above = !above;
            from = to;
        }
    }

    @Property(tries = 200)
    void envelopeCoversTheWaveform(
            @ForAll long seed,
            @ForAll @IntRange(min = 1, max = 40) int count,
            @ForAll @IntRange(min = 0, max = 12) int degree,
            @ForAll @IntRange(min = 1, max = 50) int columns) {
        Waveform wave = random("w", seed, seed, count, degree);
        Envelope envelope = wave.envelope(0, wave.endTime(), columns);
        double highest = Double.NEGATIVE_INFINITY;
        for (int column = 0; column < columns; column++) {
            Waveform part = wave.between(envelope.startOf(column), envelope.startOf(column + 1));
            assertThat(envelope.maximum(column)).isCloseTo(part.maximum(), within(1e-6));
            assertThat(envelope.minimum(column)).isCloseTo(part.minimum(), within(1e-6));
            highest = Math.max(highest, envelope.maximum(column));
        }
        assertThat(highest).isCloseTo(wave.maximum(), within(1e-12));
    }
}
