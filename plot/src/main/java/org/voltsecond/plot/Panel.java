package org.voltsecond.plot;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.voltsecond.plot.Limits.Limit;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/**
 * One panel of a stacked picture: one or more waveforms in one unit on one value axis. Immutable.
 *
 * <pre>{@code
 * Panel ripple = Panel.ripple(steady.of(rail.outputVoltage())).titled("output ripple").limit(milli(25), "permitted");
 * Panel currents = Panel.of(steady.of(rail.transistorCurrent()), steady.of(rail.rectifierCurrent())).weighted(2);
 * Picture picture = Pictures.stack().panel(currents).panel(ripple).build();
 * }</pre>
 */
public final class Panel {
    private static final int MEAN_DIGITS = 5;

    private final String heading;
    private final List<Waveform> waveforms;
    private final List<Limit> limits;
    private final double weight;
    private final Set<Integer> hidden;
    private final @Nullable ValueRange range;
    private final List<Shade> shades;

    private Panel(
            String heading,
            List<Waveform> waveforms,
            List<Limit> limits,
            double weight,
            Set<Integer> hidden,
            @Nullable ValueRange range,
            List<Shade> shades) {
        this.heading = heading;
        this.waveforms = waveforms;
        this.limits = limits;
        this.weight = weight;
        this.hidden = hidden;
        this.range = range;
        this.shades = shades;
    }

    /**
     * Returns a panel.
     *
     * @param waveforms at least one waveform, all in one unit
     * @return the panel; its heading names the waveforms
     * @throws IllegalArgumentException if there is no waveform or the units differ
     */
    public static Panel of(Waveform... waveforms) {
        List<Waveform> all = List.of(waveforms);
        if (all.isEmpty()) {
            throw new IllegalArgumentException("a panel needs at least one waveform but got none");
        }
        for (Waveform waveform : all) {
            if (waveform.unit() != all.get(0).unit()) {
                throw new IllegalArgumentException("the waveforms of one panel must have one unit but "
                        + all.get(0).name() + " is in " + all.get(0).unit().symbol() + " and " + waveform.name()
                        + " in "
                        + waveform.unit().symbol() + "; give each unit a panel of its own");
            }
        }
        return new Panel("", all, List.of(), 1, Set.of(), null, List.of());
    }

    /**
     * Returns a panel that shows the ripple of a waveform enlarged: its mean is taken off, and stated.
     *
     * @param waveform the waveform; its mean over all of its time is taken
     * @return the panel
     */
    public static Panel ripple(Waveform waveform) {
        String mean = Quantity.format(waveform.mean(), waveform.unit(), MEAN_DIGITS);
        return of(waveform.ripple().named(waveform.name() + ", ripple about its mean of " + mean));
    }

    /**
     * Returns this panel with a heading of its own before the names of its waveforms.
     *
     * @param newHeading the heading; empty for none
     * @return the panel
     */
    public Panel titled(String newHeading) {
        return new Panel(newHeading, waveforms, limits, weight, hidden, range, shades);
    }

    /**
     * Returns this panel with the waveforms of another in grey beside its own, for comparison.
     *
     * @param before the panel to compare with, in the same unit
     * @return the panel; the names of the waveforms that were added end in {@value TraceStyle#COMPARED}
     * @throws IllegalArgumentException if the units differ
     */
    public Panel compared(Panel before) {
        List<Waveform> both = new ArrayList<>(waveforms);
        before.waveforms.forEach(waveform -> both.add(waveform.named(waveform.name() + TraceStyle.COMPARED)));
        return new Panel(heading, of(both.toArray(Waveform[]::new)).waveforms, limits, weight, hidden, range, shades);
    }

    /**
     * Returns this panel with a marked level.
     *
     * @param value the level, in the unit of the panel
     * @param label what it means; short
     * @return the panel
     * @throws IllegalArgumentException if the level is not finite
     */
    public Panel limit(double value, String label) {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException("limit " + label + ": the level must be finite but was " + value);
        }
        List<Limit> more = new ArrayList<>(limits);
        more.add(new Limit(value, label));
        return new Panel(heading, waveforms, List.copyOf(more), weight, hidden, range, shades);
    }

    /**
     * Returns this panel with another share of the height.
     *
     * @param newWeight height relative to other panels, 0.2 to 5; 1 unless set
     * @return the panel
     * @throws IllegalArgumentException if the weight is out of range
     */
    public Panel weighted(double newWeight) {
        if (!(newWeight >= 0.2 && newWeight <= 5)) {
            throw new IllegalArgumentException("the weight of a panel must be from 0.2 to 5 but was " + newWeight);
        }
        return new Panel(heading, waveforms, limits, newWeight, hidden, range, shades);
    }

    /**
     * Returns this panel with some waveforms left out; the others keep their colour and line style. A panel of which all
     * is left out takes no room.
     *
     * @param positions which waveforms, counted from 0; none to show all
     * @return the panel
     * @throws IndexOutOfBoundsException if there is no waveform at a position
     */
    public Panel hiding(Set<Integer> positions) {
        positions.forEach(position -> Objects.checkIndex(position, waveforms.size()));
        return new Panel(heading, waveforms, limits, weight, Set.copyOf(positions), range, shades);
    }

    /**
     * Returns this panel with a value axis of its own; without it the axis holds all that is shown, limits included.
     *
     * @param low value at the bottom, in the unit of the panel
     * @param high value at the top, in the unit of the panel; more than {@code low}
     * @return the panel
     * @throws IllegalArgumentException if the values are not finite and in ascending order
     */
    public Panel range(double low, double high) {
        if (!(low < high) || !Double.isFinite(low) || !Double.isFinite(high)) {
            throw new IllegalArgumentException(
                    "the value axis of a panel must go from one finite value to a higher one " + "but was to go from "
                            + low + " to " + high + " " + unit().symbol());
        }
        return new Panel(heading, waveforms, limits, weight, hidden, new ValueRange(low, high), shades);
    }

    /**
     * Returns this panel with what lies between two waveforms for a time shaded, such as a charge.
     *
     * @param one one edge, in the unit of the panel
     * @param other the other edge; {@code one.times(0)} for the zero line
     * @param from start, s
     * @param to end, s; after the start
     * @param kind which of two patterns, 0 or 1, so that areas differ without their colour
     * @param label what is written in it, such as its size; short, empty for nothing
     * @return the panel
     * @throws IllegalArgumentException if the end is not after the start, or an edge does not last from the one to the other
     */
    public Panel shaded(Waveform one, Waveform other, double from, double to, int kind, String label) {
        List<Shade> more = new ArrayList<>(shades);
        more.add(new Shade(one.between(from, to), other.between(from, to), kind, label));
        return new Panel(heading, waveforms, limits, weight, hidden, range, List.copyOf(more));
    }

    /**
     * What is shaded.
     *
     * @param one one edge
     * @param other the other, of the same time
     * @param kind which pattern
     * @param label what is written in it
     */
    record Shade(Waveform one, Waveform other, int kind, String label) {
        /** The centroid needs no more for a place that is good to a few pixels. */
        private static final int SAMPLES = 64;

        /** The time on both sides of which lies about as much. */
        double middle() {
            double from = one.startTime();
            double length = one.endTime() - from;
            double area = 0;
            double moment = 0;
            for (int k = 0; k < SAMPLES; k++) {
                double time = from + (k + 0.5) / SAMPLES * length;
                double height = Math.abs(one.at(time) - other.at(time));
                area += height;
                moment += height * time;
            }
            return area > 0 ? moment / area : from + 0.5 * length;
        }
    }

    List<Shade> shades() {
        return shades;
    }

    /**
     * Returns what this panel is about.
     *
     * @return all waveforms, from the first to the last added, those left out included
     */
    public List<Waveform> waveforms() {
        return waveforms;
    }

    String heading() {
        return heading;
    }

    boolean shows(int position) {
        return !hidden.contains(position);
    }

    boolean isEmpty() {
        return hidden.size() == waveforms.size();
    }

    @Nullable
    ValueRange range() {
        return range;
    }

    List<Limit> limits() {
        return limits;
    }

    double weight() {
        return weight;
    }

    /**
     * Returns the unit of the value axis.
     *
     * @return the unit of all waveforms of this panel
     */
    public Unit unit() {
        return waveforms.get(0).unit();
    }

    @Override
    public String toString() {
        return "panel " + (heading.isEmpty() ? "" : heading + ": ")
                + waveforms.stream().map(Waveform::name).collect(Collectors.joining(", ")) + " (" + unit().symbol()
                + ")";
    }
}
