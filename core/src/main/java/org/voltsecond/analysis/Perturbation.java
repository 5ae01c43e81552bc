package org.voltsecond.analysis;

/**
 * Where a small sine enters a circuit, to see what it does. Immutable.
 *
 * <pre>{@code
 * Signal output = rail.outputVoltage();
 * SmallSignal response = SmallSignal.of(steady.periodic());
 * double line = response.response(Perturbation.source("V1"), output, 100).magnitude(0); // 0.4367 V/V
 * double duty = response.response(Perturbation.dutyCycle("Q1"), output, 100).magnitude(0); // 11.92 V
 * }</pre>
 */
public sealed interface Perturbation {
    /**
     * A sine on top of the value of a source.
     *
     * @param source reference designator of an independent voltage or current source; its sine is in V or A
     */
    record OfSource(String source) implements Perturbation {}

    /**
     * A sine on top of the duty cycle of a fixed drive: every instant at which the pulse of the switch ends moves by the clock
     * period times the value that the sine has at that instant. What was given the complement of its drive begins to conduct
     * with it; what else switches at that instant stays. Where that makes a difference between longer and shorter pulses, it is
     * the mean of both, which is the component of the response at the frequency of the sine.
     *
     * @param switchName reference designator of a switch that turns off in every period; empty for all, each by the same
     */
    record OfDutyCycle(String switchName) implements Perturbation {}

    /** A voltage in series with the control voltage of a regulator, between the compensator and the comparator. */
    record OfControlVoltage() implements Perturbation {}

    /** A sine on top of the reference of a regulator. */
    record OfReference() implements Perturbation {}

    /**
     * Returns a sine on top of the reference of a regulator. Where the reference is a source of the circuit, as with an
     * amplifier and its parts, disturb that {@link #source(String)}.
     *
     * @return the perturbation, V
     */
    static Perturbation reference() {
        return new OfReference();
    }

    /**
     * Returns a sine on top of the value of a source: the line voltage, or a current that loads the output.
     *
     * @param source reference designator of an independent voltage or current source
     * @return the perturbation, in V or A
     */
    static Perturbation source(String source) {
        return new OfSource(source);
    }

    /**
     * Returns a sine on top of the duty cycle of a fixed drive.
     *
     * @param switchName reference designator of a switch
     * @return the perturbation, a plain number
     */
    static Perturbation dutyCycle(String switchName) {
        return new OfDutyCycle(switchName);
    }

    /**
     * Returns a voltage in series with the control voltage of a regulator.
     *
     * @return the perturbation, V
     */
    static Perturbation controlVoltage() {
        return new OfControlVoltage();
    }
}
