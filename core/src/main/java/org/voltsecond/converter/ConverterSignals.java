package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Port;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.Regulator;
import org.voltsecond.engine.Phase;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.RoleNaming;
import org.voltsecond.stage.Roles;
import org.voltsecond.stage.Roles.Reading;
import org.voltsecond.stage.Topology;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.RunWaveforms;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;

/** What a {@link Converter} is, and what can be looked at in it; signs as told there. */
abstract sealed class ConverterSignals permits ConverterRuns {
    final Blueprint values;
    private volatile @Nullable DrivenCircuit driven;

    ConverterSignals(Blueprint values, @Nullable DrivenCircuit driven) {
        this.values = values;
        this.driven = driven;
    }

    /** {@return what the parts of the circuit do} */
    public final Roles roles() {
        return values.roles();
    }

    /**
     * Returns switches with the diodes across them.
     *
     * @param switches reference designators
     * @return the same, each followed by its body diode if it has one
     */
    public final List<String> withBodyDiodes(List<String> switches) {
        List<String> all = new ArrayList<>();
        for (String name : switches) {
            all.add(name);
            Part.Rectifier across = values.bodyDiode(name);
            if (across != null) {
                all.add(across.name());
            }
        }
        return all;
    }

    final String requiredRole(Optional<String> name, RoleNaming.Role role) {
        return name.orElseThrow(() -> new IllegalStateException("the " + values.topology() + " has no " + role.words()
                + " that could be found in its " + values.power() + "; name it with " + role.how()));
    }

    /** {@return how the parts are arranged; of a custom circuit what stands for that, which has no ideal ratios} */
    public final Topology topology() {
        return values.topology();
    }

    /** {@return the input voltage, without the ripple on it, V} */
    public final double inputVoltage() {
        return values.inputVoltage();
    }

    /** {@return the load} */
    public final Load load() {
        return values.load();
    }

    /**
     * Returns the drive of the transistor.
     *
     * @return the drive
     * @throws IllegalStateException if a regulator drives it
     */
    public final Drive drive() {
        requireFixedDrive();
        return values.drive();
    }

    final void requireFixedDrive() {
        if (isRegulated()) {
            throw new IllegalStateException(
                    "a regulator drives this converter, which has no fixed drive: ask regulator()");
        }
    }

    /**
     * Returns whether a regulator drives the transistor.
     *
     * @return true if so, false if its duty cycle is fixed
     */
    public final boolean isRegulated() {
        return values.isRegulated();
    }

    /**
     * Returns the regulator.
     *
     * @return the regulator
     * @throws IllegalStateException if the duty cycle is fixed
     */
    public final Regulator regulator() {
        requireRegulated();
        return values.requiredRegulator();
    }

    /**
     * Returns the parts with their reference designators; of a ready-made stage source V1, transistor Q1 (its body diode, if any: D2),
     * rectifier D1 (synchronous: Q2, its body diode, if any: D3), inductor L1, output capacitor C1, and as load R1 and I1
     * side by side, of which the one that is not asked for carries nothing.
     *
     * @return the circuit
     */
    public final Circuit circuit() {
        return driven().circuit();
    }

    /**
     * Returns the circuit together with what drives its gates.
     *
     * @return the driven circuit
     */
    public final DrivenCircuit driven() {
        DrivenCircuit known = driven;
        if (known == null) {
            known = StageRun.of(List.of(values), List.of());
            driven = known;
        }
        return known;
    }

    /** {@return the reference designator of the transistor, "Q1" of a ready-made stage} */
    public final String transistorName() {
        return roles().transistor();
    }

    /** {@return the reference designator of the rectifier, "D1" of a ready-made stage, or "Q2" if it is a synchronous one} */
    public final String rectifierName() {
        return rectifier();
    }

    /** {@return whether a second transistor rectifies in place of a diode} */
    public final boolean isSynchronous() {
        return values.isSynchronous();
    }

    /** Whether a rectifier of a cell conducts, or what stands in for one, or the body diode of that. */
    final boolean rectifies(Phase phase, Roles.Cell cell) {
        return cell.rectifiers().stream().anyMatch(name -> driven().conducts(phase, name))
                || cell.synchronous().stream().anyMatch(name -> conductsWithBodyDiode(phase, name));
    }

    private boolean conductsWithBodyDiode(Phase phase, String name) {
        Part.Rectifier across = values.bodyDiode(name);
        return driven().conducts(phase, name) || (across != null && driven().conducts(phase, across.name()));
    }

    /**
     * Whether the on interval goes on: one of the switches that begin it is closed; where they take turns, the first one, whose pulses
     * those of the others are like.
     */
    final boolean isOn(Phase phase, Roles.Cell cell) {
        return roles().isTimed()
                ? driven().conducts(phase, cell.switches().get(0))
                : cell.switches().stream().anyMatch(name -> driven().conducts(phase, name));
    }

    final Blueprint values() {
        return values;
    }

    final void requireRegulated() {
        if (!values.isRegulated()) {
            throw new IllegalStateException(
                    "this converter has a fixed drive and no regulator: give it one with withRegulator(...)");
        }
    }

    /**
     * Returns the current through the inductor, of interleaved phases that of the first.
     *
     * @return the signal, A; positive as the on interval drives it
     * @throws IllegalStateException if nothing in the circuit stores a current, as in a charge pump
     */
    public final Signal inductorCurrent() {
        return driven().current(requiredRole(roles().inductor(), RoleNaming.Role.INDUCTOR))
                .named("inductor current");
    }

    /**
     * Returns the currents through the inductors of interleaved phases.
     *
     * @return the signals in the order of the phases, A; one where there is one inductor current
     */
    public final List<Signal> inductorCurrents() {
        List<String> inductors = roles().inductors();
        return IntStream.range(0, inductors.size())
                .mapToObj(k -> driven().current(inductors.get(k))
                        .named("inductor current" + (inductors.size() == 1 ? "" : " of phase " + (k + 1))))
                .toList();
    }

    /**
     * Returns the voltage of the switch node.
     *
     * @return the signal, V against ground
     * @throws IllegalStateException if no switch node was found or named
     */
    public final Signal switchNode() {
        return driven().nodeVoltage(requiredRole(roles().switchNode(), RoleNaming.Role.SWITCH_NODE))
                .named("switch node");
    }

    /**
     * Returns the output voltage.
     *
     * @return the signal, V against the other node of the output; negative of an inverting stage
     */
    public final Signal outputVoltage() {
        return driven().voltage(roles().outputNode(), roles().outputReference()).named("output voltage");
    }

    /** The current through what rectifies in a cell, all of its devices side by side. */
    final Signal rectifierCurrent(Roles.Cell cell) {
        return Stream.concat(cell.rectifiers().stream(), cell.synchronous().stream())
                .map(this::withBodyDiode)
                .reduce(Signal::plus)
                .orElseThrow();
    }

    final String rectifier() {
        return requiredRole(roles().rectifier(), RoleNaming.Role.RECTIFIERS);
    }

    /**
     * Returns the current of a switch or rectifier with that of a diode across it, which counts against it where the diode stands
     * against it.
     *
     * @param name reference designator of the switch or rectifier
     * @return the signal, A from its first node to its second
     */
    public final Signal withBodyDiode(String name) {
        Signal channel = driven().current(name);
        Part.Rectifier diode = values.power().part(name) instanceof Part.Switch ? values.bodyDiode(name) : null;
        if (diode == null) {
            return channel;
        }
        Signal across = driven().current(diode.name());
        boolean along =
                diode.anode().equals(values.power().part(name).ports().get(0).plus());
        return along ? channel.plus(across) : channel.minus(across);
    }

    /**
     * Returns the current through the transistor, its body diode included.
     *
     * @return the signal, A
     */
    public final Signal transistorCurrent() {
        return withBodyDiode(roles().transistor()).named("transistor current");
    }

    /**
     * Returns the voltage across the transistor.
     *
     * @return the signal, V; positive when it blocks
     */
    public final Signal transistorVoltage() {
        return driven().voltageAcross(roles().transistor()).named("transistor voltage");
    }

    /**
     * Returns the current through the rectifier, the body diode of a synchronous one included.
     *
     * @return the signal, A; never negative of a diode
     */
    public final Signal rectifierCurrent() {
        return withBodyDiode(rectifier()).named("rectifier current");
    }

    /**
     * Returns the voltage across the rectifier.
     *
     * @return the signal, V from anode to cathode; negative when it blocks
     */
    public final Signal rectifierVoltage() {
        return driven().voltageAcross(rectifier()).named("rectifier voltage");
    }

    /**
     * Returns the current into the output capacitor.
     *
     * @return the signal, A from the output to ground
     */
    public final Signal outputCapacitorCurrent() {
        return driven().current(requiredRole(roles().outputCapacitor(), RoleNaming.Role.CAPACITOR))
                .named("output capacitor current");
    }

    /**
     * Returns the current that the stage draws, from the source and from what lies across the input.
     *
     * @return the signal, A; positive when the stage is fed
     */
    public final Signal inputCurrent() {
        Signal drawn = sourceCurrent();
        for (String name : roles().inputCapacitors()) {
            drawn = drawn.minus(driven().current(name));
        }
        return drawn.named("input current");
    }

    /**
     * Returns the current drawn from the source.
     *
     * @return the signal, A; positive when the source delivers. Without parts across the input it is the {@link #inputCurrent()}
     */
    public final Signal sourceCurrent() {
        return driven().current(roles().source()).times(-1).named("source current");
    }

    /**
     * Returns a signal that the stage tells beside those that every stage has.
     *
     * @param key its name in files, such as "second_inductor_current"
     * @return the signal
     * @throws IllegalArgumentException if there is none of that name; the message lists those that there are
     */
    public final Signal further(String key) {
        Signal signal = further().get(key);
        if (signal == null) {
            throw new IllegalArgumentException("the " + values.topology() + " tells no signal '" + key + "'; it tells "
                    + further().keySet());
        }
        return signal;
    }

    /**
     * Returns the signals that the stage tells beside those that every stage has.
     *
     * @return each by its name in files, such as "second_inductor_current"
     */
    public final Map<String, Signal> further() {
        Map<String, Signal> signals = new LinkedHashMap<>();
        for (Reading reading : roles().readings()) {
            Signal signal =
                    reading.isVoltage() ? driven().voltageAcross(reading.part()) : driven().current(reading.part());
            signals.put(reading.key(), signal.times(reading.sign()).named(reading.words()));
        }
        return signals;
    }

    /**
     * Returns the current through the load.
     *
     * @return the signal, A from the output to ground; negative of an inverting stage
     */
    public final Signal loadCurrent() {
        return driven().current(roles().loadResistor().orElseThrow())
                .plus(driven().current(roles().loadSink().orElseThrow()))
                .named("load current");
    }

    /** The voltage of the source, with the ripple on it. */
    final Signal inputNode() {
        Port source = values.power().part(roles().source()).ports().get(0);
        return driven().voltage(source.plus(), source.minus()).named("input voltage");
    }

    /**
     * Returns the control voltage, which the modulator turns into pulses.
     *
     * @return the signal, V; of a regulator whose inductor current is commanded the command at 1 V/A
     * @throws IllegalStateException if the duty cycle is fixed
     */
    public final Signal controlVoltage() {
        return control("control voltage");
    }

    /**
     * Returns what the control voltage is compared with: the ramp, or the sensed inductor current with its slope.
     *
     * @return the signal, V
     * @throws IllegalStateException if the duty cycle is fixed
     */
    public final Signal ramp() {
        return control("ramp");
    }

    /**
     * Returns the error voltage: the reference less the sensed voltage.
     *
     * @return the signal, V
     * @throws IllegalStateException if the duty cycle is fixed
     */
    public final Signal errorVoltage() {
        return control("error voltage");
    }

    private Signal control(String channel) {
        requireRegulated();
        return driven().control(channel);
    }

    /** The drive of a switch over a run: 1 while it is closed, 0 while it is open. */
    static Waveform gate(DrivenCircuit circuit, Trajectory trajectory, String switchName) {
        return RunWaveforms.of(trajectory)
                .ofPhases("gate of " + switchName, Unit.ONE, phase -> circuit.conducts(phase, switchName) ? 1 : 0);
    }
}
