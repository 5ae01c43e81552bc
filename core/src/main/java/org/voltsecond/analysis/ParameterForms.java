package org.voltsecond.analysis;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.IdentityHashMap;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Network;
import org.voltsecond.circuit.NonlinearResistor;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Port;
import org.voltsecond.circuit.Profile;
import org.voltsecond.circuit.Regime;
import org.voltsecond.control.CircuitPhase;
import org.voltsecond.engine.AffineForm;

/**
 * The derivative of everything that a regime says with respect to the value of one part, by substitution: a resistance
 * that grows by dR is a source of dR times the current in series with it, an inductance that grows by dL one of dL times
 * the rate of its current, a forward drop one of dV; a capacitance that grows by dC is a source of dC times the rate of its
 * voltage beside it, and a current source that grows is another one beside it. (Source substitution as in the proof of
 * Cohn's theorem, from memory.) Of coupled inductors each winding has its own source, of the change of the inductance matrix
 * times the rates of all currents; a winding of an ideal transformer whose turns grow has one in series, of its voltage for
 * each turn, and one beside it, of its current for each turn, since v / n and the sum of n i are what its windings share.
 *
 * <p>So the circuit is compiled once more with each such source as a state, and what depends on that state is the
 * derivative: exact, with no difference of nearby circuits, for any circuit that can be compiled at all. The states are those of
 * the circuit as it is: of coupled inductors the same combinations of currents, whatever becomes of their inductances.
 */
final class ParameterForms {
    /** Marks nodes and parts that are not in the circuit itself. */
    private static final String MARK = "~";

    private final Circuit circuit;
    private final Parameter parameter;
    private final int states;
    private final PartForms bent;
    private final List<Probe> probes;

    ParameterForms(Circuit circuit, Parameter parameter) {
        this.circuit = circuit;
        this.parameter = parameter;
        states = circuit.stateNames().size();
        bent = new PartForms(circuit, parameter, states);
        probes = parameter.isOfPart() ? probes() : List.of();
    }

    Parameter.Kind kind() {
        return parameter.kind();
    }

    /** What depends on the state, and on the parameter by way of the state alone, has a derivative of zero here. */
    record Derivatives(AffineForm[] rates, List<AffineForm> channels, List<AffineForm> conditions) {}

    /** The derivatives in one phase, over the states of the circuit. */
    Derivatives in(CircuitPhase phase) {
        Regime regime = phase.regime();
        AffineForm none = AffineForm.constant(states, 0);
        AffineForm[] rates = new AffineForm[states];
        Arrays.fill(rates, none);
        List<AffineForm> channels =
                new ArrayList<>(Collections.nCopies(regime.channels().size(), none));
        List<AffineForm> conditions =
                new ArrayList<>(Collections.nCopies(regime.conditions().size(), none));
        for (Probe probe : probes) {
            probe.new Answer(regime).addTo(rates, channels, conditions);
        }
        if (parameter.isOfPart() && circuit.bends(bent.part)) {
            Port port = circuit.part(bent.part).ports().get(0);
            bent.addTo(conditions, circuit.part(bent.part), current(regime, port), regime);
        }
        if (bent.recovering != null) {
            int state = bent.recovering.state();
            rates[state] = rates[state].plus(1, bent.recovering.rate(regime));
        }
        return new Derivatives(rates, channels, conditions);
    }

    /**
     * What the parameter adds to the jump from one phase into the next: there flux and charge are kept, which it may belong to.
     *
     * @param before state just before
     * @param after state just after
     */
    double[] jump(CircuitPhase from, double[] before, CircuitPhase to, double[] after) {
        double[] jump = new double[states];
        for (Probe probe : probes) {
            Probe.Answer answer = probe.new Answer(to.regime());
            double kept = probe.kept(from.regime(), before, to.regime(), after);
            for (int j = 0; j < states; j++) {
                jump[j] += answer.jump(j, after, kept);
            }
        }
        if (bent.recovering != null) {
            int state = bent.recovering.state();
            jump[state] += bent.recovering.jump(after[state] - before[state]);
        }
        return jump;
    }

    // ------------------------------------------------------------------------------------------------- which sources

    private List<Probe> probes() {
        Port port = circuit.ports().stream()
                .filter(each -> each.name().equals(bent.part))
                .findFirst()
                .orElse(null);
        Part part = circuit.part(port == null ? bent.part : port.part());
        if (part instanceof NonlinearResistor resistor && port != null) {
            boolean has = resistor.curve().values().stream()
                    .anyMatch(value -> value.quantity().equals(parameter.quantity()));
            return required(
                    has
                            ? List.of(new Probe(
                                    port, true, regime -> bent.voltage(resistor, current(regime, port), regime), null))
                            : null,
                    part);
        }
        if (part instanceof Part.Rectifier d && port != null) {
            return required(ofRectifier(d, port), part);
        }
        List<Probe> found = switch (parameter.kind()) {
            case SOURCE_VOLTAGE -> port != null && part instanceof Part.VoltageSource ? one(port, true) : null;
            case SOURCE_CURRENT -> port != null && part instanceof Part.CurrentSource ? one(port, false) : null;
            case FORWARD_DROP -> port != null && part instanceof Part.Switch ? one(port, true) : null;
            case RESISTANCE ->
                port != null && hasResistance(part)
                        ? List.of(new Probe(port, true, regime -> current(regime, port), null))
                        : null;
            case CAPACITANCE ->
                port != null && part instanceof Part.Capacitor && bent.exists()
                        ? List.of(new Probe(port, false, null, regime -> bent.share(state(port), regime)))
                        : null;
            case INDUCTANCE ->
                port != null && part instanceof Part.Inductor && bent.exists()
                        ? List.of(new Probe(port, true, null, regime -> bent.share(state(port), regime)))
                        : port != null && part instanceof Part.CoupledInductors t
                                ? ofWindings(t, byInductance(t, t.ports().indexOf(port)))
                                : null;
            case COUPLING, MUTUAL_INDUCTANCE ->
                part instanceof Part.CoupledInductors t && t.windings().size() == 2 ? ofWindings(t, byMutual(t)) : null;
            case TURNS ->
                port != null && part instanceof Part.IdealTransformer t
                        ? ofTurns(port, t.ports().indexOf(port), t)
                        : null;
            case ABOVE -> port != null && bent.exists() ? List.of() : null;
            case POWER, MINIMUM_VOLTAGE, NUMBER, LIFETIME, TRANSIT_TIME -> null;
            default -> List.of();
        };
        return required(found, part);
    }

    /** A value of its line is a voltage in series; one of its recovery moves the share of the charge that flows back. */
    private @Nullable List<Probe> ofRectifier(Part.Rectifier d, Port port) {
        PartForms.Recovering recovering = bent.recovering;
        if (recovering == null) {
            return bent.hasLine(d, parameter.kind())
                    ? List.of(new Probe(port, true, regime -> bent.voltage(d, current(regime, port), regime), null))
                    : null;
        }
        return List.of(
                new Probe(port, false, recovering::current, null, recovering::slope),
                new Probe(
                        port,
                        true,
                        regime -> recovering.current(regime).times(bent.slope(d, regime)),
                        null,
                        regime -> recovering.slope(regime).times(bent.slope(d, regime))));
    }

    private List<Probe> required(@Nullable List<Probe> found, Part part) {
        if (found == null) {
            throw new IllegalArgumentException("there is no " + parameter + " to differentiate by: " + parameter.part()
                    + " is a " + part.getClass().getSimpleName());
        }
        return found;
    }

    private static boolean hasResistance(Part part) {
        return part instanceof Part.Resistor
                || part instanceof Part.Switch
                || part instanceof Part.Inductor
                || part instanceof Part.Capacitor
                || part instanceof Part.CoupledInductors
                || part instanceof Part.IdealTransformer;
    }

    private List<Probe> one(Port port, boolean inSeries) {
        return List.of(new Probe(port, inSeries, regime -> AffineForm.constant(states, 1), null));
    }

    /** The self-inductance of a winding grows at the same coupling: by that the mutual ones grow with its root. */
    private static double[][] byInductance(Part.CoupledInductors t, int winding) {
        int n = t.windings().size();
        double[][] change = new double[n][n];
        for (int k = 0; k < n; k++) {
            double mutual = t.inductances().get(winding).get(k);
            double self = t.inductances().get(winding).get(winding);
            change[winding][k] = k == winding ? 1 : mutual / (2 * self);
            change[k][winding] = change[winding][k];
        }
        return change;
    }

    private double[][] byMutual(Part.CoupledInductors t) {
        double first = t.inductances().get(0).get(0);
        double second = t.inductances().get(1).get(1);
        double mean = Math.sqrt(first * second);
        if (Math.abs(t.inductances().get(0).get(1)) >= mean * (1 - PERFECT)) {
            throw new IllegalArgumentException("there is no " + parameter + " to differentiate by: the coupling of "
                    + t.name() + " is perfect, and below that the circuit has a state more; give a coupling below 1");
        }
        double change = parameter.kind() == Parameter.Kind.COUPLING ? mean : 1;
        return new double[][] {{0, change}, {change, 0}};
    }

    /** A coupling closer to one than this is a perfect one for the compiled circuit. */
    private static final double PERFECT = 1e-13;

    private List<Probe> ofWindings(Part.CoupledInductors t, double[][] change) {
        List<Probe> all = new ArrayList<>();
        for (int k = 0; k < change.length; k++) {
            double[] row = change[k];
            if (Arrays.stream(row).anyMatch(each -> each != 0)) {
                all.add(new Probe(t.ports().get(k), true, null, regime -> flux(regime, t, row)));
            }
        }
        return all;
    }

    private AffineForm flux(Regime regime, Part.CoupledInductors t, double[] row) {
        AffineForm sum = AffineForm.constant(states, 0);
        for (int k = 0; k < row.length; k++) {
            sum = sum.plus(row[k], current(regime, t.ports().get(k)));
        }
        return sum;
    }

    private List<Probe> ofTurns(Port port, int winding, Part.IdealTransformer t) {
        double each = 1 / t.turns().get(winding);
        double ohm = t.windings().get(winding).seriesResistance();
        return List.of(
                new Probe(
                        port,
                        true,
                        regime -> voltage(regime, port)
                                .plus(-ohm, current(regime, port))
                                .times(each),
                        null),
                new Probe(port, false, regime -> current(regime, port).times(-each), null));
    }

    // ------------------------------------------------------------------------------------- what the regime itself says

    private AffineForm state(Port port) {
        double[] unit = new double[states];
        unit[circuit.stateNames().indexOf(port.name())] = 1;
        return AffineForm.of(unit, 0);
    }

    private AffineForm voltage(Regime regime, Port port) {
        return regime.channels().get(channel(port));
    }

    private AffineForm current(Regime regime, Port port) {
        return regime.channels().get(channel(port) + 1);
    }

    private int channel(Port port) {
        return circuit.nodes().size() + 2 * circuit.ports().indexOf(port);
    }

    /** How a form changes with time. */
    private AffineForm rateOf(AffineForm form, Regime regime) {
        AffineForm rate = AffineForm.constant(states, form.slope());
        for (int j = 0; j < states; j++) {
            if (form.coefficient(j) != 0) {
                rate = rate.plus(form.coefficient(j), regime.rates().get(j));
            }
        }
        return rate;
    }

    /** What is read off a regime, as a form of the state. */
    private interface Reading {
        AffineForm in(Regime regime);
    }

    /** A source that stands for a part of what the parameter does. */
    private final class Probe {
        private final Port port;
        private final boolean inSeries;
        /** How strong it is for each unit of the parameter; null where it is the rate of something. */
        private final @Nullable Reading strength;
        /** What it is the rate of: a flux in series, a charge beside it. */
        private final @Nullable Reading stored;

        private final Network network;
        /** The same with a source that rises twice as fast, by which one sees what its slope does. */
        private final Network steeper;

        private final IdentityHashMap<Regime, Regime> regimes = new IdentityHashMap<>();
        private final IdentityHashMap<Regime, Regime> steeperRegimes = new IdentityHashMap<>();

        /** How its strength rises with the parameter beside what the state tells of it. */
        private final @Nullable Reading slope;

        Probe(Port port, boolean inSeries, @Nullable Reading strength, @Nullable Reading stored) {
            this(port, inSeries, strength, stored, null);
        }

        Probe(
                Port port,
                boolean inSeries,
                @Nullable Reading strength,
                @Nullable Reading stored,
                @Nullable Reading slope) {
            this.slope = slope;
            this.port = port;
            this.inSeries = inSeries;
            this.strength = strength;
            this.stored = stored;
            List<String> name = List.of(port.name() + MARK);
            network = Network.of(withProbe(1), name, 0);
            steeper = Network.of(withProbe(2), name, 0);
        }

        private Circuit withProbe(double slope) {
            Profile ramp = Profile.constant(0).rampTo(0, slope, 1);
            Circuit.Builder builder = Circuit.builder();
            String name = port.name() + MARK;
            for (Part part : circuit.parts()) {
                if (!part.name().equals(port.part())) {
                    builder.part(part);
                } else if (inSeries) {
                    builder.voltageSource(name, port.plus(), name, ramp).part(PartForms.moved(part, port, name, false));
                } else if (PartForms.seriesResistance(part, port) > 0) {
                    builder.resistor(name + MARK, port.plus(), name, PartForms.seriesResistance(part, port))
                            .part(PartForms.moved(part, port, name, true))
                            .currentSource(name, name, port.minus(), ramp);
                } else {
                    builder.part(part).currentSource(name, port.plus(), port.minus(), ramp);
                }
            }
            return builder.build();
        }

        private AffineForm strength(Regime regime) {
            return strength != null ? strength.in(regime) : rateOf(stored(regime), regime);
        }

        private AffineForm stored(Regime regime) {
            return stored == null ? AffineForm.constant(states, 0) : stored.in(regime);
        }

        /** By how much the flux or charge jumps. */
        double kept(Regime from, double[] before, Regime to, double[] after) {
            return stored(to).valueAt(after, 0) - stored(from).valueAt(before, 0);
        }

        /** What the circuit makes of the source in one regime. */
        final class Answer {
            private final AffineForm strength;
            private final AffineForm rate;
            private final Regime with;
            private final @Nullable Regime steep;

            Answer(Regime regime) {
                strength = strength(regime);
                with = regimes.computeIfAbsent(regime, key -> network.regime(key.closed(), key.conducting()));
                boolean constrained = !regime.constraints().isEmpty();
                // a slope matters only where the state is held to what the source says
                steep = constrained
                        ? steeperRegimes.computeIfAbsent(regime, key -> steeper.regime(key.closed(), key.conducting()))
                        : null;
                AffineForm none = AffineForm.constant(states, 0);
                AffineForm beside = slope == null ? none : slope.in(regime);
                rate = constrained ? rateOf(strength, regime).plus(1, beside) : none;
            }

            void addTo(AffineForm[] rates, List<AffineForm> channels, List<AffineForm> conditions) {
                for (int j = 0; j < states; j++) {
                    rates[j] = rates[j].plus(
                            1,
                            of(
                                    with.rates().get(j),
                                    steep == null ? null : steep.rates().get(j),
                                    0));
                }
                int channel = 0;
                for (String node : circuit.nodes()) {
                    add(channels, channel++, channel(network.nodeChannel(node), 0));
                }
                for (Port each : circuit.ports()) {
                    boolean own = each.name().equals(port.name());
                    AffineForm current = channel(network.currentChannel(each.name()), own && !inSeries ? 1 : 0);
                    AffineForm across = channel(network.voltageChannel(each.name()), own && inSeries ? 1 : 0);
                    if (own && !inSeries) {
                        across = across.plus(PartForms.seriesResistance(circuit.part(each.part()), each), current);
                    }
                    add(channels, channel++, across);
                    add(channels, channel++, current);
                }
                for (int k = 0; k < conditions.size(); k++) {
                    add(
                            conditions,
                            k,
                            of(
                                    with.conditions().get(k),
                                    steep == null ? null : steep.conditions().get(k),
                                    0));
                }
            }

            private void add(List<AffineForm> sums, int at, AffineForm more) {
                sums.set(at, sums.get(at).plus(1, more));
            }

            private AffineForm channel(int index, double more) {
                return of(
                        with.channels().get(index),
                        steep == null ? null : steep.channels().get(index),
                        more);
            }

            private AffineForm of(AffineForm form, @Nullable AffineForm steepForm, double more) {
                AffineForm answer = strength.times(form.coefficient(states) + more);
                return steepForm == null ? answer : answer.plus(steepForm.constant() - form.constant(), rate);
            }

            /** What comes to a state on the entry. */
            double jump(int state, double[] after, double kept) {
                double held = with.entry() == null ? 0 : with.entry().entry(state, states) * strength.valueAt(after, 0);
                return held + with.rates().get(state).coefficient(states) * kept;
            }
        }
    }
}
