package org.voltsecond.engine;

import java.util.List;
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
    private final List<AffineForm> channels;
    private final List<String> channelNames;
    private final List<AffineForm> constraints;
    private final Flow flow;

    private Configuration(Builder builder) {
        name = builder.name;
        dimension = builder.scale.length;
        a = Matrices.flatten(builder.a);
        b = builder.b.clone();
        guards = builder.guards;
        channels = builder.channels;
        channelNames = builder.channelNames;
        constraints = builder.constraints;
        checkShapes();
        flow = Flow.of(this, Flow.Scaling.of(builder.scale), builder.clockPeriod);
    }

    private void checkShapes() {
        if (a.length != dimension * dimension || b.length != dimension) {
            throw new IllegalArgumentException("configuration " + name + ": dynamics must have " + dimension
                    + " rows as the scale has, but a has " + a.length + " entries and b has " + b.length);
        }
        guards.forEach(guard -> checkForm("guard '" + guard.name() + "'", guard.form()));
        channels.forEach(form -> checkForm("a channel", form));
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
        private List<AffineForm> channels = List.of();
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
            this.channels = List.copyOf(channels);
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
     */
    public AffineForm channel(int index) {
        return channels.get(index);
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
        return channels.size();
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
