package org.voltsecond.converter;

import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.analysis.Perturbation;
import org.voltsecond.analysis.SmallSignal;

/**
 * The small-signal behaviour of a converter in its steady state, from the switching model itself; see
 * {@link SmallSignal}. Frequencies are in Hz, ascending, all more than 0. Immutable, safe for any thread.
 *
 * <pre>{@code
 * ConverterSmallSignal response = regulated.steadyState().smallSignal();
 * FrequencyResponse loop = response.loopGain(FrequencyResponse.decades(100, kilo(100), 20));
 * double crossover = loop.margins().crossoverFrequency().orElseThrow(); // 581 Hz
 * double impedance = response.outputImpedance(1000).magnitude(0); // 129 mΩ
 * }</pre>
 */
public final class ConverterSmallSignal {
    private final Converter converter;
    private final SmallSignal smallSignal;

    ConverterSmallSignal(Converter converter, SmallSignal smallSignal) {
        this.converter = converter;
        this.smallSignal = smallSignal;
    }

    /**
     * Returns the behaviour of the circuit, for perturbations and signals of any kind.
     *
     * @return the small-signal behaviour
     */
    public SmallSignal ofCircuit() {
        return smallSignal;
    }

    /**
     * Works out the response of the output voltage to the duty cycle of a fixed drive, or to the control voltage of a
     * regulator, its loop taken as open.
     *
     * @param frequencies Hz
     * @return the response, V for a duty cycle of 1, or V/V
     * @throws IllegalArgumentException if the frequencies are not as they should be, or a fixed drive never switches
     */
    public FrequencyResponse controlToOutput(double... frequencies) {
        return converter.isRegulated()
                ? smallSignal.controlTo(converter.outputVoltage(), frequencies)
                : smallSignal.response(Perturbation.dutyCycle(moved()), converter.outputVoltage(), frequencies);
    }

    /** The switch whose duty cycle moves; several that one drive reaches move together. */
    private String moved() {
        return converter.roles().isTimed() ? "" : converter.transistorName();
    }

    /**
     * Works out the loop gain of a regulator.
     *
     * @param frequencies Hz
     * @return the loop gain
     * @throws UnsupportedOperationException if the duty cycle is fixed
     * @throws IllegalArgumentException if the frequencies are not as they should be
     */
    public FrequencyResponse loopGain(double... frequencies) {
        return smallSignal.loopGain(frequencies);
    }

    /**
     * Works out the response of the output voltage to the input voltage, of a regulated converter with its loop closed.
     *
     * @param frequencies Hz
     * @return the response, V/V
     * @throws IllegalArgumentException if the frequencies are not as they should be
     */
    public FrequencyResponse lineToOutput(double... frequencies) {
        return smallSignal.response(
                Perturbation.source(converter.roles().source()), converter.outputVoltage(), frequencies);
    }

    /**
     * Works out the response of the output voltage to the reference of a regulator, its loop closed.
     *
     * @param frequencies Hz
     * @return the response, V/V
     * @throws UnsupportedOperationException if there is no reference: the duty cycle is fixed, or the command is one of current
     * @throws IllegalArgumentException if the frequencies are not as they should be
     */
    public FrequencyResponse referenceToOutput(double... frequencies) {
        boolean ofParts = converter.values().amplifier() != null;
        Perturbation reference = ofParts
                ? Perturbation.source(converter.values().amplified().referenceSource)
                : Perturbation.reference();
        return smallSignal.response(reference, converter.outputVoltage(), frequencies);
    }

    /**
     * Works out the output impedance, the load's own resistance in parallel, of a regulated converter with its loop closed.
     *
     * @param frequencies Hz
     * @return the impedance, Ω
     * @throws IllegalArgumentException if the frequencies are not as they should be
     */
    public FrequencyResponse outputImpedance(double... frequencies) {
        return smallSignal.outputImpedance(
                converter.roles().loadSink().orElseThrow(), converter.outputVoltage(), frequencies);
    }

    @Override
    public String toString() {
        return "small-signal behaviour of " + converter;
    }
}
