package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Profile;
import org.voltsecond.control.CircuitSignals;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.Plant;
import org.voltsecond.control.Regulator;
import org.voltsecond.waveform.Signal;

/** Puts a stage and what becomes of it by changes into one driven circuit. */
final class StageRun {
    private final List<StageValues> stages;
    private final List<Change> changes;
    private final List<Circuit> circuits = new ArrayList<>();
    private final DrivenCircuit.Builder builder;

    private StageRun(List<StageValues> stages, List<Change> changes) {
        this.stages = stages;
        this.changes = changes;
        boolean mayBeCurrent =
                stages.stream().anyMatch(stage -> stage.requiredLoad().isConstantCurrent());
        Profile sink = Profile.constant(StageCircuit.sink(stages.get(0)));
        circuits.add(StageCircuit.of(stages.get(0), mayBeCurrent, sink));
        for (int k = 0; k < changes.size(); k++) {
            sink = changes.get(k).sink(sink, StageCircuit.sink(stages.get(k + 1)));
            circuits.add(StageCircuit.of(stages.get(k + 1), mayBeCurrent, sink));
        }
        builder = DrivenCircuit.builder(circuits.get(0));
    }

    /**
     * Returns the driven circuit of a run.
     *
     * @param stages the stage at the start, and after each change
     * @param changes the changes in order of time
     */
    static DrivenCircuit of(List<StageValues> stages, List<Change> changes) {
        return new StageRun(stages, changes).driven();
    }

    private DrivenCircuit driven() {
        if (stages.get(0).isRegulated()) {
            addRegulators();
        } else {
            addDrives();
        }
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
        Signal output = signals.nodeVoltage(StageCircuit.OUTPUT);
        boolean amplified = stages.get(0).amplifier() != null;
        boolean inverts = stages.get(0).topology() == Topology.INVERTING_BUCK_BOOST;
        return new Plant(
                StageCircuit.TRANSISTOR,
                isSynchronous() ? StageCircuit.SYNCHRONOUS_TRANSISTOR : null,
                inverts ? output.times(-1) : output,
                signals.current(StageCircuit.INDUCTOR),
                signals.nodeVoltage(StageCircuit.INPUT),
                Double.POSITIVE_INFINITY,
                amplified ? signals.nodeVoltage(StageCircuit.CONTROL) : null,
                amplified ? signals.voltage(StageCircuit.REFERENCE, StageCircuit.DIVIDED) : null);
    }

    private void addDrives() {
        Drive first = drive(0);
        builder.gate(StageCircuit.TRANSISTOR, first);
        if (isSynchronous()) {
            builder.gate(StageCircuit.SYNCHRONOUS_TRANSISTOR, first.complement());
        }
        for (int k = 0; k < changes.size(); k++) {
            changeDrive(changes.get(k).time(), drive(k), drive(k + 1));
        }
    }

    private void changeDrive(double time, Drive before, Drive after) {
        if (!after.equals(before)) {
            builder.change(time, StageCircuit.TRANSISTOR, after);
            if (isSynchronous()) {
                builder.change(time, StageCircuit.SYNCHRONOUS_TRANSISTOR, after.complement());
            }
        }
    }

    private Drive drive(int index) {
        return stages.get(index).requiredDrive();
    }

    private Regulator regulator(int index) {
        return stages.get(index).requiredRegulator();
    }

    private boolean isSynchronous() {
        return stages.get(0).rectifier().synchronous();
    }
}
