package org.voltsecond.control;

import java.util.List;

/**
 * Peak current mode: the clock turns the transistor on, and a comparator turns it off when the inductor current reaches
 * its command. Above a duty cycle of one half the loop needs a compensating slope, or every second pulse differs (R. W.
 * Erickson, D. Maksimovic, Fundamentals of Power Electronics, 3rd ed., Springer 2020, sec. 18.2). Immutable; every
 * {@code with} returns a new one.
 */
public final class PeakCurrentMode implements Regulator {
    private final ControlLoop loop;
    private final PeakCurrentModulator modulator;
    private final boolean commanded;

    private PeakCurrentMode(ControlLoop loop, PeakCurrentModulator modulator, boolean commanded) {
        this.loop = loop;
        this.modulator = modulator;
        this.commanded = commanded;
    }

    /**
     * Returns the inner loop alone, without slope compensation, blanking or limit of the duty cycle. Its control voltage
     * is the command at 1 V/A.
     *
     * @param switchingFrequency Hz; more than 0
     * @param currentCommand inductor current at which the transistor turns off, A; more than 0
     * @return the regulator
     */
    public static PeakCurrentMode of(double switchingFrequency, double currentCommand) {
        return new PeakCurrentMode(ControlLoop.open(currentCommand), modulator(switchingFrequency, 1), true);
    }

    /**
     * Returns the inner loop under a voltage loop, without slope compensation, blanking or limit of the duty cycle.
     *
     * @param switchingFrequency Hz; more than 0
     * @param reference V; more than 0
     * @param divider sensed voltage over output voltage; more than 0, at most 1
     * @param compensator from error voltage to control voltage
     * @param sense control voltage over current command, V/A; more than 0
     * @return the regulator
     */
    public static PeakCurrentMode of(
            double switchingFrequency, double reference, double divider, Compensator compensator, double sense) {
        return new PeakCurrentMode(
                ControlLoop.of(reference, divider, compensator), modulator(switchingFrequency, sense), false);
    }

    private static PeakCurrentModulator modulator(double switchingFrequency, double sense) {
        return new PeakCurrentModulator(1 / switchingFrequency, sense, 0, 0, 1);
    }

    /**
     * Returns this regulator with a compensating slope: the transistor turns off when the inductor current plus the slope
     * times the time since the clock reaches the command.
     *
     * @param slope referred to the inductor current, A/s; 0 or more
     * @return a new regulator
     */
    public PeakCurrentMode withSlopeCompensation(double slope) {
        return with(new PeakCurrentModulator(
                modulator.clockPeriod(), modulator.sense(), slope, modulator.blanking(), modulator.maximumDutyCycle()));
    }

    /**
     * Returns this regulator with a time after the clock in which the comparator is not listened to, which is then the
     * shortest pulse.
     *
     * @param blanking s; 0 or more, below the longest pulse
     * @return a new regulator
     */
    public PeakCurrentMode withBlankingTime(double blanking) {
        return with(new PeakCurrentModulator(
                modulator.clockPeriod(), modulator.sense(), modulator.slope(), blanking, modulator.maximumDutyCycle()));
    }

    /**
     * Returns this regulator with a limit of the duty cycle.
     *
     * @param maximumDutyCycle more than 0, at most 1
     * @return a new regulator
     */
    public PeakCurrentMode withMaximumDutyCycle(double maximumDutyCycle) {
        return with(new PeakCurrentModulator(
                modulator.clockPeriod(), modulator.sense(), modulator.slope(), modulator.blanking(), maximumDutyCycle));
    }

    /**
     * Returns this regulator with a soft start.
     *
     * @param time in which the reference, or the command that is given, rises linearly from 0, s; 0 or more
     * @return a new regulator
     */
    public PeakCurrentMode withSoftStart(double time) {
        return new PeakCurrentMode(loop.withSoftStart(time), modulator, commanded);
    }

    /**
     * Returns this regulator with limits of the control voltage, and so of the current command.
     *
     * @param low lower limit, V
     * @param high upper limit, V; above the lower
     * @return a new regulator
     */
    public PeakCurrentMode withControlLimits(double low, double high) {
        return new PeakCurrentMode(loop.withLimits(low, high), modulator, commanded);
    }

    private PeakCurrentMode with(PeakCurrentModulator newModulator) {
        return new PeakCurrentMode(loop, newModulator, commanded);
    }

    @Override
    public double clockPeriod() {
        return modulator.clockPeriod();
    }

    @Override
    public PeakCurrentMode withReference(double reference) {
        return new PeakCurrentMode(loop.withReference(reference), modulator, commanded);
    }

    @Override
    public List<String> faults() {
        return new Checks()
                .and(modulator.faults())
                .and(commanded ? loop.faultsOfCommand() : loop.faults())
                .faults();
    }

    @Override
    public Controller on(Plant plant) {
        return Checks.controller(faults(), plant, loop, modulator);
    }
}
