package org.voltsecond.analysis;

import org.jspecify.annotations.Nullable;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.Simulation;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.RunReading;
import org.voltsecond.waveform.RunWaveforms;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;
import org.voltsecond.waveform.WaveformSource;

/**
 * A run of a driven circuit from a given state. Immutable and safe to read from any thread.
 *
 * <pre>{@code
 * Transient run = Transient.fromRest(rail.driven(), micro(100));
 * double output = run.of(rail.driven().nodeVoltage("out")).at(micro(100)); // 7.727 V
 * double[] end = run.finalState(); // where a next run can begin
 * }</pre>
 */
public final class Transient implements WaveformSource {
    private final DrivenCircuit circuit;
    private final Trajectory trajectory;
    private final RunWaveforms waveforms;
    private volatile @Nullable EnergyAudit audit;

    private Transient(DrivenCircuit circuit, Trajectory trajectory) {
        this.circuit = circuit;
        this.trajectory = trajectory;
        waveforms = RunWaveforms.of(trajectory);
    }

    /**
     * Runs a driven circuit with all its scheduled changes.
     *
     * @param circuit the circuit and what drives it
     * @param startState the state at the start, one entry for each of the circuit's states, SI units
     * @param duration how long to run, s; more than 0
     * @return the run
     * @throws org.voltsecond.engine.SwitchingException if the run cannot go on; the message names parts and time
     */
    public static Transient of(DrivenCircuit circuit, double[] startState, double duration) {
        return new Transient(circuit, Simulation.of(circuit.law()).record(startState, duration));
    }

    /**
     * Runs a driven circuit from rest: no current, no voltage, but for the initial values that its parts state.
     *
     * @param circuit the circuit and what drives it
     * @param duration how long to run, s; more than 0
     * @return the run
     * @throws org.voltsecond.engine.SwitchingException if the run cannot go on; the message names parts and time
     */
    public static Transient fromRest(DrivenCircuit circuit, double duration) {
        return of(circuit, circuit.restState(), duration);
    }

    @Override
    public Waveform of(Signal signal) {
        return waveforms.of(signal);
    }

    /**
     * Returns the circuit that was run.
     *
     * @return the circuit and what drives it
     */
    public DrivenCircuit circuit() {
        return circuit;
    }

    /**
     * Returns the record of the run.
     *
     * @return one knot for each interval
     */
    public Trajectory trajectory() {
        return trajectory;
    }

    /**
     * Returns the reading of the run, for who goes through its intervals.
     *
     * @return the reading with which its waveforms are measured
     */
    public RunReading reading() {
        return waveforms.reading();
    }

    /**
     * Returns the duty cycle of a switch or rectifier in every clock period.
     *
     * @param part reference designator of a switch or rectifier
     * @return share of each whole period in which it conducts, 0 to 1
     * @throws IllegalArgumentException if there is no such switch or rectifier
     */
    public DutyCycles dutyCycles(String part) {
        return DutyCycles.of(waveforms.reading(), circuit.clockPeriod(), phase -> circuit.conducts(phase, part));
    }

    /**
     * Returns the state at the end, just before anything that is switched at that very instant.
     *
     * @return one entry for each state, SI units, a new array
     */
    public double[] finalState() {
        return trajectory.finalState();
    }

    /**
     * Returns when the run ends.
     *
     * @return the time since its start, s
     */
    public double finalTime() {
        return trajectory.end();
    }

    /**
     * Works out where the energy of the run went.
     *
     * @return the audit
     */
    public EnergyAudit audit() {
        EnergyAudit known = audit;
        if (known == null) {
            known = EnergyAudit.of(circuit, waveforms.reading());
            audit = known;
        }
        return known;
    }

    @Override
    public String toString() {
        return "run of " + circuit + " until " + Quantity.format(finalTime(), Unit.SECOND, 4);
    }
}
