package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.ControlledSource;
import org.voltsecond.circuit.OperationalAmplifier;
import org.voltsecond.circuit.Profile;
import org.voltsecond.stage.Roles;

/**
 * An error amplifier with its compensation network as parts: an operational amplifier, to whose inverting input the divided
 * output voltage comes through a resistor, and from whose output a resistor and a capacitor in series feed back. With a
 * bypass capacitor across these it is a compensator of type II; with a resistor and a capacitor in series across the input
 * resistor too, of type III (R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, 3rd ed., Springer 2020,
 * sec. 9.5, from memory). Beside the transfer function its control voltage has the reference in it, its gain and bandwidth
 * are finite, and at its limits the capacitors charge on. Immutable.
 *
 * <pre>{@code
 * ErrorAmplifier amplifier = new ErrorAmplifier(
 *         1, // reference, V
 *         0.2, // divider
 *         OperationalAmplifier.of(1e5, mega(10), 0, 3),
 *         kilo(20), // from the divider to the inverting input, ohm
 *         new ErrorAmplifier.Branch(kilo(1), nano(33)), // from the output back to it: type II with the bypass below
 *         ErrorAmplifier.Branch.NONE,
 *         nano(1.5));
 * Converter rail = stage.drive(VoltageMode.withErrorAmplifier(kilo(300)).withRamp(0, 1), amplifier);
 * }</pre>
 *
 * @param reference V; more than 0
 * @param divider divided voltage over output voltage; more than 0, at most 1. The divider is ideal: the network does not
 *     load it
 * @param amplifier the amplifier; its limits are those of the control voltage
 * @param inputResistance from the divider to the inverting input, Ω; more than 0
 * @param feedback from the output to the inverting input
 * @param inputBranch across the input resistance; of no capacitance for none
 * @param bypassCapacitance across the feedback, F; 0 for none
 * @param softStart time in which the reference rises linearly from 0 once the run begins, s; 0 for none. It rises once: a
 *     regulator that starts anew, after a hiccup or an under-voltage lock-out, finds it risen
 */
public record ErrorAmplifier(
        double reference,
        double divider,
        OperationalAmplifier amplifier,
        double inputResistance,
        Branch feedback,
        Branch inputBranch,
        double bypassCapacitance,
        double softStart) {
    /**
     * An amplifier whose reference is there from the first instant.
     *
     * @param reference V; more than 0
     * @param divider divided voltage over output voltage; more than 0, at most 1
     * @param amplifier the amplifier
     * @param inputResistance from the divider to the inverting input, Ω; more than 0
     * @param feedback from the output to the inverting input
     * @param inputBranch across the input resistance
     * @param bypassCapacitance across the feedback, F; 0 for none
     */
    public ErrorAmplifier(
            double reference,
            double divider,
            OperationalAmplifier amplifier,
            double inputResistance,
            Branch feedback,
            Branch inputBranch,
            double bypassCapacitance) {
        this(reference, divider, amplifier, inputResistance, feedback, inputBranch, bypassCapacitance, 0);
    }

    /**
     * A resistor and a capacitor in series.
     *
     * @param resistance Ω; 0 or more
     * @param capacitance F; 0 or more, 0 for no branch at all
     */
    public record Branch(double resistance, double capacitance) {
        /** No branch at all. */
        public static final Branch NONE = new Branch(0, 0);

        boolean exists() {
            return !(capacitance == 0);
        }
    }

    /**
     * Returns the amplifier with another reference.
     *
     * @param other V; more than 0
     * @return a new amplifier
     */
    public ErrorAmplifier withReference(double other) {
        return new ErrorAmplifier(
                other, divider, amplifier, inputResistance, feedback, inputBranch, bypassCapacitance, softStart);
    }

    /**
     * Returns the amplifier with a soft start.
     *
     * @param time in which the reference rises linearly from 0, s; 0 for none
     * @return a new amplifier
     */
    public ErrorAmplifier withSoftStart(double time) {
        return new ErrorAmplifier(
                reference, divider, amplifier, inputResistance, feedback, inputBranch, bypassCapacitance, time);
    }

    /** The reference from the start of a run on. */
    Profile course() {
        return softStart > 0 ? Profile.constant(0).rampTo(0, softStart, reference) : Profile.constant(reference);
    }

    /**
     * Returns what is wrong.
     *
     * @return one line for each fault; empty if all is well
     */
    public List<String> faults() {
        List<String> faults = new ArrayList<>();
        positive(faults, "reference", reference, "V");
        if (!(divider > 0 && divider <= 1)) {
            faults.add("divider must be more than 0 and at most 1 but was " + divider);
        }
        positive(faults, "gain", amplifier.gain(), "V/V");
        positive(faults, "gain-bandwidth", amplifier.gainBandwidth(), "Hz");
        notNegative(faults, "output resistance", amplifier.outputResistance(), "Ω");
        if (!(amplifier.low() < amplifier.high())
                || !Double.isFinite(amplifier.low())
                || !Double.isFinite(amplifier.high())) {
            faults.add("lowest output voltage must be finite and below the highest of " + amplifier.high()
                    + " V but was " + amplifier.low() + " V");
        }
        positive(faults, "input resistance", inputResistance, "Ω");
        notNegative(faults, "feedback resistance", feedback.resistance(), "Ω");
        positive(faults, "feedback capacitance", feedback.capacitance(), "F");
        notNegative(faults, "bypass capacitance", bypassCapacitance, "F");
        notNegative(faults, "soft start", softStart, "s");
        notNegative(faults, "capacitance of the input branch", inputBranch.capacitance(), "F");
        if (inputBranch.exists()) {
            // with none the capacitors and the ideal amplifier would make a loop without resistance
            positive(faults, "resistance of the input branch", inputBranch.resistance(), "Ω");
        }
        return List.copyOf(faults);
    }

    private static void positive(List<String> faults, String what, double value, String unit) {
        if (!(value > 0 && value < Double.POSITIVE_INFINITY)) {
            faults.add(what + " must be more than 0 " + unit + " and finite but was " + value + " " + unit);
        }
    }

    private static void notNegative(List<String> faults, String what, double value, String unit) {
        if (!(value >= 0 && value < Double.POSITIVE_INFINITY)) {
            faults.add(what + " must be 0 " + unit + " or more and finite but was " + value + " " + unit);
        }
    }

    /** Adds the parts of an error amplifier to a converter, under names that are not taken there. */
    static final class Wiring {
        private final Circuit power;
        private final Roles roles;
        private final ErrorAmplifier error;
        private final Set<String> taken = new HashSet<>();

        final String divided;
        final String reference;
        final String control;
        final String referenceSource;
        private final String inverting;
        private final String divider;
        private final String inputResistor;
        private final String inputCapacitor;
        private final String feedbackCapacitor;
        private final String bypassCapacitor;
        private final String operationalAmplifier;

        Wiring(Circuit power, Roles roles, ErrorAmplifier error) {
            this.power = power;
            this.roles = roles;
            this.error = error;
            power.parts().forEach(part -> taken.add(part.name()));
            divided = node(power, "divided");
            reference = node(power, "reference");
            control = node(power, "control");
            inverting = node(power, "inverting");
            divider = take("U2");
            referenceSource = take("V2");
            inputResistor = take("R2");
            inputCapacitor = take("C3");
            feedbackCapacitor = take("C2");
            bypassCapacitor = take("C4");
            operationalAmplifier = take("U1");
        }

        private String take(String name) {
            String free = free(taken, name);
            taken.add(free);
            return free;
        }

        /** The name, or the next with a higher number that is not taken. */
        static String free(Set<String> taken, String name) {
            int number = Integer.parseInt(name.substring(1));
            while (taken.contains(name.substring(0, 1) + number)) {
                number++;
            }
            return name.substring(0, 1) + number;
        }

        private static String node(Circuit power, String name) {
            return power.nodes().contains(name) ? node(power, name + " of the error amplifier") : name;
        }

        Circuit circuit() {
            Circuit.Builder builder = Circuit.builder();
            power.parts().forEach(builder::part);
            double factor = roles.isInverting() ? -error.divider() : error.divider();
            builder.part(new ControlledSource.VoltageByVoltage(
                            divider, divided, Circuit.GROUND, roles.outputNode(), roles.outputReference(), factor))
                    .voltageSource(referenceSource, reference, Circuit.GROUND, error.course())
                    .resistor(inputResistor, divided, inverting, error.inputResistance());
            addBranch(builder, inputCapacitor, divided, error.inputBranch());
            addBranch(builder, feedbackCapacitor, control, error.feedback());
            addBranch(builder, bypassCapacitor, control, new ErrorAmplifier.Branch(0, error.bypassCapacitance()));
            return builder.operationalAmplifier(operationalAmplifier, reference, inverting, control, error.amplifier())
                    .build();
        }

        private void addBranch(Circuit.Builder builder, String name, String from, ErrorAmplifier.Branch branch) {
            if (branch.exists()) {
                builder.capacitor(name, from, inverting, branch.capacitance(), branch.resistance());
            }
        }
    }
}
