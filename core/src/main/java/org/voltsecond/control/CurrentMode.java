package org.voltsecond.control;

import java.util.List;

/**
 * What peak and valley current mode have in common.
 *
 * @param <R> the kind itself
 */
abstract sealed class CurrentMode<R extends CurrentMode<R>> implements Regulator
        permits PeakCurrentMode, ValleyCurrentMode {
    private final ControlPath path;
    private final CurrentTiming timing;
    private final boolean commanded;

    CurrentMode(ControlPath path, CurrentTiming timing, boolean commanded) {
        this.path = path;
        this.timing = timing;
        this.commanded = commanded;
    }

    abstract R with(ControlPath newPath, CurrentTiming newTiming, boolean newCommanded);

    abstract Modulator modulator(CurrentTiming of);

    private R with(ControlLoop newLoop) {
        return with(newLoop, timing, commanded);
    }

    private R with(CurrentTiming newTiming) {
        return with(path, newTiming, commanded);
    }

    private ControlLoop loop() {
        if (path instanceof ControlLoop loop) {
            return loop;
        }
        throw new IllegalStateException(ControlPath.MADE_BY_THE_CIRCUIT);
    }

    /**
     * Returns this regulator with a compensating slope, which brings the comparator's crossing forward: the slope times the
     * time since the clock is added to the inductor current, or in valley current mode to the command.
     *
     * @param slope referred to the inductor current, A/s; 0 or more
     * @return a new regulator
     */
    public final R withSlopeCompensation(double slope) {
        return with(timing.withSlope(slope));
    }

    /**
     * Returns this regulator with a time after the clock in which the comparator is not listened to, which is then the
     * shortest pulse, in valley current mode the shortest time off.
     *
     * @param blanking s; 0 or more, below the longest pulse, in valley current mode below the period
     * @return a new regulator
     */
    public final R withBlankingTime(double blanking) {
        return with(timing.withBlanking(blanking));
    }

    /**
     * Returns this regulator with a limit of the duty cycle.
     *
     * @param maximumDutyCycle more than 0, at most 1
     * @return a new regulator
     */
    public final R withMaximumDutyCycle(double maximumDutyCycle) {
        return with(timing.withMaximumDutyCycle(maximumDutyCycle));
    }

    /**
     * Returns this regulator with a soft start.
     *
     * @param time in which the reference, or the command that is given, rises linearly from 0, s; 0 or more
     * @return a new regulator
     * @throws IllegalStateException if the control voltage is made by the circuit
     */
    public final R withSoftStart(double time) {
        return with(loop().withSoftStart(time));
    }

    /**
     * Returns this regulator with limits of the control voltage, and so of the current command.
     *
     * @param low lower limit, V
     * @param high upper limit, V; above the lower
     * @return a new regulator
     * @throws IllegalStateException if the control voltage is made by the circuit
     */
    public final R withControlLimits(double low, double high) {
        return with(loop().withLimits(low, high));
    }

    @Override
    public final R withReference(double reference) {
        return with(loop().withReference(reference));
    }

    @Override
    public final double clockPeriod() {
        return timing.clockPeriod();
    }

    @Override
    public final List<String> faults() {
        return new Checks()
                .and(modulator(timing).faults())
                .and(commanded ? loop().faultsOfCommand() : path.faults())
                .faults();
    }

    @Override
    public final Controller on(Plant plant) {
        if (path instanceof AmplifiedControl) {
            AmplifiedControl.requireIn(plant);
        }
        return Checks.controller(faults(), plant, path, modulator(timing));
    }
}
