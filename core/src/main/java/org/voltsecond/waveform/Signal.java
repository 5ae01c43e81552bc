package org.voltsecond.waveform;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Objects;
import java.util.function.IntFunction;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.Configuration;
import org.voltsecond.units.Unit;

/**
 * What to look at: a linear combination of the channels of a system, with a name and a unit.
 *
 * <p>A signal knows no trajectory; the same signal can be looked at in every run of the same system. In a run of another
 * circuit it is found by its node or part, so that a stage with a part more is read right, and what has no such part refuses it.
 * Immutable and safe to use from any thread.
 *
 * <pre>{@code
 * Signal drop = rail.switchNode().minus(rail.outputVoltage()).named("inductor drop"); // V
 * double average = steady.of(drop).mean(); // 60.30 mV
 * }</pre>
 */
public final class Signal {
    private final String name;
    private final Unit unit;
    private final List<Term> terms;

    /** One channel and what it is multiplied by; a channel that has a name is where the name says. */
    private record Term(int channel, String key, double factor) {
        boolean isOf(Term other) {
            return key.isEmpty() ? other.key.isEmpty() && channel == other.channel : key.equals(other.key);
        }

        Term times(double by) {
            return new Term(channel, key, factor * by);
        }
    }

    private Signal(String name, Unit unit, List<Term> terms) {
        this.name = name;
        this.unit = unit;
        this.terms = List.copyOf(terms);
    }

    /**
     * Returns the signal of one channel.
     *
     * @param name what it is, as a reader of a figure should see it; for example "switch node"
     * @param unit the unit of the channel
     * @param channel index of the channel, the same in every configuration of the system
     * @return the signal
     * @throws IllegalArgumentException if the index is negative
     */
    public static Signal channel(String name, Unit unit, int channel) {
        return of(name, unit, new Term(channel, "", 1));
    }

    /**
     * Returns the signal of a channel that is known by its name: in another system it is the channel of that name there.
     *
     * @param name name of the channel, and of the signal; not empty
     * @param unit the unit of the channel
     * @param channel index of the channel in the system that the signal is made for
     * @return the signal
     * @throws IllegalArgumentException if the index is negative
     */
    public static Signal ofChannel(String name, Unit unit, int channel) {
        return of(name, unit, new Term(channel, name, 1));
    }

    private static Signal of(String name, Unit unit, Term term) {
        if (term.channel() < 0) {
            throw new IllegalArgumentException(
                    "signal " + name + ": the index of a channel must not be negative but was " + term.channel());
        }
        return new Signal(name, unit, List.of(term));
    }

    /**
     * Returns the sum of two signals.
     *
     * @param other a signal of the same system in the same unit
     * @return the sum, named after both
     * @throws IllegalArgumentException if the units differ
     */
    public Signal plus(Signal other) {
        return combined(name + " + " + other.name, 1, other);
    }

    /**
     * Returns the difference of two signals.
     *
     * @param other a signal of the same system in the same unit
     * @return this signal minus the other, named after both
     * @throws IllegalArgumentException if the units differ
     */
    public Signal minus(Signal other) {
        return combined(name + " - " + other.name, -1, other);
    }

    /**
     * Returns this signal multiplied by a number.
     *
     * @param factor the number, finite
     * @return the product, under the same name
     * @throws IllegalArgumentException if the factor is not finite
     */
    public Signal times(double factor) {
        if (!Double.isFinite(factor)) {
            throw new IllegalArgumentException("signal " + name + ": a factor must be finite but was " + factor);
        }
        return new Signal(
                name, unit, terms.stream().map(term -> term.times(factor)).toList());
    }

    /**
     * Returns this signal under another name.
     *
     * @param newName the name
     * @return the signal
     */
    public Signal named(String newName) {
        return new Signal(newName, unit, terms);
    }

    /**
     * Returns the name.
     *
     * @return the name, as a reader of a figure should see it
     */
    public String name() {
        return name;
    }

    /**
     * Returns the unit.
     *
     * @return the unit of the values
     */
    public Unit unit() {
        return unit;
    }

    /**
     * Returns how to read this signal off the state in one configuration.
     *
     * @param configuration a configuration of any system that has the channels
     * @return the affine form
     * @throws IllegalArgumentException if the configuration has no such channel
     */
    public AffineForm in(Configuration configuration) {
        return in(
                configuration.dimension(),
                configuration.channelCount(),
                configuration.channelNames(),
                configuration::channel);
    }

    /**
     * Reads the signal off channels that are not yet part of a configuration.
     *
     * @param available channels of the system
     * @param names their names; empty if they have none
     * @return the signal as a form over the states
     * @throws IllegalArgumentException if there is no such channel
     */
    public AffineForm in(List<AffineForm> available, List<String> names) {
        return in(available.get(0).dimension(), available.size(), names, available::get);
    }

    private AffineForm in(int dimension, int count, List<String> names, IntFunction<AffineForm> channel) {
        AffineForm form = AffineForm.constant(dimension, 0);
        for (Term term : terms) {
            form = form.plus(term.factor(), channel.apply(index(term, count, names)));
        }
        return form;
    }

    /** Where a channel is: at its own index as a rule, for most signals are read where they come from. */
    private int index(Term term, int count, List<String> names) {
        int own = term.channel();
        boolean hasNames = !term.key().isEmpty() && !names.isEmpty();
        boolean isThere = own < count && (!hasNames || names.get(own).equals(term.key()));
        int index = isThere ? own : hasNames ? names.indexOf(term.key()) : -1;
        if (index < 0 || index >= count) {
            throw new IllegalArgumentException("signal " + name + ": "
                    + (hasNames
                            ? "the circuit that was run has no " + term.key() + "; it has "
                                    + String.join(", ", names.subList(0, count))
                            : "channel " + own + " does not exist, there are " + count + " channels")
                    + "; the signal belongs to another circuit: ask the circuit or converter that was run for its own");
        }
        return index;
    }

    private Signal combined(String newName, double factor, Signal other) {
        if (!unit.equals(other.unit)) {
            throw new IllegalArgumentException("signals " + name + " and " + other.name
                    + " can only be added in the same unit but have " + unit.symbol() + " and " + other.unit.symbol());
        }
        List<Term> sum = new ArrayList<>(terms);
        for (Term added : other.terms) {
            int same = 0;
            while (same < sum.size() && !sum.get(same).isOf(added)) {
                same++;
            }
            if (same < sum.size()) {
                Term before = sum.get(same);
                sum.set(same, new Term(before.channel(), before.key(), before.factor() + factor * added.factor()));
            } else {
                sum.add(added.times(factor));
            }
        }
        sum.sort(Comparator.comparingInt(Term::channel));
        return new Signal(newName, unit, sum);
    }

    /**
     * Tells whether the other looks at the same, under the same name and in the same unit.
     *
     * @param other anything
     * @return whether it is an equal signal
     */
    @Override
    public boolean equals(@Nullable Object other) {
        return other instanceof Signal signal
                && name.equals(signal.name)
                && unit.equals(signal.unit)
                && terms.equals(signal.terms);
    }

    @Override
    public int hashCode() {
        return Objects.hash(name, unit, terms);
    }

    @Override
    public String toString() {
        return name + " (" + unit.symbol() + ")";
    }
}
