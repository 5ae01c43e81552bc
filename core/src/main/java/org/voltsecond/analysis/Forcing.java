package org.voltsecond.analysis;

import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;
import org.voltsecond.control.Controller;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.AffineForm;

/**
 * A circuit in which a perturbation is a state, or a pair of states that turn as sine and cosine, so that the compiled
 * system itself says where it enters: into the rates, into the conditions that switch, into what is read off.
 *
 * @param circuit the circuit with these states; they are zero on its orbit
 * @param value index of the state that is the perturbation; -1 if an edge moves instead
 * @param derivative index of the state that is its derivative divided by {@code angular}; -1 for none
 * @param angular 1/s
 * @param kept indices of all other states
 */
record Forcing(DrivenCircuit circuit, int value, int derivative, double angular, int[] kept) {

    /** {@code later}: whether edges that move come after others of the same instant that stay; else before. */
    static Forcing of(DrivenCircuit circuit, Perturbation perturbation, boolean later) {
        if (perturbation instanceof Perturbation.OfSource of) {
            return ofSource(circuit, of.source());
        }
        if (perturbation instanceof Perturbation.OfDutyCycle of) {
            return of(circuit.withMovingEdges(of.switchName(), later), -1, -1, 1);
        }
        boolean ofReference = perturbation instanceof Perturbation.OfReference;
        DrivenCircuit injected = ofReference ? circuit.withReferenceInjection() : circuit.withControlInjection();
        String state = ofReference ? Controller.REFERENCE_INJECTION : Controller.INJECTION;
        return of(injected, injected.stateNames().indexOf(state), -1, 1);
    }

    private static Forcing ofSource(DrivenCircuit circuit, String name) {
        Circuit parts = circuit.circuit();
        Part part = parts.part(name);
        double frequency = 1 / circuit.clockPeriod();
        Circuit swinging;
        if (part instanceof Part.VoltageSource source) {
            swinging = parts.withVoltage(name, source.voltage().withSine(0, frequency, 0));
        } else if (part instanceof Part.CurrentSource source) {
            swinging = parts.withCurrent(name, source.current().withSine(0, frequency, 0));
        } else {
            throw new IllegalArgumentException(
                    "what is to be disturbed must be an independent voltage or current source," + " but " + name
                            + " is " + part);
        }
        DrivenCircuit driven = circuit.withCircuit(swinging);
        List<String> names = driven.stateNames();
        List<String> before = circuit.stateNames();
        int[] added = IntStream.range(0, names.size())
                .filter(i -> !before.contains(names.get(i)))
                .toArray();
        return of(driven, added[0], added[1], 2 * Math.PI * frequency);
    }

    private static Forcing of(DrivenCircuit circuit, int value, int derivative, double angular) {
        int[] kept = IntStream.range(0, circuit.stateNames().size())
                .filter(i -> i != value && i != derivative)
                .toArray();
        return new Forcing(circuit, value, derivative, angular, kept);
    }

    /** How much of a form is due to the perturbation, per unit of it: the real part. */
    double direct(AffineForm form) {
        return value < 0 ? 0 : form.coefficient(value);
    }

    /** The imaginary part, at an angular frequency in 1/s. */
    double quadrature(AffineForm form, double omega) {
        return derivative < 0 ? 0 : form.coefficient(derivative) * omega / angular;
    }

    /** The factors of the other states. */
    double[] ofKept(AffineForm form) {
        return Arrays.stream(kept).mapToDouble(form::coefficient).toArray();
    }
}
