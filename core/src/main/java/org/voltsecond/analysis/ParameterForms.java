package org.voltsecond.analysis;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.IdentityHashMap;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Network;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Port;
import org.voltsecond.circuit.Profile;
import org.voltsecond.circuit.Regime;
import org.voltsecond.control.CircuitPhase;
import org.voltsecond.engine.AffineForm;

/**
 * The derivative of everything that a regime says with respect to the value of one part, by substitution: a resistance
 * that grows by dR is a source of dR times the current in series with it, an inductance that grows by dL one of dL times
 * the rate of its current, a forward drop one of dV; and a current source that grows is another one beside it. (Source
 * substitution as in the proof of Cohn's theorem, from memory.) So the circuit is compiled once more with such sources
 * as states, and what depends on those states is the derivative: exact, with no difference of nearby circuits, for any
 * circuit that can be compiled at all. A capacitance divides the rate of its own voltage alone.
 */
final class ParameterForms {
    /** Marks nodes and parts that are not in the circuit itself. */
    private static final String MARK = "~";

    private final Circuit circuit;
    private final Parameter parameter;
    private final int states;
    private final int stateOfPart;
    private final @Nullable Network probed;
    private final IdentityHashMap<Regime, Regime> probedRegimes = new IdentityHashMap<>();

    ParameterForms(Circuit circuit, Parameter parameter) {
        this.circuit = circuit;
        this.parameter = parameter;
        states = circuit.stateNames().size();
        stateOfPart = circuit.stateNames().indexOf(parameter.part());
        check();
        probed = isOfNoPart() || parameter.kind() == Parameter.Kind.CAPACITANCE ? null : probe();
    }

    Parameter.Kind kind() {
        return parameter.kind();
    }

    /** What depends on the state, and on the parameter by way of the state alone, has a derivative of zero here. */
    record Derivatives(AffineForm[] rates, List<AffineForm> channels, List<AffineForm> conditions) {}

    private boolean isOfNoPart() {
        return parameter.kind() == Parameter.Kind.DUTY_CYCLE
                || parameter.kind() == Parameter.Kind.FREQUENCY
                || parameter.isOfController();
    }

    private void check() {
        if (isOfNoPart()) {
            return;
        }
        Part part = circuit.part(parameter.part());
        boolean fits = switch (parameter.kind()) {
            case SOURCE_VOLTAGE -> part instanceof Part.VoltageSource;
            case SOURCE_CURRENT -> part instanceof Part.CurrentSource;
            case INDUCTANCE -> part instanceof Part.Inductor;
            case CAPACITANCE -> part instanceof Part.Capacitor;
            case FORWARD_DROP -> part instanceof Part.Rectifier || part instanceof Part.Switch;
            default ->
                part instanceof Part.Resistor
                        || part instanceof Part.Switch
                        || part instanceof Part.Rectifier
                        || part instanceof Part.Inductor
                        || part instanceof Part.Capacitor;
        };
        if (!fits) {
            throw new IllegalArgumentException("there is no " + parameter + " to differentiate by: " + parameter.part()
                    + " is a " + part.getClass().getSimpleName());
        }
    }

    private Network probe() {
        List<String> name = List.of(parameter.part() + MARK);
        return Network.of(withProbe(), name, 0);
    }

    private Circuit withProbe() {
        Circuit.Builder builder = Circuit.builder();
        Profile ramp = Profile.constant(0).rampTo(0, 1, 1);
        for (Part part : circuit.parts()) {
            if (!part.name().equals(parameter.part())) {
                builder.part(part);
                continue;
            }
            Port port = part.ports().get(0);
            String node = port.plus() + MARK;
            if (part instanceof Part.CurrentSource) {
                builder.part(part).currentSource(part.name() + MARK, port.plus(), port.minus(), ramp);
            } else {
                builder.voltageSource(part.name() + MARK, port.plus(), node, ramp)
                        .part(from(part, node));
            }
        }
        return builder.build();
    }

    /** The same part, beginning at another node. */
    private static Part from(Part part, String node) {
        if (part instanceof Part.Resistor r) {
            return new Part.Resistor(r.name(), node, r.b(), r.resistance());
        } else if (part instanceof Part.Switch q) {
            return new Part.Switch(q.name(), node, q.b(), q.onResistance(), q.forwardDrop());
        } else if (part instanceof Part.Rectifier d) {
            return new Part.Rectifier(d.name(), node, d.cathode(), d.forwardDrop(), d.resistance());
        } else if (part instanceof Part.Inductor l) {
            return new Part.Inductor(l.name(), node, l.b(), l.inductance(), l.seriesResistance(), l.initialCurrent());
        } else if (part instanceof Part.Capacitor c) {
            return new Part.Capacitor(c.name(), node, c.b(), c.capacitance(), c.seriesResistance(), c.initialVoltage());
        }
        Part.VoltageSource v = (Part.VoltageSource) part;
        return new Part.VoltageSource(v.name(), node, v.minus(), v.voltage());
    }

    /** The derivatives in one phase, over the states of the circuit. */
    Derivatives in(CircuitPhase phase) {
        Regime regime = phase.regime();
        AffineForm none = AffineForm.constant(states, 0);
        AffineForm[] rates = new AffineForm[states];
        Arrays.fill(rates, none);
        Network network = probed;
        if (network == null) {
            if (parameter.kind() == Parameter.Kind.CAPACITANCE) {
                rates[stateOfPart] = regime.rates().get(stateOfPart).times(-1 / circuit.storage()[stateOfPart]);
            }
            return new Derivatives(
                    rates,
                    Collections.nCopies(regime.channels().size(), none),
                    Collections.nCopies(regime.conditions().size(), none));
        }
        Regime with = probedRegimes.computeIfAbsent(regime, key -> network.regime(key.closed(), key.conducting()));
        AffineForm strength = strength(regime);
        for (int j = 0; j < states; j++) {
            rates[j] = strength.times(with.rates().get(j).coefficient(states));
        }
        return new Derivatives(rates, channels(network, with, strength), conditions(with, strength));
    }

    /** Voltage or current of the source that stands for a parameter which grows by one unit. */
    private AffineForm strength(Regime regime) {
        return switch (parameter.kind()) {
            case RESISTANCE -> regime.channels().get(currentChannel());
            case INDUCTANCE -> regime.rates().get(stateOfPart);
            default -> AffineForm.constant(states, 1);
        };
    }

    private int currentChannel() {
        return circuit.nodes().size() + 2 * portIndex() + 1;
    }

    private int portIndex() {
        return circuit.ports().stream().map(Port::name).toList().indexOf(parameter.part());
    }

    private List<AffineForm> channels(Network network, Regime with, AffineForm strength) {
        List<AffineForm> result = new ArrayList<>();
        for (String node : circuit.nodes()) {
            result.add(strength.times(
                    with.channels().get(network.nodeChannel(node)).coefficient(states)));
        }
        boolean parallel = parameter.kind() == Parameter.Kind.SOURCE_CURRENT;
        for (Port port : circuit.ports()) {
            boolean own = port.name().equals(parameter.part());
            double voltage =
                    with.channels().get(network.voltageChannel(port.name())).coefficient(states);
            double current =
                    with.channels().get(network.currentChannel(port.name())).coefficient(states);
            result.add(strength.times(voltage + (own && !parallel ? 1 : 0)));
            result.add(strength.times(current + (own && parallel ? 1 : 0)));
        }
        return result;
    }

    private List<AffineForm> conditions(Regime with, AffineForm strength) {
        return with.conditions().stream()
                .map(condition -> strength.times(condition.coefficient(states)))
                .toList();
    }
}
