package org.voltsecond.converter;

import java.util.List;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;

/** Puts a stage and what becomes of it by changes into one driven circuit. */
final class StageRun {
    private final List<StageValues> stages;
    private final List<Change> changes;
    private final boolean mayBeCurrent;
    private final DrivenCircuit.Builder builder;

    private StageRun(List<StageValues> stages, List<Change> changes) {
        this.stages = stages;
        this.changes = changes;
        mayBeCurrent = stages.stream().anyMatch(stage -> stage.requiredLoad().isConstantCurrent());
        builder = DrivenCircuit.builder(circuit(0));
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
        Drive drive = drive(0);
        builder.gate(StageCircuit.TRANSISTOR, drive);
        if (isSynchronous()) {
            builder.gate(StageCircuit.SYNCHRONOUS_TRANSISTOR, drive.complement());
        }
        for (int k = 0; k < changes.size(); k++) {
            change(changes.get(k).time(), k);
        }
        return builder.build();
    }

    private void change(double time, int before) {
        Circuit next = circuit(before + 1);
        if (!next.equals(circuit(before))) {
            builder.change(time, next);
        }
        Drive drive = drive(before + 1);
        if (!drive.equals(drive(before))) {
            builder.change(time, StageCircuit.TRANSISTOR, drive);
            if (isSynchronous()) {
                builder.change(time, StageCircuit.SYNCHRONOUS_TRANSISTOR, drive.complement());
            }
        }
    }

    private Circuit circuit(int index) {
        return StageCircuit.of(stages.get(index), mayBeCurrent);
    }

    private Drive drive(int index) {
        return stages.get(index).requiredDrive();
    }

    private boolean isSynchronous() {
        return stages.get(0).rectifier().synchronous();
    }
}
