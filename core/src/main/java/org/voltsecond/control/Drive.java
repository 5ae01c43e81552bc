package org.voltsecond.control;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.NavigableSet;
import java.util.Objects;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * What drives the gate of one switch in an open loop: when it is on within each switching period. In a closed loop a
 * {@link Regulator} takes its place. Times count in fractions
 * of the period. Immutable and safe to use from any thread.
 *
 * <p>Numbers that make no sense are reported by the last step of whoever builds a driven circuit, together with all other
 * faults; see {@link #faults()}.
 *
 * <pre>{@code
 * Drive gate = Drive.fixedDuty(0.45, kilo(300));
 * double onTime = gate.dutyCycle() * gate.period(); // 1.5 µs
 * Drive rectifying = gate.complement(); // for a second transistor in place of the diode
 * Drive interleaved = gate.delayedBy(0.5); // for a second phase
 * }</pre>
 */
public final class Drive {
    private final double switchingFrequency;
    private final List<OnWindow> windows;
    private final List<String> faults;
    /** Where in the period its pulse begins if it has one, also where it is never or always on; not a number of several pulses. */
    private final double begin;
    /** The drive whose off-time this one fills; null of one that has a pulse of its own. */
    private final @Nullable Filled master;

    /**
     * A time within the period during which the switch is on.
     *
     * @param start fraction of the period; from 0
     * @param end fraction of the period; after the start, up to 1
     */
    public record OnWindow(double start, double end) {}

    /**
     * What a complement fills.
     *
     * @param drive whose off-time it fills
     * @param deadTime what it leaves of that at either end, as a fraction of the period
     */
    private record Filled(Drive drive, double deadTime) {
        Drive with(UnaryOperator<Drive> change) {
            return change.apply(drive).complement(deadTime);
        }
    }

    private Drive(
            double switchingFrequency,
            List<OnWindow> windows,
            List<String> faults,
            double begin,
            @Nullable Filled master) {
        this.switchingFrequency = switchingFrequency;
        this.windows = windows;
        this.faults = faults;
        this.begin = begin;
        this.master = master;
    }

    /**
     * Returns a drive that turns the switch on at the clock edge and off again after a fixed fraction of the period.
     *
     * @param dutyCycle fraction of the period, 0 to 1: at 0 the switch never closes, at 1 it never opens
     * @param switchingFrequency Hz; more than 0
     * @return the drive
     */
    public static Drive fixedDuty(double dutyCycle, double switchingFrequency) {
        List<String> faults = new ArrayList<>();
        if (!(dutyCycle >= 0 && dutyCycle <= 1)) {
            faults.add("the duty cycle must be from 0 to 1 but was " + dutyCycle);
        }
        List<OnWindow> windows = dutyCycle > 0 ? List.of(new OnWindow(0, dutyCycle)) : List.of();
        return of(switchingFrequency, windows, faults);
    }

    /**
     * Returns a drive with any on-times.
     *
     * @param switchingFrequency Hz; more than 0
     * @param windows when the switch is on; they must not overlap
     * @return the drive
     */
    public static Drive on(double switchingFrequency, OnWindow... windows) {
        List<OnWindow> sorted = new ArrayList<>(List.of(windows));
        sorted.sort(Comparator.comparingDouble(OnWindow::start));
        List<String> faults = new ArrayList<>();
        double last = 0;
        for (OnWindow window : sorted) {
            if (!(window.start() >= last && window.start() < window.end() && window.end() <= 1)) {
                faults.add("an on-window must lie within 0 to 1, end after it starts and not overlap another but was "
                        + window.start() + " to " + window.end() + (last > 0 ? " after one that ends at " + last : ""));
            }
            last = window.end();
        }
        return of(switchingFrequency, sorted, faults);
    }

    private static Drive of(double switchingFrequency, List<OnWindow> windows, List<String> faults) {
        if (!(switchingFrequency > 0 && 1 / switchingFrequency > 0 && switchingFrequency < Double.POSITIVE_INFINITY)) {
            faults.add("the switching frequency must be > 0 Hz and finite but was " + switchingFrequency + " Hz");
        }
        List<OnWindow> valid = faults.isEmpty() ? joined(windows) : List.of();
        double begin = valid.isEmpty()
                ? 0
                : valid.size() > 1 ? Double.NaN : valid.get(0).start();
        return new Drive(switchingFrequency, valid, List.copyOf(faults), begin, null);
    }

    private static List<OnWindow> joined(List<OnWindow> sorted) {
        List<OnWindow> result = new ArrayList<>();
        for (OnWindow window : sorted) {
            OnWindow last = result.isEmpty() ? null : result.get(result.size() - 1);
            if (last != null && last.end() == window.start()) {
                result.set(result.size() - 1, new OnWindow(last.start(), window.end()));
            } else {
                result.add(window);
            }
        }
        return List.copyOf(result);
    }

    /**
     * Returns the drive that is on whenever this one is off, as for a synchronous rectifier. Both change at exactly the
     * same instants, and go on doing so where the duty cycle changes.
     *
     * @return the complement
     */
    public Drive complement() {
        return complement(0);
    }

    /**
     * Returns the drive that is on while this one is off, but for a dead time before and after.
     *
     * @param deadTime fraction of the period by which it closes after this one opens, and opens before this one closes; 0 or
     *     more; of an off-time of no more than two of them nothing is left
     * @return the complement
     */
    public Drive complement(double deadTime) {
        if (!(deadTime >= 0 && deadTime < 1)) {
            List<String> more = new ArrayList<>(faults);
            more.add("a dead time must be from 0 up to, but not including, 1 period but was " + deadTime);
            return new Drive(switchingFrequency, windows, List.copyOf(more), begin, new Filled(this, 0));
        }
        List<OnWindow> result = new ArrayList<>();
        for (OnWindow gap : gaps()) {
            double start = gap.start() + (isOnBefore(gap.start()) ? deadTime : 0);
            double end = gap.end() - (isOnAt(gap.end() % 1) ? deadTime : 0);
            if (start < end) {
                result.add(new OnWindow(start, end));
            }
        }
        return new Drive(switchingFrequency, List.copyOf(result), faults, begin, new Filled(this, deadTime));
    }

    private List<OnWindow> gaps() {
        List<OnWindow> result = new ArrayList<>();
        double last = 0;
        for (OnWindow window : windows) {
            if (window.start() > last) {
                result.add(new OnWindow(last, window.start()));
            }
            last = window.end();
        }
        if (last < 1) {
            result.add(new OnWindow(last, 1));
        }
        return result;
    }

    /**
     * Returns this drive, later by a fraction of the period, as for the phases of an interleaved stage.
     *
     * @param fraction fraction of the period, from 0 up to, but not including, 1
     * @return the delayed drive
     */
    public Drive delayedBy(double fraction) {
        if (!(fraction >= 0 && fraction < 1)) {
            List<String> more = new ArrayList<>(faults);
            more.add("a delay must be from 0 up to, but not including, 1 period but was " + fraction);
            return new Drive(switchingFrequency, windows, List.copyOf(more), begin, master);
        }
        List<OnWindow> result = new ArrayList<>();
        for (OnWindow window : windows) {
            double start = window.start() + fraction;
            double end = window.end() + fraction;
            if (start < 1) {
                result.add(new OnWindow(start, Math.min(1, end)));
            }
            if (end > 1) {
                result.add(new OnWindow(Math.max(0, start - 1), end - 1));
            }
        }
        result.sort(Comparator.comparingDouble(OnWindow::start));
        return new Drive(
                switchingFrequency,
                joined(result),
                faults,
                (begin + fraction) % 1,
                master == null ? null : new Filled(master.drive().delayedBy(fraction), master.deadTime()));
    }

    /**
     * Returns this drive with another duty cycle: its pulse begins at the same place of the period, so that a delay stays. A
     * complement follows: the duty cycle is that of the drive whose off-time it fills, and its dead time stays.
     *
     * @param dutyCycle fraction of the period, 0 to 1
     * @return the drive
     * @throws IllegalStateException if the switch is on more than once in a period
     */
    public Drive withDutyCycle(double dutyCycle) {
        if (master != null) {
            return master.with(drive -> drive.withDutyCycle(dutyCycle));
        }
        if (Double.isNaN(begin)) {
            throw new IllegalStateException("a drive that is " + this
                    + " has no one pulse whose duty cycle could be changed; give the pulses with Drive.on(...)");
        }
        return fixedDuty(dutyCycle, switchingFrequency).delayedBy(begin);
    }

    /**
     * Returns this drive with another switching frequency: its edges keep their fractions of the period.
     *
     * @param frequency Hz; more than 0
     * @return the drive
     */
    public Drive withSwitchingFrequency(double frequency) {
        Drive other = of(frequency, windows, new ArrayList<>(faults));
        return new Drive(
                frequency,
                other.windows,
                other.faults,
                begin,
                master == null
                        ? null
                        : new Filled(master.drive().withSwitchingFrequency(frequency), master.deadTime()));
    }

    /** This drive over several of its periods, which are one of the result. */
    Drive repeated(int times) {
        if (times == 1) {
            return this;
        }
        List<OnWindow> all = new ArrayList<>();
        for (int k = 0; k < times; k++) {
            for (OnWindow window : windows) {
                all.add(new OnWindow((k + window.start()) / times, (k + window.end()) / times));
            }
        }
        Filled repeated = master == null ? null : new Filled(master.drive().repeated(times), master.deadTime() / times);
        return new Drive(switchingFrequency / times, joined(all), faults, Double.NaN, repeated);
    }

    /** This drive with its edges moved, each onto the first of some instants that is as good as the same. */
    Drive onto(NavigableSet<Double> instants, double same) {
        List<OnWindow> moved = new ArrayList<>();
        for (OnWindow window : windows) {
            double start = Objects.requireNonNull(instants.ceiling(window.start() - same));
            double end = Objects.requireNonNull(instants.ceiling(window.end() - same));
            if (start < end) {
                moved.add(new OnWindow(start, end));
            }
        }
        Filled filled = master == null ? null : new Filled(master.drive().onto(instants, same), master.deadTime());
        return new Drive(switchingFrequency, List.copyOf(moved), faults, begin, filled);
    }

    /** {@return whether this is the complement of another drive, which it follows} */
    public boolean isComplement() {
        return master != null;
    }

    /** {@return the drive whose off-time this one fills; this one where it fills none} */
    public Drive pulse() {
        return master == null ? this : master.drive();
    }

    /**
     * Returns how often the period repeats.
     *
     * @return the switching frequency, Hz
     */
    public double switchingFrequency() {
        return switchingFrequency;
    }

    /**
     * Returns the switching period.
     *
     * @return the period, s
     */
    public double period() {
        return 1 / switchingFrequency;
    }

    /**
     * Returns when the switch is on.
     *
     * @return the windows in ascending order, none of them adjacent
     */
    public List<OnWindow> windows() {
        return windows;
    }

    /**
     * Returns the fraction of the period for which the switch is on.
     *
     * @return the duty cycle, 0 to 1
     */
    public double dutyCycle() {
        double sum = 0;
        for (OnWindow window : windows) {
            sum += window.end() - window.start();
        }
        return sum;
    }

    boolean isOnAt(double fraction) {
        for (OnWindow window : windows) {
            if (window.start() <= fraction && fraction < window.end()) {
                return true;
            }
        }
        return false;
    }

    /** Whether the switch is on in the last moment before a time. */
    boolean isOnBefore(double fraction) {
        double at = fraction == 0 ? 1 : fraction;
        for (OnWindow window : windows) {
            if (window.start() < at && at <= window.end()) {
                return true;
            }
        }
        return false;
    }

    /** Whether this is the complement of a drive with the windows of another one. */
    boolean isComplementOf(Drive other) {
        return master != null && master.drive().windows.equals(other.windows);
    }

    /**
     * Whether an edge at this time of the period moves with the duty cycle: where a pulse begins it stays, where it ends it
     * moves; of a complement the beginning moves, since that is where the other pulse ends.
     */
    boolean movesAt(double fraction) {
        boolean turnsOn = isOnAt(fraction) && !isOnBefore(fraction);
        boolean turnsOff = !isOnAt(fraction) && isOnBefore(fraction);
        return master == null ? turnsOff : turnsOn;
    }

    /**
     * Returns what is wrong with the numbers that this drive was made of.
     *
     * @return one line for each fault; empty if all is well
     */
    public List<String> faults() {
        return faults;
    }

    @Override
    public boolean equals(Object other) {
        return other instanceof Drive drive
                && drive.switchingFrequency == switchingFrequency
                && drive.windows.equals(windows)
                && drive.faults.equals(faults);
    }

    @Override
    public int hashCode() {
        return Double.hashCode(switchingFrequency) + 31 * windows.hashCode();
    }

    @Override
    public String toString() {
        String on = windows.stream()
                .map(window -> "from " + window.start() + " to " + window.end())
                .collect(Collectors.joining(" and "));
        boolean plain = windows.size() == 1 && windows.get(0).start() == 0;
        return (plain ? "duty cycle " + windows.get(0).end() : windows.isEmpty() ? "never on" : "on " + on) + " at "
                + Quantity.format(switchingFrequency, Unit.HERTZ);
    }
}
