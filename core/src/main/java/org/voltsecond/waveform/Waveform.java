package org.voltsecond.waveform;

import java.util.List;
import java.util.OptionalDouble;
import org.voltsecond.engine.Piece;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * A quantity over time: polynomials without gaps, which may jump from one interval of a trajectory to the next.
 *
 * <p>Nothing is sampled. Extremes come from the roots of the derivative and from both sides of every jump; mean and RMS
 * are integrals of the polynomials, which are worked out anew when they are asked for, so that a waveform over tens of
 * thousands of intervals costs no memory; one measure is one walk over them, and is kept.
 *
 * <p><b>Accuracy</b>: that of the trajectory, and rounding (about 1e-15 of the largest value) on top.
 *
 * <p>Immutable and safe to use from any thread.
 *
 * <pre>{@code
 * Waveform current = steady.of(rail.inductorCurrent());
 * double ripple = current.peakToPeak(); // 0.4606 A
 * double heating = current.rms(); // 2.014 A
 * Waveform power = steady.of(rail.switchNode()).times(current); // W, at every instant
 * }</pre>
 */
public final class Waveform {
    private final String name;
    private final Unit unit;
    private final Timeline timeline;
    private final Curve curve;
    private final Measures measures;

    private Waveform(String name, Unit unit, Timeline timeline, Curve curve, Measures measures) {
        this.name = name;
        this.unit = unit;
        this.timeline = timeline;
        this.curve = curve;
        this.measures = measures;
    }

    Waveform(String name, Unit unit, Timeline timeline, Curve curve) {
        this(name, unit, timeline, curve, new Measures(timeline, curve));
    }

    /**
     * Returns the waveform of a signal in a run.
     *
     * @param trajectory the run
     * @param signal what to look at
     * @return the waveform, from the start to the end of the run
     * @throws IllegalArgumentException if the run has no duration or the signal belongs to another system
     */
    public static Waveform of(Trajectory trajectory, Signal signal) {
        return of(trajectory, Timeline.of(RunReading.of(trajectory)), signal);
    }

    /** Several waveforms of a trajectory need its time line once. */
    static Waveform of(Trajectory trajectory, Timeline timeline, Signal signal) {
        Curve curve = SignalCurve.of(trajectory, timeline, signal);
        return new Waveform(signal.name(), signal.unit(), timeline, curve, Measures.ofSignal(timeline, curve));
    }

    /**
     * Returns a waveform given by its polynomials.
     *
     * @param name what it is
     * @param unit the unit of the values
     * @param pieces at least one piece; each longer than 0 s and beginning where the one before ends; copied
     * @return the waveform; it may jump between any two pieces
     * @throws IllegalArgumentException if there is no piece, or a gap or overlap between two
     */
    public static Waveform of(String name, Unit unit, List<Piece> pieces) {
        List<Piece> own = List.copyOf(pieces);
        return new Waveform(name, unit, Timeline.of(name, own), span -> List.of(own.get(span)));
    }

    /**
     * Makes a waveform of very many pieces without a jump, such as the samples of a capture.
     *
     * @param name what it is
     * @param unit the unit of the values
     * @param pieces at least one piece; each longer than 0 s, beginning where and with the value with which the one before ends
     * @return the waveform, one interval for all of them
     */
    public static Waveform unbroken(String name, Unit unit, List<Piece> pieces) {
        List<Piece> own = List.copyOf(pieces);
        Piece first = own.get(0);
        Piece whole = Piece.of(first.start(), own.get(own.size() - 1).end() - first.start(), new double[1]);
        return new Waveform(name, unit, Timeline.of(name, List.of(whole)), span -> own);
    }

    /** {@return the name, as a reader of a figure should see it} */
    public String name() {
        return name;
    }

    /** {@return the unit of the values} */
    public Unit unit() {
        return unit;
    }

    /**
     * Returns the numbers of this waveform as those of another quantity, for example a command given in volts at 1 V/A as the
     * current that it asks for.
     *
     * @param newName its name
     * @param newUnit its unit
     * @return the waveform
     */
    public Waveform as(String newName, Unit newUnit) {
        return new Waveform(newName, newUnit, timeline, curve, measures);
    }

    /**
     * {@return this waveform under another name}
     *
     * @param newName the name
     */
    public Waveform named(String newName) {
        return as(newName, unit);
    }

    /** {@return when the waveform begins, s} */
    public double startTime() {
        return timeline.start();
    }

    /** {@return when the waveform ends, s} */
    public double endTime() {
        return timeline.end();
    }

    /** {@return the number of intervals between two switching instants, at least 1} */
    public int intervalCount() {
        return timeline.size();
    }

    /** {@return where the intervals begin and end, s, in ascending order} */
    public double[] switchingTimes() {
        return timeline.bounds();
    }

    Timeline timeline() {
        return timeline;
    }

    Curve curve() {
        return curve;
    }

    /**
     * Returns the value at an instant; where the waveform jumps, the value just after. At the end it is the value before.
     *
     * @param time the instant, s, from {@link #startTime()} to {@link #endTime()}
     * @return the value
     * @throws IllegalArgumentException if the time is outside
     */
    public double at(double time) {
        return at(time, Side.AFTER);
    }

    /**
     * Returns the value just before or just after an instant. A time within rounding of a switching instant is taken to
     * be that instant. At the start and the end both sides give the one value that exists.
     *
     * @param time the instant, s, from {@link #startTime()} to {@link #endTime()}
     * @param side which value is meant where the waveform jumps
     * @return the value
     * @throws IllegalArgumentException if the time is outside
     */
    public double at(double time, Side side) {
        return SpanReader.at(this, timeline.require(time, name), side);
    }

    /**
     * Returns the values at instants of your own, each the same as {@link #at(double)} gives, in one walk over the waveform.
     *
     * <pre>{@code
     * double[] microseconds = new double[2000];
     * Arrays.setAll(microseconds, i -> micro(i));
     * double[] volts = start.of(rail.outputVoltage()).at(microseconds); // one for each instant
     * }</pre>
     *
     * @param times the instants, s, in any order, each from {@link #startTime()} to {@link #endTime()}
     * @return one value for each instant, in the same order
     * @throws IllegalArgumentException if a time is outside
     */
    public double[] at(double[] times) {
        timeline.requireAll(times, name);
        return SpanReader.at(this, times);
    }

    /** {@return all jumps in order of time; a step below 1e-9 of the values on both sides is rounding and no jump} */
    public List<Edge> edges() {
        return Edges.of(this);
    }

    /**
     * Returns when the waveform passes through a level. Where it only touches the level it does not; where it rests on it for
     * a while, it passes when it leaves.
     *
     * @param level the level, in the unit of the waveform
     * @return the crossings in order of time
     */
    public List<Crossing> crossings(double level) {
        return CrossingSearch.in(timeline, curve, level);
    }

    /** {@return the lowest value, jumps seen from both sides} */
    public double minimum() {
        return measures.extremes().minimum();
    }

    /** {@return the highest value, jumps seen from both sides} */
    public double maximum() {
        return measures.extremes().maximum();
    }

    /** {@return the first instant at which the minimum is reached, s} */
    public double timeOfMinimum() {
        return timeline.snap(measures.extremes().timeOfMinimum());
    }

    /** {@return the first instant at which the maximum is reached, s} */
    public double timeOfMaximum() {
        return timeline.snap(measures.extremes().timeOfMaximum());
    }

    /** {@return the distance from minimum to maximum (of an output voltage in steady state: its ripple), not negative} */
    public double peakToPeak() {
        return maximum() - minimum();
    }

    /** {@return the integral over time, in the unit of the waveform times seconds: V s, C, or of a power J} */
    public double integral() {
        return measures.integral();
    }

    /** {@return the mean over time} */
    public double mean() {
        return measures.mean();
    }

    /** {@return the root of the mean square over time, not negative} */
    public double rms() {
        return Math.sqrt(Math.max(0, measures.integralOfSquare()) / measures.duration());
    }

    /** {@return the root of the mean square of what departs from the mean, at most half of what it spans (Popoviciu)} */
    public double acRms() {
        double rms = Math.sqrt(Math.max(0, measures.integralOfSquaredRipple()) / measures.duration());
        return Math.min(rms, peakToPeak() / 2);
    }

    /**
     * Returns how long it takes from the start of the waveform until it stays within a band around a target.
     *
     * @param target the middle of the band, in the unit of the waveform
     * @param band half the width of the band, more than 0; for a waveform with ripple more than half the ripple
     * @return the time, s; 0 if it is never outside, empty if it ends outside
     * @throws IllegalArgumentException if the band is not wider than 0
     */
    public OptionalDouble settlingTime(double target, double band) {
        return new Settling(this, target, band).time(timeline, curve, measures);
    }

    /**
     * {@return how far the waveform goes below a target; 0 if it does not}
     *
     * @param target the target, in the unit of the waveform
     */
    public double droopBelow(double target) {
        return Math.max(0, target - minimum());
    }

    /**
     * {@return how far the waveform goes above a target; 0 if it does not}
     *
     * @param target the target, in the unit of the waveform
     */
    public double overshootAbove(double target) {
        return Math.max(0, maximum() - target);
    }

    /**
     * Returns the Fourier coefficients, with the duration of this waveform as the period.
     *
     * @param harmonics the highest harmonic, at least 1
     * @return the spectrum
     * @throws IllegalArgumentException if no harmonic is asked for
     */
    public Spectrum spectrum(int harmonics) {
        return Spectrum.of(timeline, curve, measures.duration(), harmonics);
    }

    /**
     * Returns the part between two instants, cut exactly. A time within rounding of a switching instant is taken to be
     * that instant.
     *
     * @param from start of the part, s, not before {@link #startTime()}
     * @param to end of the part, s, after {@code from} and not after {@link #endTime()}
     * @return the part
     * @throws IllegalArgumentException if the times are outside or not in ascending order
     */
    public Waveform between(double from, double to) {
        Timeline window = timeline.cut(from, to, name);
        int first = timeline.span(window.start(), Side.AFTER);
        Curve part = curve.cut(first, window);
        return new Waveform(name, unit, window, part, measures.part(window, part, first));
    }

    /**
     * Returns the lowest, highest, first and last value in columns of equal width, as a picture needs them.
     *
     * @param from start of the first column, s, not before {@link #startTime()}
     * @param to end of the last column, s, after {@code from} and not after {@link #endTime()}
     * @param columns number of columns, at least 1
     * @return the envelope
     * @throws IllegalArgumentException if a value is out of range
     */
    public Envelope envelope(double from, double to, int columns) {
        Waveform part = between(from, to);
        return Envelope.of(part.timeline, part.curve, columns);
    }

    /**
     * Returns into how many columns a time can be divided without one that is shorter than a switching cycle. In such a
     * column would be a part of a cycle, in each another one, and a waveform that repeats itself would seem to swing.
     *
     * @param from start of the first column, s, not before {@link #startTime()}
     * @param to end of the last column, s, after {@code from} and not after {@link #endTime()}
     * @param most number of columns at most, at least 1
     * @return the number for {@link #envelope}; {@code most} where there are so few cycles (less than a hundred) that each is
     *     seen on its own, and of a waveform that was not simulated
     * @throws IllegalArgumentException if a value is out of range
     */
    public int columnsOfCycles(double from, double to, int most) {
        return between(from, to).timeline.columnsOfCycles(most);
    }

    /**
     * {@return this waveform several times in a row, as a periodic one goes on}
     *
     * @param times how many times, at least 1
     * @throws IllegalArgumentException if the number is less than 1
     */
    public Waveform repeated(int times) {
        return new Waveform(name, unit, timeline.repeat(times, name), curve.repeat(timeline));
    }

    /**
     * {@return this waveform later by some time, for instance to lay it over another one}
     *
     * @param by how much later, s; negative for earlier
     */
    public Waveform delayed(double by) {
        return new Waveform(name, unit, timeline.delayed(by), span -> Pieces.shift(curve.pieces(span), by));
    }

    /**
     * {@return the sum of two waveforms, named after both}
     *
     * @param other a waveform in the same unit over the same time of the same trajectory
     * @throws IllegalArgumentException if the two do not belong together
     */
    public Waveform plus(Waveform other) {
        return combined(name + " + " + other.name, 1, other);
    }

    /**
     * {@return this waveform minus the other, named after both}
     *
     * @param other a waveform in the same unit over the same time of the same trajectory
     * @throws IllegalArgumentException if the two do not belong together
     */
    public Waveform minus(Waveform other) {
        return combined(name + " - " + other.name, -1, other);
    }

    /**
     * {@return this waveform moved up by a constant, under the same name}
     *
     * @param constant what to add, in the unit of the waveform
     */
    public Waveform plus(double constant) {
        return new Waveform(name, unit, timeline, curve.map(piece -> Pieces.plusConstant(piece, constant)));
    }

    /** {@return this waveform less its mean: the ripple, under the same name} */
    public Waveform ripple() {
        return plus(-mean());
    }

    /**
     * {@return this waveform multiplied by a number, under the same name}
     *
     * @param factor the number
     */
    public Waveform times(double factor) {
        return new Waveform(name, unit, timeline, curve.map(piece -> Pieces.scale(piece, factor)));
    }

    /**
     * Returns the product of a voltage and a current at every instant: the power.
     *
     * @param other a current if this is a voltage, a voltage if this is a current, over the same time of the same
     *     trajectory
     * @return the power in W, named after both
     * @throws IllegalArgumentException if the two are not a voltage and a current or do not belong together
     */
    public Waveform times(Waveform other) {
        Unit factor = unit == Unit.VOLT ? Unit.AMPERE : Unit.VOLT;
        if ((unit != Unit.VOLT && unit != Unit.AMPERE) || other.unit != factor) {
            throw new IllegalArgumentException("waveforms " + this + " and " + other
                    + ": only a voltage and a current make a power in W; for another product give its name and unit");
        }
        return times(other, name + " x " + other.name, Unit.WATT);
    }

    /**
     * Returns the product of two waveforms at every instant.
     *
     * @param other a waveform over the same time of the same trajectory
     * @param productName the name of the product
     * @param productUnit the unit of the product
     * @return the product
     * @throws IllegalArgumentException if the two do not belong together
     */
    public Waveform times(Waveform other, String productName, Unit productUnit) {
        requireSameTime(other);
        return new Waveform(productName, productUnit, timeline, curve.zip(other.curve, Piece::times));
    }

    private Waveform combined(String newName, double factor, Waveform other) {
        requireSameTime(other);
        if (!unit.equals(other.unit)) {
            throw new IllegalArgumentException("waveforms " + name + " and " + other.name
                    + " can only be added in the same unit but have " + unit.symbol() + " and " + other.unit.symbol());
        }
        return new Waveform(newName, unit, timeline, curve.zip(other.curve, (a, b) -> a.plus(factor, b)));
    }

    void requireSameTime(Waveform other) {
        timeline.requireMatch(other.timeline, name, other.name);
    }

    @Override
    public String toString() {
        return name + " (" + unit.symbol() + ") from " + Quantity.brief(startTime(), Unit.SECOND) + " to "
                + Quantity.brief(endTime(), Unit.SECOND);
    }
}
