package org.voltsecond.figures;

import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.function.ToDoubleFunction;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Port;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.losses.SwitchingInstant;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.SignedArea;
import org.voltsecond.waveform.Waveform;

/**
 * What a pulse does: the volt-seconds that it puts on the inductor, and the current of the transistor on both sides of the instants at
 * which it closes and opens; where that differs from pulse to pulse, the largest.
 *
 * <pre>{@code
 * double flux = PulseFigures.VOLT_SECONDS.of(steady).get(); // 10.13 µV·s
 * double valley = PulseFigures.CURRENT_AFTER_TURN_ON.of(steady).get(); // 1.780 A
 * double peak = PulseFigures.CURRENT_BEFORE_TURN_OFF.of(steady).get(); // 2.240 A
 * }</pre>
 */
public final class PulseFigures {
    /** What lies above zero of the inductor voltage, without that of its series resistance, over a period, V s. */
    public static final Figure<ConverterSteadyState> VOLT_SECONDS = Figure.of(
            "pulse/volt_seconds",
            "volt-seconds of the inductor",
            Unit.VOLT_SECOND,
            steady -> steady.converter()
                    .roles()
                    .inductor()
                    .map(name -> Result.of(Told.number(
                            SignedArea.above(coilVoltage(steady, name)),
                            steady.converter().inputVoltage() * steady.period())))
                    .orElse(Result.missing("there is no inductor")));

    /** The transistor current just before it closes, A: not zero where a body diode or a capacitance beside it carries some. */
    public static final Figure<ConverterSteadyState> CURRENT_BEFORE_TURN_ON =
            current("before", true, SwitchingInstant::currentBefore);

    /** The transistor current just after it has closed, A. */
    public static final Figure<ConverterSteadyState> CURRENT_AFTER_TURN_ON =
            current("after", true, SwitchingInstant::currentAfter);

    /** The transistor current just before it opens, A. */
    public static final Figure<ConverterSteadyState> CURRENT_BEFORE_TURN_OFF =
            current("before", false, SwitchingInstant::currentBefore);

    /** The transistor current just after it has opened, A. */
    public static final Figure<ConverterSteadyState> CURRENT_AFTER_TURN_OFF =
            current("after", false, SwitchingInstant::currentAfter);

    private PulseFigures() {}

    private static Figure<ConverterSteadyState> current(
            String side, boolean turnsOn, ToDoubleFunction<SwitchingInstant> current) {
        String edge = turnsOn ? "turn-on" : "turn-off";
        return Figure.of(
                "pulse/current_" + side + "_" + edge.replace('-', '_'),
                "transistor current just " + side + " " + edge,
                Unit.AMPERE,
                steady -> {
                    Waveform whole = steady.of(steady.converter().transistorCurrent());
                    return SwitchingInstant.of(steady, steady.converter().transistorName(), List.of()).stream()
                            .filter(instant -> instant.turnsOn() == turnsOn)
                            .map(current::applyAsDouble)
                            .max((one, other) -> Double.compare(Math.abs(one), Math.abs(other)))
                            .map(found -> Result.of(Told.number(found, whole)))
                            .orElse(Result.missing("the transistor never changes"));
                });
    }

    /** {@return those that are told of every steady state} */
    public static List<Figure<ConverterSteadyState>> told() {
        return List.of(
                VOLT_SECONDS,
                CURRENT_BEFORE_TURN_ON,
                CURRENT_AFTER_TURN_ON,
                CURRENT_BEFORE_TURN_OFF,
                CURRENT_AFTER_TURN_OFF);
    }

    /**
     * Returns the voltage of an inductor without that of its series resistance.
     *
     * @param steady the steady state
     * @param inductor its name; "part.winding" for one of coupled inductors
     * @return over a period, V
     * @throws IllegalArgumentException if there is no such inductor
     */
    public static Waveform coilVoltage(ConverterSteadyState steady, String inductor) {
        DrivenCircuit driven = steady.converter().driven();
        double resistance = resistance(driven.circuit(), inductor);
        return steady.of(driven.voltageAcross(inductor))
                .minus(steady.of(driven.current(inductor)).times(resistance).as("drop", Unit.VOLT));
    }

    private static double resistance(Circuit circuit, String inductor) {
        for (Part part : circuit.parts()) {
            if (part instanceof Part.Inductor coil && coil.name().equals(inductor)) {
                return coil.seriesResistance();
            }
            if (part instanceof Part.CoupledInductors coils) {
                for (Part.Winding winding : coils.windings()) {
                    if (inductor.equals(coils.name() + "." + winding.name())) {
                        return winding.seriesResistance();
                    }
                }
            }
        }
        throw new IllegalArgumentException(
                "there is no inductor '" + inductor + "'; valid: " + String.join(", ", inductors(circuit)));
    }

    /**
     * Returns the inductors of a circuit.
     *
     * @param circuit the circuit
     * @return their names; "part.winding" for each of coupled inductors
     */
    public static Set<String> inductors(Circuit circuit) {
        Set<String> names = new LinkedHashSet<>();
        for (Part part : circuit.parts()) {
            if (part instanceof Part.Inductor || part instanceof Part.CoupledInductors) {
                part.ports().stream().map(Port::name).forEach(names::add);
            }
        }
        return names;
    }
}
