package org.voltsecond.control;

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
public final class VoltageMode extends ComposedRegulator<RampModulator, VoltageMode> {
    private VoltageMode(Parts<RampModulator> parts) {
        super(parts);
    }

    /** Which edge of a pulse the control voltage moves; the clock fixes the other. */
    public enum Edge {
        /** The ramp rises over the period; the clock turns the transistor on, the comparator turns it off. */
        TRAILING,
        /** The ramp falls over the period; the comparator turns the transistor on, the clock turns it off. */
        LEADING,
        /** The ramp is a triangle; the comparator moves both edges. */
        BOTH
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
        return of(ControlLoop.of(reference, divider, compensator), switchingFrequency);
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
        return of(new CircuitControl(controlVoltage), switchingFrequency);
    }

    /**
     * Returns a regulator whose control voltage an error amplifier of the stage makes, whose parts also hold reference and
     * limits.
     *
     * @param switchingFrequency Hz; more than 0
     * @return the regulator; ramp from 0 V to 1 V, trailing edge, one pulse per period
     */
    public static VoltageMode withErrorAmplifier(double switchingFrequency) {
        return of(CircuitControl.byAmplifier(), switchingFrequency);
    }

    /**
     * Returns this regulator with another ramp.
     *
     * @param valley lowest value, V
     * @param peak highest value, V; above the valley
     * @return a new regulator
     */
    public VoltageMode withRamp(double valley, double peak) {
        return with(modulator().withRamp(valley, peak));
    }

    /**
     * Returns this regulator with a limit of the duty cycle.
     *
     * @param maximumDutyCycle more than 0, at most 1
     * @return a new regulator
     */
    public VoltageMode withMaximumDutyCycle(double maximumDutyCycle) {
        return with(modulator().withMaximumDutyCycle(maximumDutyCycle));
    }

    /**
     * Returns this regulator with another modulation.
     *
     * @param edge which edge of the pulse the control voltage moves
     * @param latch whether there is at most one pulse in a period; false: natural sampling, the comparator drives the
     *     switch
     * @return a new regulator
     */
    public VoltageMode withModulation(Edge edge, boolean latch) {
        return with(modulator().withModulation(edge, latch));
    }

    /**
     * Returns this regulator with limits of the control voltage in place of those that it takes of itself, the valley and the
     * peak of its ramp.
     *
     * @param low lower limit, V; minus infinity for none
     * @param high upper limit, V; above the lower; infinite for none
     * @return a new regulator
     * @throws IllegalStateException if the control voltage is made by the circuit
     */
    public VoltageMode withControlLimits(double low, double high) {
        return withLimits(new ControlLimits(low, high, ControlLimits.Origin.GIVEN));
    }

    private static VoltageMode of(ControlPath path, double switchingFrequency) {
        return new VoltageMode(Parts.of(path, new RampModulator(1 / switchingFrequency, 0, 1, 1, Edge.TRAILING, true)));
    }

    @Override
    VoltageMode of(Parts<RampModulator> others) {
        return new VoltageMode(others);
    }

    @Override
    public String toString() {
        return "voltage mode at " + Quantity.format(1 / clockPeriod(), Unit.HERTZ, 4);
    }
}
