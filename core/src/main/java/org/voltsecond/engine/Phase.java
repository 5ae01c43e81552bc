package org.voltsecond.engine;

/**
 * One node of the discrete part of a system: a configuration together with the time at which it ends if no guard ends it
 * before. A {@link SwitchingLaw} extends this class with what it must remember, and hands out the same object for the
 * same node, since runs keep what they have worked out by identity.
 *
 * <pre>{@code
 * Configuration rising = Configuration.builder("rising", new double[] {1}, 1)
 *         .dynamics(new double[][] {{0}}, new double[] {1})
 *         .build();
 * Phase untilTick = new Phase(rising, 1, Double.POSITIVE_INFINITY); // ends with the clock period
 * Phase atMost = new Phase(rising, Double.POSITIVE_INFINITY, 0.3); // ends 0.3 s after it began
 * }</pre>
 */
public class Phase {
    private final Configuration configuration;
    private final double endSinceTick;
    private final double maximumDuration;

    /**
     * Creates a phase.
     *
     * @param configuration the linear regime
     * @param endSinceTick time since the last clock edge at which the phase ends, s; more than 0, at most one clock period
     *     (which is the next clock edge), or infinite if no clock ends it; a phase entered later than this ends at once
     * @param maximumDuration time since its entry after which the phase ends, s; infinite if there is no such limit
     * @throws IllegalArgumentException if a time is out of range
     */
    public Phase(Configuration configuration, double endSinceTick, double maximumDuration) {
        if (!(endSinceTick > 0) || !(maximumDuration >= 0)) {
            throw new IllegalArgumentException(
                    "phase " + configuration.name() + ": its end must lie after the clock edge, but ends were "
                            + endSinceTick + " s since the edge, " + maximumDuration + " s since entry");
        }
        this.configuration = configuration;
        this.endSinceTick = endSinceTick;
        this.maximumDuration = maximumDuration;
    }

    /**
     * Returns the linear regime of this phase.
     *
     * @return the configuration
     */
    public final Configuration configuration() {
        return configuration;
    }

    /**
     * Returns the time since the last clock edge at which the phase ends.
     *
     * @return the time, s; infinite if no clock ends the phase
     */
    public final double endSinceTick() {
        return endSinceTick;
    }

    /**
     * Returns the time since its entry after which the phase ends.
     *
     * @return the time, s; infinite if there is no such limit
     */
    public final double maximumDuration() {
        return maximumDuration;
    }

    @Override
    public String toString() {
        return configuration.name();
    }
}
