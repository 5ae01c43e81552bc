package org.voltsecond.control;

import java.util.List;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;

/**
 * Voltage-mode control: the output is compared with a reference, the compensator makes the control voltage of the error,
 * and a comparator makes pulses of the control voltage and a ramp. Immutable; every {@code with} returns a new one.
 *
 * <pre>{@code
 * VoltageMode regulator = VoltageMode.of(kilo(300), 1, 0.2, Compensator.type2(1500, 4557, kilo(100)))
 *         .withRamp(0, 1) // V
 *         .withMaximumDutyCycle(0.95)
 *         .withSoftStart(milli(2));
 * Converter rail = stage.drive(regulator);
 * double output = rail.startUp(milli(4)).of(rail.outputVoltage()).at(milli(4)); // 5.00 V
 * }</pre>
 */
public final class VoltageMode implements Regulator {
    private final ControlPath path;
    private final RampModulator modulator;

    private VoltageMode(ControlPath path, RampModulator modulator) {
        this.path = path;
        this.modulator = modulator;
    }

    /**
     * Returns a regulator with a ramp from 0 V to 1 V, trailing edge, one pulse per period, no soft start and no limits.
     *
     * @param switchingFrequency Hz; more than 0
     * @param reference V; more than 0
     * @param divider sensed voltage over output voltage; more than 0, at most 1
     * @param compensator from error voltage to control voltage
     * @return the regulator
     */
    public static VoltageMode of(double switchingFrequency, double reference, double divider, Compensator compensator) {
        return new VoltageMode(
                ControlLoop.of(reference, divider, compensator),
                new RampModulator(1 / switchingFrequency, 0, 1, 1, PulseEdge.TRAILING, true));
    }

    /**
     * Returns a regulator whose control voltage the circuit makes, with an amplifier and its network as parts. Reference,
     * soft start and limits are then parts of the circuit too.
     *
     * @param switchingFrequency Hz; more than 0
     * @param controlVoltage a voltage of the circuit
     * @return the regulator; ramp from 0 V to 1 V, trailing edge, one pulse per period
     */
    public static VoltageMode sensing(double switchingFrequency, Signal controlVoltage) {
        return new VoltageMode(
                new SensedControl(controlVoltage),
                new RampModulator(1 / switchingFrequency, 0, 1, 1, PulseEdge.TRAILING, true));
    }

    /**
     * Returns a regulator whose control voltage an error amplifier of the stage makes, whose parts also hold reference and
     * limits.
     *
     * @param switchingFrequency Hz; more than 0
     * @return the regulator; ramp from 0 V to 1 V, trailing edge, one pulse per period
     */
    public static VoltageMode withErrorAmplifier(double switchingFrequency) {
        return new VoltageMode(
                new AmplifiedControl(), new RampModulator(1 / switchingFrequency, 0, 1, 1, PulseEdge.TRAILING, true));
    }

    /**
     * Returns this regulator with another ramp.
     *
     * @param valley lowest value, V
     * @param peak highest value, V; above the valley
     * @return a new regulator
     */
    public VoltageMode withRamp(double valley, double peak) {
        return with(new RampModulator(
                modulator.clockPeriod(),
                valley,
                peak,
                modulator.maximumDutyCycle(),
                modulator.edge(),
                modulator.latch()));
    }

    /**
     * Returns this regulator with a limit of the duty cycle.
     *
     * @param maximumDutyCycle more than 0, at most 1
     * @return a new regulator
     */
    public VoltageMode withMaximumDutyCycle(double maximumDutyCycle) {
        return with(new RampModulator(
                modulator.clockPeriod(),
                modulator.valley(),
                modulator.peak(),
                maximumDutyCycle,
                modulator.edge(),
                modulator.latch()));
    }

    /**
     * Returns this regulator with another modulation.
     *
     * @param edge which edge of the pulse the control voltage moves
     * @param latch whether there is at most one pulse in a period; false: natural sampling, the comparator drives the
     *     switch
     * @return a new regulator
     */
    public VoltageMode withModulation(PulseEdge edge, boolean latch) {
        return with(new RampModulator(
                modulator.clockPeriod(),
                modulator.valley(),
                modulator.peak(),
                modulator.maximumDutyCycle(),
                edge,
                latch));
    }

    /**
     * Returns this regulator with a soft start.
     *
     * @param time in which the reference rises linearly from 0, s; 0 or more
     * @return a new regulator
     * @throws IllegalStateException if the control voltage is made by the circuit
     */
    public VoltageMode withSoftStart(double time) {
        return with(loop().withSoftStart(time));
    }

    /**
     * Returns this regulator with another reference.
     *
     * @param reference V; more than 0
     * @return a new regulator
     * @throws IllegalStateException if the control voltage is made by the circuit
     */
    @Override
    public VoltageMode withReference(double reference) {
        return with(loop().withReference(reference));
    }

    /**
     * Returns this regulator with limits of the control voltage.
     *
     * @param low lower limit, V
     * @param high upper limit, V; above the lower
     * @return a new regulator
     * @throws IllegalStateException if the control voltage is made by the circuit
     */
    public VoltageMode withControlLimits(double low, double high) {
        return with(loop().withLimits(low, high));
    }

    private ControlLoop loop() {
        if (path instanceof ControlLoop loop) {
            return loop;
        }
        throw new IllegalStateException(ControlPath.MADE_BY_THE_CIRCUIT);
    }

    private VoltageMode with(ControlLoop loop) {
        return new VoltageMode(loop, modulator);
    }

    private VoltageMode with(RampModulator newModulator) {
        return new VoltageMode(path, newModulator);
    }

    @Override
    public double clockPeriod() {
        return modulator.clockPeriod();
    }

    @Override
    public List<String> faults() {
        return new Checks().and(modulator.faults()).and(path.faults()).faults();
    }

    @Override
    public Controller on(Plant plant) {
        if (path instanceof AmplifiedControl) {
            AmplifiedControl.requireIn(plant);
        }
        return Checks.controller(faults(), plant, path, modulator);
    }

    @Override
    public String toString() {
        return "voltage mode at " + Quantity.format(1 / clockPeriod(), Unit.HERTZ, 4);
    }
}
