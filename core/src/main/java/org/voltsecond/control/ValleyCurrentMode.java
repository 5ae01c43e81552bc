package org.voltsecond.control;

import java.util.List;

/**
 * Valley current mode: the clock turns the transistor off, and a comparator turns it on when the inductor current has
 * fallen to its command. It is the mirror image of {@link PeakCurrentMode}: below a duty cycle of one half it needs a
 * compensating slope, or every second pulse differs (R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics,
 * 3rd ed., Springer 2020, sec. 18.2, with the two slopes exchanged). Immutable; every {@code with} returns a new one.
 */
public final class ValleyCurrentMode implements Regulator {
    private final ControlLoop loop;
    private final ValleyCurrentModulator modulator;
    private final boolean commanded;

    private ValleyCurrentMode(ControlLoop loop, ValleyCurrentModulator modulator, boolean commanded) {
        this.loop = loop;
        this.modulator = modulator;
        this.commanded = commanded;
    }

    /**
     * Returns the inner loop alone, without slope compensation, blanking or limit of the duty cycle. Its control voltage
     * is the command at 1 V/A.
     *
     * @param switchingFrequency Hz; more than 0
     * @param currentCommand inductor current at which the transistor turns on, A; more than 0
     * @return the regulator
     */
    public static ValleyCurrentMode of(double switchingFrequency, double currentCommand) {
        return new ValleyCurrentMode(ControlLoop.open(currentCommand), modulator(switchingFrequency, 1), true);
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
    public static ValleyCurrentMode of(
            double switchingFrequency, double reference, double divider, Compensator compensator, double sense) {
        return new ValleyCurrentMode(
                ControlLoop.of(reference, divider, compensator), modulator(switchingFrequency, sense), false);
    }

    private static ValleyCurrentModulator modulator(double switchingFrequency, double sense) {
        return new ValleyCurrentModulator(1 / switchingFrequency, sense, 0, 0, 1);
    }

    /**
     * Returns this regulator with a compensating slope: the transistor turns on when the inductor current has fallen to
     * the command plus the slope times the time since the clock.
     *
     * @param slope referred to the inductor current, A/s; 0 or more
     * @return a new regulator
     */
    public ValleyCurrentMode withSlopeCompensation(double slope) {
        return with(new ValleyCurrentModulator(
                modulator.clockPeriod(), modulator.sense(), slope, modulator.blanking(), modulator.maximumDutyCycle()));
    }

    /**
     * Returns this regulator with a time after the clock in which the comparator is not listened to, which is then the
     * shortest time off.
     *
     * @param blanking s; 0 or more, below the period
     * @return a new regulator
     */
    public ValleyCurrentMode withBlankingTime(double blanking) {
        return with(new ValleyCurrentModulator(
                modulator.clockPeriod(), modulator.sense(), modulator.slope(), blanking, modulator.maximumDutyCycle()));
    }

    /**
     * Returns this regulator with a limit of the duty cycle: the transistor does not turn on earlier.
     *
     * @param maximumDutyCycle more than 0, at most 1
     * @return a new regulator
     */
    public ValleyCurrentMode withMaximumDutyCycle(double maximumDutyCycle) {
        return with(new ValleyCurrentModulator(
                modulator.clockPeriod(), modulator.sense(), modulator.slope(), modulator.blanking(), maximumDutyCycle));
    }

    /**
     * Returns this regulator with a soft start.
     *
     * @param time in which the reference, or the command that is given, rises linearly from 0, s; 0 or more
     * @return a new regulator
     */
    public ValleyCurrentMode withSoftStart(double time) {
        return new ValleyCurrentMode(loop.withSoftStart(time), modulator, commanded);
    }

    /**
     * Returns this regulator with limits of the control voltage, and so of the current command.
     *
     * @param low lower limit, V
     * @param high upper limit, V; above the lower
     * @return a new regulator
     */
    public ValleyCurrentMode withControlLimits(double low, double high) {
        return new ValleyCurrentMode(loop.withLimits(low, high), modulator, commanded);
    }

    private ValleyCurrentMode with(ValleyCurrentModulator newModulator) {
        return new ValleyCurrentMode(loop, newModulator, commanded);
    }

    @Override
    public double clockPeriod() {
        return modulator.clockPeriod();
    }

    @Override
    public ValleyCurrentMode withReference(double reference) {
        return new ValleyCurrentMode(loop.withReference(reference), modulator, commanded);
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
