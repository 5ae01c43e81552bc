package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.function.Function;
import org.voltsecond.analysis.EnergyAudit;
import org.voltsecond.analysis.Transient;
import org.voltsecond.circuit.Part;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.stage.RoleNaming;
import org.voltsecond.waveform.Side;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;
import org.voltsecond.waveform.WaveformSource;

/**
 * A run of a converter with its steps of load, line, duty cycle and reference. Immutable, safe for any thread.
 *
 * <pre>{@code
 * ConverterTransient surge = rail.transientFromSteadyState(milli(3), Change.at(milli(1)).input(15));
 * Waveform output = surge.of(rail.outputVoltage());
 * double highest = output.maximum(); // 7.041 V
 * double settled = surge.finalCapacitorVoltage(); // 6.335 V
 * }</pre>
 */
public final class ConverterTransient implements WaveformSource {
    private final List<Converter> stages;
    private final List<Change> changes;
    private final Transient run;

    private ConverterTransient(List<Converter> stages, List<Change> changes, Transient run) {
        this.stages = List.copyOf(stages);
        this.changes = List.copyOf(changes);
        this.run = run;
    }

    /** The state at the start is that of the run's own circuit. */
    static ConverterTransient of(
            Converter converter, Function<DrivenCircuit, double[]> state, double duration, List<Change> changes) {
        List<Change> ordered = new ArrayList<>(changes);
        ordered.sort(Comparator.comparingDouble(Change::time));
        requireDistinct(ordered);
        List<Converter> stages = new ArrayList<>(List.of(converter));
        for (Change change : ordered) {
            stages.add(change.applyTo(stages.get(stages.size() - 1)));
        }
        DrivenCircuit driven = driven(stages, ordered);
        return new ConverterTransient(stages, ordered, Transient.of(driven, state.apply(driven), duration));
    }

    private static DrivenCircuit driven(List<Converter> stages, List<Change> ordered) {
        return StageRun.of(stages.stream().map(Converter::values).toList(), ordered);
    }

    private static void requireDistinct(List<Change> ordered) {
        for (int i = 1; i < ordered.size(); i++) {
            if (ordered.get(i).time() == ordered.get(i - 1).time()) {
                throw new IllegalArgumentException("two changes are at the same time of "
                        + ordered.get(i).time() + " s; combine them into one change");
            }
        }
    }

    /**
     * Returns the changes.
     *
     * @return the changes in order of time
     */
    public List<Change> changes() {
        return changes;
    }

    /**
     * Returns the converter as it is after some changes.
     *
     * @param count how many changes have happened, from 0 to all
     * @return the converter
     */
    public Converter after(int count) {
        return stages.get(count);
    }

    /**
     * Returns the run of the circuit.
     *
     * @return the transient
     */
    public Transient run() {
        return run;
    }

    @Override
    public Waveform of(Signal signal) {
        return run.of(signal);
    }

    /**
     * Returns the drive of the transistor.
     *
     * @return 1 while the transistor is closed, 0 while it is open
     */
    public Waveform gate() {
        return ConverterSignals.gate(
                run.circuit(), run.trajectory(), stages.get(0).transistorName());
    }

    /**
     * Returns the inductor current at the end.
     *
     * @return A, just before anything that is switched at that very instant
     */
    public double finalInductorCurrent() {
        Converter converter = stages.get(0);
        Waveform current = run.of(converter.inductorCurrent());
        String name = converter.roles().inductor().orElse("");
        // the states of coupled windings are no currents
        boolean plain = converter.circuit().parts().stream()
                .anyMatch(part -> part instanceof Part.Inductor && part.name().equals(name));
        return plain
                ? run.finalState()[run.circuit().stateNames().indexOf(name)]
                : current.at(run.finalTime(), Side.BEFORE);
    }

    /**
     * Returns the voltage of the output capacitor at the end, without that of its series resistance.
     *
     * @return V, just before anything that is switched at that very instant
     */
    public double finalCapacitorVoltage() {
        Converter converter = stages.get(0);
        String name = converter.requiredRole(converter.roles().outputCapacitor(), RoleNaming.Role.CAPACITOR);
        return run.finalState()[run.circuit().stateNames().indexOf(name)];
    }

    /**
     * Returns when the run ends.
     *
     * @return the time since its start, s
     */
    public double finalTime() {
        return run.finalTime();
    }

    /**
     * Works out where the energy of the run went.
     *
     * @return the audit
     */
    public EnergyAudit audit() {
        return run.audit();
    }

    @Override
    public String toString() {
        return "transient of " + stages.get(0) + " with changes " + changes;
    }
}
