package org.voltsecond.waveform;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import java.util.function.IntFunction;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.Configuration;
import org.voltsecond.units.Unit;

/**
 * What to look at: a linear combination of the channels of a system, with a name and a unit.
 *
 * <p>A signal knows no trajectory; the same signal can be looked at in every run of the same system. Immutable and safe
 * to use from any thread.
 *
 * <pre>{@code
 * Signal drop = rail.switchNode().minus(rail.outputVoltage()).named("inductor drop"); // V
 * double average = steady.of(drop).mean(); // 60.30 mV
 * }</pre>
 */
public final class Signal {
    private final String name;
    private final Unit unit;
    private final int[] channels;
    private final double[] factors;

    private Signal(String name, Unit unit, int[] channels, double[] factors) {
        this.name = name;
        this.unit = unit;
        this.channels = channels;
        this.factors = factors;
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
        if (channel < 0) {
            throw new IllegalArgumentException(
                    "signal " + name + ": the index of a channel must not be negative but was " + channel);
        }
        return new Signal(name, unit, new int[] {channel}, new double[] {1});
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
        double[] scaled = factors.clone();
        for (int i = 0; i < scaled.length; i++) {
            scaled[i] *= factor;
        }
        return new Signal(name, unit, channels, scaled);
    }

    /**
     * Returns this signal under another name.
     *
     * @param newName the name
     * @return the signal
     */
    public Signal named(String newName) {
        return new Signal(newName, unit, channels, factors);
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
     * @param configuration a configuration of the system to which the channels belong
     * @return the affine form
     * @throws IllegalArgumentException if the configuration has no such channel
     */
    public AffineForm in(Configuration configuration) {
        checkChannels(configuration.name(), configuration.channelCount());
        return in(configuration.dimension(), configuration::channel);
    }

    /**
     * Reads the signal off channels that are not yet part of a configuration.
     *
     * @param available all channels of the system
     * @return the signal as a form over the states
     * @throws IllegalArgumentException if the signal belongs to another system
     */
    public AffineForm in(List<AffineForm> available) {
        checkChannels("at hand", available.size());
        return in(available.get(0).dimension(), available::get);
    }

    private void checkChannels(String where, int count) {
        for (int channel : channels) {
            if (channel >= count) {
                throw new IllegalArgumentException("signal " + name + ": channel " + channel
                        + " does not exist in configuration " + where + ", which has " + count
                        + " channels; the signal may belong to another circuit");
            }
        }
    }

    private AffineForm in(int dimension, IntFunction<AffineForm> channel) {
        AffineForm form = AffineForm.constant(dimension, 0);
        for (int i = 0; i < channels.length; i++) {
            form = form.plus(factors[i], channel.apply(channels[i]));
        }
        return form;
    }

    private Signal combined(String newName, double factor, Signal other) {
        if (!unit.equals(other.unit)) {
            throw new IllegalArgumentException("signals " + name + " and " + other.name
                    + " can only be added in the same unit but have " + unit.symbol() + " and " + other.unit.symbol());
        }
        Map<Integer, Double> sum = new TreeMap<>();
        for (int i = 0; i < channels.length; i++) {
            sum.merge(channels[i], factors[i], Double::sum);
        }
        for (int i = 0; i < other.channels.length; i++) {
            sum.merge(other.channels[i], factor * other.factors[i], Double::sum);
        }
        int[] indices = sum.keySet().stream().mapToInt(Integer::intValue).toArray();
        double[] values = sum.values().stream().mapToDouble(Double::doubleValue).toArray();
        return new Signal(newName, unit, indices, values);
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
                && Arrays.equals(channels, signal.channels)
                && Arrays.equals(factors, signal.factors);
    }

    @Override
    public int hashCode() {
        return Objects.hash(name, unit, Arrays.hashCode(channels), Arrays.hashCode(factors));
    }

    @Override
    public String toString() {
        return name + " (" + unit.symbol() + ")";
    }
}
