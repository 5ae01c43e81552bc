package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;

/**
 * Voltage-mode control: the output is compared with a reference, the compensator makes the control voltage of the error,
 * and a comparator makes pulses of the control voltage and a ramp. Immutable; every {@code with} returns a new one.
 */
public final class VoltageMode implements Regulator {
    private final ControlLoop loop;
    private final RampModulator modulator;

    private VoltageMode(ControlLoop loop, RampModulator modulator) {
        this.loop = loop;
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
                new ControlLoop(reference, 0, divider, compensator, Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY),
                new RampModulator(1 / switchingFrequency, 0, 1, 1, PulseEdge.TRAILING, true));
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
     */
    public VoltageMode withSoftStart(double time) {
        return new VoltageMode(
                new ControlLoop(loop.reference(), time, loop.divider(), loop.compensator(), loop.low(), loop.high()),
                modulator);
    }

    /**
     * Returns this regulator with limits of the control voltage.
     *
     * @param low lower limit, V
     * @param high upper limit, V; above the lower
     * @return a new regulator
     */
    public VoltageMode withControlLimits(double low, double high) {
        return new VoltageMode(
                new ControlLoop(loop.reference(), loop.softStart(), loop.divider(), loop.compensator(), low, high),
                modulator);
    }

    private VoltageMode with(RampModulator newModulator) {
        return new VoltageMode(loop, newModulator);
    }

    @Override
    public List<String> faults() {
        List<String> faults = new ArrayList<>(modulator.faults());
        faults.addAll(loop.faults());
        return faults;
    }

    @Override
    public Controller on(Plant plant) {
        List<String> faults = faults();
        if (!faults.isEmpty()) {
            throw new IllegalArgumentException("the regulator cannot be built:\n" + String.join("\n", faults));
        }
        return new RegulatedController(plant, loop, modulator);
    }
}
