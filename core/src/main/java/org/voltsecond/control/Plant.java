package org.voltsecond.control;

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
 * @param transistor name of the switch that puts energy into the inductor
 * @param synchronousTransistor name of the switch that stands in for the rectifier; null where a rectifier does it alone
 * @param outputVoltage the voltage to be regulated, positive; for an inverting stage its magnitude, V
 * @param inductorCurrent positive as the on interval drives it, A
 * @param inputVoltage the voltage of the source, V
 * @param fullLoadCurrent inductor current at the crest of its ripple at full load, A: what the limits of a current command
 *     are measured by; infinite where it is not known
 * @param controlVoltage the control voltage that an error amplifier of the circuit makes, V; null where there is none
 * @param errorVoltage the error voltage at that amplifier, V; null where there is none
 */
public record Plant(
        String transistor,
        @Nullable String synchronousTransistor,
        Signal outputVoltage,
        Signal inductorCurrent,
        Signal inputVoltage,
        double fullLoadCurrent,
        @Nullable Signal controlVoltage,
        @Nullable Signal errorVoltage) {
    /**
     * A circuit without an error amplifier whose full load is not known.
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
                transistor,
                synchronousTransistor,
                outputVoltage,
                inductorCurrent,
                inputVoltage,
                Double.POSITIVE_INFINITY,
                null,
                null);
    }

    /**
     * Returns this plant with a full load, from which a regulator in current mode takes how far its command may go.
     *
     * @param inductorCurrent at the crest of its ripple, A; 0 or more
     * @return a new plant
     */
    public Plant withFullLoad(double inductorCurrent) {
        return new Plant(
                transistor,
                synchronousTransistor,
                outputVoltage,
                this.inductorCurrent,
                inputVoltage,
                inductorCurrent,
                controlVoltage,
                errorVoltage);
    }
}
