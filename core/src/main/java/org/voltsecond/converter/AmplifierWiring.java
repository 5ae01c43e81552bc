package org.voltsecond.converter;

import java.util.HashSet;
import java.util.Set;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;

/** Adds the parts of an error amplifier to a converter, under names that are not taken there. */
final class AmplifierWiring {
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

    AmplifierWiring(Circuit power, Roles roles, ErrorAmplifier error) {
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
        builder.part(new Part.VoltageByVoltage(
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
