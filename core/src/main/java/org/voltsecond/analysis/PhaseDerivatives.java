package org.voltsecond.analysis;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.control.CircuitPhase;
import org.voltsecond.control.ControlVariation;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.AffineForm;

/**
 * The derivatives by one parameter of everything that a phase of a driven circuit says, at a fixed state: those of the
 * circuit, and those of the controller by way of what it senses. Over all states.
 *
 * @param rates of each state
 * @param channels of each channel, those of the controller last
 * @param conditions of each rectifier
 * @param control of the controller
 * @param phase the phase
 */
record PhaseDerivatives(
        List<AffineForm> rates,
        List<AffineForm> channels,
        List<AffineForm> conditions,
        ControlVariation control,
        CircuitPhase phase) {

    static PhaseDerivatives of(DrivenCircuit circuit, CircuitPhase phase, ParameterForms forms) {
        int states = circuit.stateNames().size();
        ParameterForms.Derivatives own = forms.in(phase);
        ControlVariation control = switch (forms.kind()) {
            case REFERENCE -> ControlVariation.ofReference(circuit, phase);
            case DIVIDER -> ControlVariation.ofDivider(circuit, phase);
            default -> ControlVariation.of(circuit, phase, own.channels());
        };
        List<AffineForm> rates = new ArrayList<>(extended(List.of(own.rates()), states));
        rates.addAll(control.rates());
        List<AffineForm> channels = new ArrayList<>(extended(own.channels(), states));
        channels.addAll(control.channels());
        return new PhaseDerivatives(rates, channels, extended(own.conditions(), states), control, phase);
    }

    private static List<AffineForm> extended(List<AffineForm> forms, int states) {
        return forms.stream().map(form -> form.extendedTo(states)).toList();
    }

    /** The derivative of a guard of the configuration. */
    AffineForm guard(int index) {
        return index < phase.rectifierGuards() ? conditions.get(phase.rectifierOf(index)) : control.guard(index);
    }
}
