package org.voltsecond.control;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.waveform.Signal;

/**
 * What a regulator finds in the circuit that it drives: the switches, and the signals that it senses.
 *
 * <pre>{@code
 * Circuit circuit = rail.circuit();
 * CircuitSignals signals = CircuitSignals.of(circuit);
 * Plant plant = new Plant(
 *         "Q1", null, signals.nodeVoltage("out"), signals.current("L1"), signals.nodeVoltage("in")); // one transistor
 * Controller controller = CurrentMode.peak(kilo(300), 2.2).on(plant);
 * DrivenCircuit driven = DrivenCircuit.builder(circuit).controlledBy(controller).build();
 * }</pre>
 *
 * @param pattern the switches and how pulses reach them
 * @param outputVoltage the voltage to be regulated, positive; for an inverting stage its magnitude, V
 * @param currents that of the inductor, positive as the on interval drives it, A: one for each leg of the pattern, or one that all
 *     legs sense
 * @param inputVoltage the voltage of the source, V
 * @param fullLoadCurrent inductor current of a leg at the crest of its ripple at full load, A: what the limits of a current command
 *     are measured by; infinite where it is not known
 * @param controlVoltage the control voltage that an error amplifier of the circuit makes, V; null where there is none
 * @param errorVoltage the error voltage at that amplifier, V; null where there is none
 */
public record Plant(
        SwitchPattern pattern,
        Signal outputVoltage,
        List<Signal> currents,
        Signal inputVoltage,
        double fullLoadCurrent,
        @Nullable Signal controlVoltage,
        @Nullable Signal errorVoltage) {
    /**
     * Copies the list and checks it.
     *
     * @param pattern the switches and how pulses reach them
     * @param outputVoltage the voltage to be regulated, V
     * @param currents one for each leg of the pattern, or one that all legs sense
     * @param inputVoltage the voltage of the source, V
     * @param fullLoadCurrent inductor current of a leg at full load, A; infinite where it is not known
     * @param controlVoltage that of an error amplifier of the circuit, V; null where there is none
     * @param errorVoltage that of an error amplifier of the circuit, V; null where there is none
     * @throws IllegalArgumentException if the number of currents is neither 1 nor that of the legs
     */
    public Plant {
        currents = List.copyOf(currents);
        if (currents.size() != 1 && currents.size() != pattern.legs().size()) {
            throw new IllegalArgumentException("the currents sensed must be 1 or one for each of the "
                    + pattern.legs().size() + " legs but were " + currents.size());
        }
    }

    /**
     * A circuit of one transistor, without an error amplifier, whose full load is not known.
     *
     * @param transistor name of the switch that puts energy into the inductor
     * @param synchronousTransistor name of the switch that stands in for the rectifier; null where a rectifier does it alone
     * @param outputVoltage the voltage to be regulated, positive; for an inverting stage its magnitude, V
     * @param inductorCurrent positive as the on interval drives it, A
     * @param inputVoltage the voltage of the source, V
     */
    public Plant(
            String transistor,
            @Nullable String synchronousTransistor,
            Signal outputVoltage,
            Signal inductorCurrent,
            Signal inputVoltage) {
        this(
                SwitchPattern.of(
                        SwitchPattern.Timing.TOGETHER,
                        List.of(transistor),
                        synchronousTransistor == null ? List.of() : List.of(synchronousTransistor)),
                outputVoltage,
                List.of(inductorCurrent),
                inputVoltage);
    }

    /**
     * A circuit without an error amplifier whose full load is not known.
     *
     * @param pattern the switches and how pulses reach them
     * @param outputVoltage the voltage to be regulated, positive; for an inverting stage its magnitude, V
     * @param currents one for each leg of the pattern, or one that all legs sense, A
     * @param inputVoltage the voltage of the source, V
     */
    public Plant(SwitchPattern pattern, Signal outputVoltage, List<Signal> currents, Signal inputVoltage) {
        this(pattern, outputVoltage, currents, inputVoltage, Double.POSITIVE_INFINITY, null, null);
    }

    /**
     * Returns the current that a leg senses.
     *
     * @param leg its place in the pattern
     * @return the signal, A
     */
    public Signal current(int leg) {
        return currents.get(currents.size() == 1 ? 0 : leg);
    }

    /**
     * Returns this plant with a full load, from which a regulator in current mode takes how far its command may go.
     *
     * @param inductorCurrent of each leg, at the crest of its ripple, A; 0 or more
     * @return a new plant
     */
    public Plant withFullLoad(double inductorCurrent) {
        return new Plant(pattern, outputVoltage, currents, inputVoltage, inductorCurrent, controlVoltage, errorVoltage);
    }

    /** This plant with another signal in place of the output. */
    Plant sensing(Signal output) {
        return new Plant(pattern, output, currents, inputVoltage, fullLoadCurrent, controlVoltage, errorVoltage);
    }
}
