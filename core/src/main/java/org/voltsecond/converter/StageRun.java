package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.ControlledSource;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Profile;
import org.voltsecond.control.CircuitSignals;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.DrivenCircuitBuilder;
import org.voltsecond.control.Plant;
import org.voltsecond.control.Regulator;
import org.voltsecond.stage.Roles;
import org.voltsecond.stage.Topology;
import org.voltsecond.waveform.Signal;

/** Puts a converter and what becomes of it by changes into one driven circuit. */
final class StageRun {
    private final List<Blueprint> stages;
    private final List<Change> changes;
    private final Roles roles;
    private final List<Circuit> circuits = new ArrayList<>();
    private final DrivenCircuitBuilder builder;

    private StageRun(List<Blueprint> stages, List<Change> changes) {
        this.stages = stages;
        this.changes = changes;
        roles = stages.get(0).roles();
        boolean mayBeCurrent = hasConstantCurrent(stages);
        Profile sink = stages.get(0).sink();
        circuits.add(circuit(stages.get(0), mayBeCurrent, sink));
        for (int k = 0; k < changes.size(); k++) {
            sink = changes.get(k).sink(sink, stages.get(k + 1).sink());
            circuits.add(circuit(stages.get(k + 1), mayBeCurrent, sink));
        }
        builder = DrivenCircuit.builder(circuits.get(0));
    }

    private static boolean hasConstantCurrent(List<Blueprint> stages) {
        for (Blueprint stage : stages) {
            if (stage.load().isConstantCurrent()) {
                return true;
            }
        }
        return false;
    }

    /**
     * The circuit of one stage of a run, with what the sink draws over the run. Where the load of any stage is a sink alone,
     * every resistor is written as a source that its own voltage controls, as there: a run does not change its structure.
     */
    private Circuit circuit(Blueprint stage, boolean mayBeCurrent, Profile sink) {
        Blueprint with = stage;
        String name = roles.loadResistor().orElseThrow();
        if (mayBeCurrent && stage.power().part(name) instanceof Part.Resistor r) {
            Part part = new ControlledSource.CurrentByVoltage(name, r.a(), r.b(), r.a(), r.b(), 1 / r.resistance());
            with = stage.with(stage.replaced(name, part));
        }
        return with.with(with.power().withCurrent(roles.loadSink().orElseThrow(), sink))
                .circuit();
    }

    /**
     * Returns the driven circuit of a run.
     *
     * @param stages the converter at the start, and after each change
     * @param changes the changes in order of time
     */
    static DrivenCircuit of(List<Blueprint> stages, List<Change> changes) {
        return new StageRun(stages, changes).driven();
    }

    /** What a regulator finds in a converter. */
    static Plant plant(Blueprint stage) {
        return new StageRun(List.of(stage), List.of()).plant();
    }

    private DrivenCircuit driven() {
        if (stages.get(0).isRegulated()) {
            addRegulators();
        }
        addDrives();
        for (int k = 0; k < changes.size(); k++) {
            if (!circuits.get(k + 1).equals(circuits.get(k))) {
                builder.change(changes.get(k).time(), circuits.get(k + 1));
            }
        }
        return builder.build();
    }

    private void addRegulators() {
        Plant plant = plant();
        builder.controlledBy(regulator(0).on(plant));
        for (int k = 0; k < changes.size(); k++) {
            if (!regulator(k + 1).equals(regulator(k))) {
                builder.change(changes.get(k).time(), regulator(k + 1).on(plant));
            }
        }
    }

    private Plant plant() {
        CircuitSignals signals = CircuitSignals.of(circuits.get(0));
        Signal output = signals.voltage(roles.outputNode(), roles.outputReference());
        Part.VoltageSource source = (Part.VoltageSource) stages.get(0).power().part(roles.source());
        ErrorAmplifier.Wiring amplified =
                stages.get(0).amplifier() == null ? null : stages.get(0).amplified();
        return new Plant(
                roles.pattern(),
                roles.isInverting() ? output.times(-1) : output,
                currents(signals, output),
                signals.voltage(source.plus(), source.minus()),
                FullLoad.inductorCurrent(stages, changes),
                amplified == null ? null : signals.nodeVoltage(amplified.control),
                amplified == null ? null : signals.voltage(amplified.reference, amplified.divided));
    }

    private List<Signal> currents(CircuitSignals signals, Signal output) {
        List<Signal> named = roles.currents().isEmpty()
                ? List.of(output.times(0))
                : roles.currents().stream().map(signals::current).toList();
        if (roles.magnetizing().isEmpty() || named.size() > 1) {
            return named;
        }
        Signal flux = signals.current(roles.magnetizing().get()).times(roles.magnetizingTurns());
        return List.of(named.get(0).plus(flux), named.get(0).minus(flux));
    }

    private void addDrives() {
        stages.get(0).drives().forEach(builder::gate);
        for (int k = 0; k < changes.size(); k++) {
            Blueprint before = stages.get(k);
            Blueprint after = stages.get(k + 1);
            double time = changes.get(k).time();
            after.drives().forEach((name, drive) -> changeDrive(time, name, before, drive));
        }
    }

    private void changeDrive(double time, String name, Blueprint before, Drive after) {
        if (!after.equals(Objects.requireNonNull(before.drives().get(name)))) {
            builder.change(time, name, after);
        }
    }

    private Regulator regulator(int index) {
        return stages.get(index).requiredRegulator();
    }

    /**
     * The inductor current that a regulated stage needs at full load: what a current command without limits of its own is measured
     * by. Full load is the largest of the loads of a run, each at the output that is aimed at and with the input of its time; a short
     * circuit is none. The stage is taken as ideal and in continuous conduction (R. W. Erickson, D. Maksimovic, Fundamentals of
     * Power Electronics, 3rd ed., Springer 2020, ch. 2); twice that leaves room for losses, start-up and steps.
     */
    static final class FullLoad {
        private FullLoad() {}

        /** The crest of the inductor current, A; infinite where no output is aimed at, or the stage has no ideal ratios. */
        static double inductorCurrent(List<Blueprint> stages, List<Change> changes) {
            double most = 0;
            boolean shorted = false;
            for (int k = 0; k < stages.size(); k++) {
                if (k > 0 && changes.get(k - 1).changesLoad()) {
                    shorted = changes.get(k - 1).isShort();
                }
                if (!shorted) {
                    Blueprint stage = stages.get(k);
                    most = Math.max(most, crest(stage, stage.requiredRegulator().target()));
                }
            }
            return most;
        }

        /** The crest of one stage at an output voltage; infinite where it is not known. */
        static double crest(Blueprint stage, OptionalDouble target) {
            Optional<Part> part = stage.roles().inductor().map(stage.power()::part);
            if (target.isEmpty() || part.isEmpty() || !(part.get() instanceof Part.Inductor inductor)) {
                return Double.POSITIVE_INFINITY;
            }
            double least =
                    inductor.saturation().stream().mapToDouble(Bend::value).reduce(inductor.inductance(), Math::min);
            double output = target.getAsDouble();
            double current = stage.load().currentAt(output);
            return crest(
                    stage.topology(),
                    stage.inputVoltage(),
                    output,
                    current,
                    least,
                    stage.requiredRegulator().clockPeriod());
        }

        /**
         * The crest of the inductor current of an ideal stage, A.
         *
         * @param output by magnitude, V
         * @param current of the load, A
         * @param inductance H
         * @param period s
         */
        static double crest(
                Topology topology, double input, double output, double current, double inductance, double period) {
            double duty = Math.max(0, Math.min(1, topology.dutyCycle(input, output, 0, 0)));
            double across = Math.max(0, topology.onVoltage(input, output));
            double ripple = across * duty * period / inductance;
            double crest = current / topology.outputShare(duty) + ripple / 2;
            return crest < Double.POSITIVE_INFINITY ? crest : Double.POSITIVE_INFINITY;
        }
    }
}
