package org.voltsecond.engine;

import java.util.List;
import java.util.function.IntFunction;
import org.jspecify.annotations.Nullable;
import org.voltsecond.numeric.Matrices;

/**
 * One linear regime of a piecewise-affine system: {@code dx/dt = a x + b}, the guards that keep it valid, the channels
 * that can be read off it and the constraints that the state obeys in it. SI units throughout. Immutable.
 *
 * <pre>{@code
 * Configuration falling = Configuration.builder("falling", new double[] {1, 1}, 1) // scale of the states, period
 *         .dynamics(new double[][] {{0, 1}, {0, 0}}, new double[] {0, -9.81})
 *         .guards(List.of(new Guard("height", AffineForm.of(new double[] {1, 0}, 0))))
 *         .build();
 * double acceleration = falling.rate(new double[] {1.5, -3})[1]; // -9.81
 * }</pre>
 */
public final class Configuration {
    private final String name;
    private final int dimension;
    private final double[] a;
    private final double[] b;
    private final List<Guard> guards;
    private final IntFunction<AffineForm> channels;
    /** The channels that were asked for. Two threads at once find the same. */
    private final @Nullable AffineForm[] known;

    private final List<String> channelNames;
    private final List<AffineForm> constraints;
    private final Flow flow;

    private Configuration(Builder builder) {
        name = builder.name;
        dimension = builder.scale.length;
        a = Matrices.flatten(builder.a);
        b = builder.b.clone();
        guards = builder.guards;
        known = new AffineForm[builder.channelCount];
        channels = builder.channels;
        channelNames = builder.channelNames;
        constraints = builder.constraints;
        checkShapes();
        builder.given.forEach(form -> checkForm("a channel", form));
        flow = Flow.of(this, Flow.Scaling.of(builder.scale), builder.clockPeriod);
    }

    private void checkShapes() {
        if (a.length != dimension * dimension || b.length != dimension) {
            throw new IllegalArgumentException("configuration " + name + ": dynamics must have " + dimension
                    + " rows as the scale has, but a has " + a.length + " entries and b has " + b.length);
        }
        guards.forEach(guard -> checkForm("guard '" + guard.name() + "'", guard.form()));
        constraints.forEach(form -> checkForm("a constraint", form));
    }

    private void checkForm(String role, AffineForm form) {
        if (form.dimension() != dimension || !form.isFinite()) {
            throw new IllegalArgumentException("configuration " + name + ": " + role + " must have " + dimension
                    + " coefficients, all its numbers finite, but is " + form);
        }
    }

    /**
     * Starts a configuration.
     *
     * @param name for error messages, for example "Q1 closed, D1 blocking"
     * @param scale one positive factor for each state that makes the states comparable, see {@link SwitchingLaw#scale()}
     * @param clockPeriod the time scale of the intervals to come, s
     * @return a builder
     */
    public static Builder builder(String name, double[] scale, double clockPeriod) {
        return new Builder(name, scale, clockPeriod);
    }

    /** Collects the parts of a configuration. */
    public static final class Builder {
        private final String name;
        private final double[] scale;
        private final double clockPeriod;
        private double[][] a;
        private double[] b;
        private List<Guard> guards = List.of();
        private List<AffineForm> given = List.of();
        private int channelCount;
        private IntFunction<AffineForm> channels = List.<AffineForm>of()::get;
        private List<String> channelNames = List.of();
        private List<AffineForm> constraints = List.of();

        private Builder(String name, double[] scale, double clockPeriod) {
            this.name = name;
            this.scale = scale.clone();
            this.clockPeriod = clockPeriod;
            this.a = new double[scale.length][scale.length];
            this.b = new double[scale.length];
        }

        /**
         * Sets {@code dx/dt = a x + b}.
         *
         * @param a square matrix, 1/s in SI units of the states; copied
         * @param b one entry for each state; copied
         * @return this builder
         */
        public Builder dynamics(double[][] a, double[] b) {
            this.a = a;
            this.b = b;
            return this;
        }

        /**
         * Sets the conditions that keep the configuration valid.
         *
         * @param guards the guards, in the order in which simultaneous ones are handed over
         * @return this builder
         */
        public Builder guards(List<Guard> guards) {
            this.guards = List.copyOf(guards);
            return this;
        }

        /**
         * Sets what can be read off.
         *
         * @param channels the channels; a system uses the same order in all its configurations
         * @return this builder
         */
        public Builder channels(List<AffineForm> channels) {
            List<AffineForm> all = List.copyOf(channels);
            channels(all.size(), all::get);
            given = all;
            return this;
        }

        /**
         * Sets what can be read off, each channel to be worked out when it is asked for.
         *
         * @param count how many channels there are
         * @param channel gives the one of an index, always the same; from any thread
         * @return this builder
         */
        public Builder channels(int count, IntFunction<AffineForm> channel) {
            channelCount = count;
            channels = channel;
            given = List.of();
            return this;
        }

        /**
         * Names the channels, so that who reads one finds it in another system too, or that it has none such.
         *
         * @param names one for each channel, all different
         * @return this builder
         */
        public Builder channelNames(List<String> names) {
            channelNames = List.copyOf(names);
            return this;
        }

        /**
         * Sets what the state obeys while the configuration lasts.
         *
         * @param constraints forms that are zero
         * @return this builder
         */
        public Builder constraints(List<AffineForm> constraints) {
            this.constraints = List.copyOf(constraints);
            return this;
        }

        /**
         * Builds the configuration and works out its exact flow.
         *
         * @return the configuration
         * @throws IllegalArgumentException if shapes do not fit together or a number is not finite
         */
        public Configuration build() {
            return new Configuration(this);
        }
    }

    /**
     * Returns the name.
     *
     * @return the name, for error messages
     */
    public String name() {
        return name;
    }

    /**
     * Returns the number of states.
     *
     * @return the number of states
     */
    public int dimension() {
        return dimension;
    }

    /**
     * Returns one entry of the matrix of the dynamics.
     *
     * @param row index of the state whose rate it contributes to
     * @param column index of the state that it is multiplied by
     * @return the entry, in SI units
     */
    public double a(int row, int column) {
        return a[row * dimension + column];
    }

    /**
     * Returns one entry of the constant part of the dynamics.
     *
     * @param row index of the state
     * @return the entry, in SI units per second
     */
    public double b(int row) {
        return b[row];
    }

    /**
     * Returns the rate of change of the state.
     *
     * @param state the state, SI units
     * @return {@code a x + b}, a new array
     */
    public double[] rate(double[] state) {
        double[] rate = Matrices.multiply(a, state);
        for (int i = 0; i < dimension; i++) {
            rate[i] += b[i];
        }
        return rate;
    }

    /**
     * Returns the guards.
     *
     * @return the conditions that keep the configuration valid
     */
    public List<Guard> guards() {
        return guards;
    }

    /**
     * Returns one channel.
     *
     * @param index its index, the same in every configuration of a system
     * @return the form that reads it off the state
     * @throws IllegalArgumentException if it has not as many coefficients as there are states, all its numbers finite
     */
    public AffineForm channel(int index) {
        AffineForm form = known[index];
        if (form == null) {
            form = channels.apply(index);
            checkForm("a channel", form);
            known[index] = form;
        }
        return form;
    }

    /**
     * Returns the names of the channels.
     *
     * @return one for each channel; empty if they have none
     */
    public List<String> channelNames() {
        return channelNames;
    }

    /**
     * Returns how many channels there are.
     *
     * @return the number of channels
     */
    public int channelCount() {
        return known.length;
    }

    /**
     * Returns the constraints.
     *
     * @return forms that are zero while the configuration lasts
     */
    public List<AffineForm> constraints() {
        return constraints;
    }

    Flow flow() {
        return flow;
    }

    @Override
    public String toString() {
        return name;
    }
}
