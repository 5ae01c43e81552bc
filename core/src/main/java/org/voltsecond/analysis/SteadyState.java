package org.voltsecond.analysis;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Part;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.PeriodMap;
import org.voltsecond.engine.Phase;
import org.voltsecond.engine.Simulation;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.numeric.Complex;
import org.voltsecond.numeric.Eigenvalues;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.RunWaveforms;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;
import org.voltsecond.waveform.WaveformSource;

/**
 * The periodic steady state of a driven circuit: the state that comes back to itself after a period, and the exact
 * waveforms of that period. Found by Newton's method on the exact period map with its exact derivative. An unstable
 * steady state is found too; {@link #isStable()} tells. Immutable and safe to read from any thread.
 *
 * <pre>{@code
 * SteadyState orbit = SteadyState.of(rail.driven()); // of any circuit that is driven at a fixed frequency
 * double current = orbit.state()[0]; // 1.780 A
 * double largest = orbit.multipliers().get(0).magnitude(); // 0.9798
 * boolean stable = orbit.isStable(); // true
 * }</pre>
 */
public final class SteadyState implements WaveformSource {

    /** What rounding leaves of the magnitude of a multiplier that is 1. */
    private static final double ROUND_OFF = 1e-13;

    /** States that differ by less, in their own size, are the same. */
    private static final double SAME_STATE = 1e-8;

    private final DrivenCircuit circuit;
    private final double[] state;
    private final double[][] derivative;
    private final double period;
    private final int periods;
    private volatile @Nullable RunWaveforms waveforms;

    private SteadyState(DrivenCircuit circuit, OrbitSearch.Orbit orbit, int periods, double period) {
        this.circuit = circuit;
        this.periods = periods;
        this.state = orbit.state();
        this.derivative = orbit.derivative();
        this.period = period;
    }

    /**
     * Finds the steady state of one clock period, from the state at rest.
     *
     * @param circuit the circuit and what drives it
     * @return the steady state
     * @throws NoSteadyStateException if there is none, or none was found; the message says why
     */
    public static SteadyState of(DrivenCircuit circuit) {
        return found(circuit, 1, SteadyStateSearch::find);
    }

    /**
     * Finds a steady state of several clock periods; of a circuit without a clock, of several cycles, each from the start
     * of a pulse to the start of the next.
     *
     * @param circuit the circuit and what drives it; the circuit as it is before any scheduled change
     * @param guess the state from which the search starts, one entry for each state, SI units
     * @param periods after how many clock periods or cycles the state comes back; at least 1
     * @return the steady state
     * @throws NoSteadyStateException if there is none, or none was found; the message says why
     */
    public static SteadyState of(DrivenCircuit circuit, double[] guess, int periods) {
        if (!(periods >= 1)) {
            throw new IllegalArgumentException("the number of periods must be at least 1 but was " + periods);
        }
        return found(circuit, periods, search -> search.from(guess));
    }

    private static SteadyState found(
            DrivenCircuit circuit, int periods, Function<SteadyStateSearch, OrbitSearch.Orbit> how) {
        if (!circuit.law().changes().isEmpty()) {
            throw new IllegalArgumentException("a steady state is that of a circuit without scheduled changes, but "
                    + circuit.law().changes().size() + " are scheduled; ask the circuit before the first change");
        }
        OrbitSearch.Orbit orbit = how.apply(new SteadyStateSearch(circuit, periods));
        double period = circuit.isClocked() ? periods * circuit.clockPeriod() : orbit.period();
        return new SteadyState(circuit, orbit, periods, period);
    }

    /**
     * Returns the circuit.
     *
     * @return the circuit and what drives it
     */
    public DrivenCircuit circuit() {
        return circuit;
    }

    /**
     * Returns the state at the start of the period, just before what happens on that clock edge.
     *
     * @return one entry for each state, SI units, a new array
     */
    public double[] state() {
        return state.clone();
    }

    /**
     * Returns the time after which everything repeats.
     *
     * @return the period, s
     */
    public double period() {
        return period;
    }

    /**
     * Returns the number of clock periods, or of cycles where there is no clock, after which the state was asked to come
     * back. It may have come back sooner, see {@link #repeatsAfter()}.
     *
     * @return the number, at least 1
     */
    public int periods() {
        return periods;
    }

    /**
     * Works out after how many clock periods, or cycles where there is no clock, the state comes back for the first time.
     *
     * @return {@link #periods()}, or a divisor of it where the orbit is one of fewer periods that was run several times
     */
    public int repeatsAfter() {
        double[] size = state.clone();
        List<double[]> returns = new ArrayList<>();
        PeriodMap map = circuit.isClocked()
                ? PeriodMap.of(circuit.law(), 1)
                : PeriodMap.returning(circuit.law(), 1, circuit::opensCycle);
        double[] present = state;
        for (int k = 1; k < periods; k++) {
            present = map.apply(present);
            returns.add(present);
            for (int i = 0; i < size.length; i++) {
                size[i] = Math.max(Math.abs(size[i]), Math.abs(present[i]));
            }
        }
        for (int k = 1; k < periods; k++) {
            if (periods % k == 0 && isSame(returns.get(k - 1), size)) {
                return k;
            }
        }
        return periods;
    }

    private boolean isSame(double[] other, double[] size) {
        for (int i = 0; i < size.length; i++) {
            if (!(Math.abs(other[i] - state[i]) <= SAME_STATE * size[i])) {
                return false;
            }
        }
        return true;
    }

    /**
     * Returns the record of one period.
     *
     * @return one knot for each interval
     */
    public Trajectory trajectory() {
        return waveforms().trajectory();
    }

    @Override
    public Waveform of(Signal signal) {
        return waveforms().of(signal);
    }

    /** Two threads at once may both run the period, and find the same. */
    private RunWaveforms waveforms() {
        RunWaveforms known = waveforms;
        if (known == null) {
            known = RunWaveforms.of(Simulation.of(circuit.law()).record(state, period));
            waveforms = known;
        }
        return known;
    }

    /**
     * Returns for how long of a period a condition on the conducting parts holds.
     *
     * @param condition tells from a phase, see {@link DrivenCircuit#conducts(Phase, String)}
     * @return the time, s
     */
    public double timeIn(Predicate<Phase> condition) {
        return trajectory().intervals().stream()
                .filter(interval -> condition.test(interval.phase()))
                .mapToDouble(Interval::duration)
                .sum();
    }

    /**
     * Returns for how long of a period a switch or rectifier conducts.
     *
     * @param part the name of the switch or rectifier
     * @return the time, s
     */
    public double timeConducting(String part) {
        return timeIn(phase -> circuit.conducts(phase, part));
    }

    /**
     * Returns for how long of a period no switch and no rectifier conducts. A device whose only path is cut off elsewhere
     * counts as one that does not conduct.
     *
     * @return the time, s
     */
    public double idleTime() {
        List<String> devices = new ArrayList<>(partsOf(Part.Switch.class));
        devices.addAll(partsOf(Part.Rectifier.class));
        return timeIn(phase -> devices.stream().noneMatch(part -> carries(phase, part)));
    }

    /** Whether a device conducts and its current is not held at zero by an open device in series with it. */
    private boolean carries(Phase phase, String part) {
        return circuit.conducts(phase, part)
                && !circuit.current(part).in(phase.configuration()).isZero();
    }

    /**
     * Tells the conduction mode. A circuit without rectifiers has no idle interval, and one in which nothing stores a current has
     * no mode. An interval in which the inductor current charges a snubber while it commutates is not idle.
     *
     * @return continuous, discontinuous, or at the boundary between them; undefined where there is no inductor
     */
    public Conduction conduction() {
        return ConductionMode.of(this).mode();
    }

    /**
     * Tells the conduction mode by those devices that carry one inductor current, whatever others do.
     *
     * @param switches names of the switches that the current passes through
     * @param rectifiers names of the rectifiers that take it over
     * @param inductor the inductor, or "part.winding"
     * @return continuous, discontinuous, or at the boundary between them
     */
    public Conduction conduction(List<String> switches, List<String> rectifiers, String inductor) {
        return new ConductionMode(this, switches, rectifiers, List.of(inductor)).mode();
    }

    private List<String> partsOf(Class<? extends Part> kind) {
        return circuit.circuit().parts().stream()
                .filter(kind::isInstance)
                .map(Part::name)
                .toList();
    }

    /**
     * Returns the multipliers: the eigenvalues of the derivative of the period map in the states of circuit and controller. A
     * small disturbance of the state is multiplied by them from one period to the next. The states of sources, such as those
     * of a line ripple, are no part of it: they follow their profile and nothing disturbs them.
     *
     * @return one for each state of circuit and controller, by falling magnitude
     */
    public List<Complex> multipliers() {
        int[] own = IntStream.range(0, state.length)
                .filter(i ->
                        !circuit.sourceStates().contains(circuit.stateNames().get(i)))
                .toArray();
        if (own.length == 0) {
            return List.of();
        }
        double[] scale = circuit.law().scale();
        double[][] scaled = new double[own.length][own.length];
        for (int i = 0; i < own.length; i++) {
            for (int j = 0; j < own.length; j++) {
                scaled[i][j] = scale[own[i]] * derivative[own[i]][own[j]] / scale[own[j]];
            }
        }
        return Eigenvalues.of(scaled);
    }

    /**
     * Returns the derivative of the period map at this steady state.
     *
     * @return entry (i, j): change of state i after a period for a change of state j before it, SI units; a new array
     */
    public double[][] derivative() {
        double[][] copy = new double[derivative.length][];
        for (int i = 0; i < copy.length; i++) {
            copy[i] = derivative[i].clone();
        }
        return copy;
    }

    /**
     * Tells what becomes of small disturbances. A magnitude of a multiplier within 1e-13 of 1 cannot be told from 1: that is what
     * the rounding of a period, some hundred operations, leaves of it.
     *
     * @return whether they die out, neither die out nor grow, or grow
     */
    public Stability stability() {
        double largest =
                multipliers().stream().mapToDouble(Complex::magnitude).max().orElse(0);
        return largest < 1 - ROUND_OFF
                ? Stability.STABLE
                : largest <= 1 + ROUND_OFF ? Stability.UNDAMPED : Stability.UNSTABLE;
    }

    /** What becomes of small disturbances of a steady state. */
    public enum Stability {
        /** They die out. */
        STABLE,
        /** Some of them stay as they are, as far as rounding lets that be known. */
        UNDAMPED,
        /** Some of them grow. */
        UNSTABLE
    }

    /**
     * Tells whether small disturbances die out.
     *
     * @return true if {@link #stability()} is {@link Stability#STABLE}
     */
    public boolean isStable() {
        return stability() == Stability.STABLE;
    }

    /**
     * Prepares the exact derivatives of every figure by the values of the parts and the times of the drive.
     *
     * @return the derivatives; worked out when asked for
     * @throws IllegalArgumentException if nothing drives the circuit, or a source changes with time
     */
    public Sensitivities sensitivities() {
        return Sensitivities.of(this);
    }

    /**
     * Works out where the energy of a period went.
     *
     * @return the audit
     */
    public EnergyAudit audit() {
        return EnergyAudit.of(circuit, trajectory());
    }

    /**
     * Returns the mean voltage across an inductor, or winding, relative to the largest that occurs: zero in a steady
     * state, since the volt-seconds of a period balance. A series resistance counts as outside the inductor.
     *
     * @param inductorVoltage the voltage across the inductance
     * @return the relative imbalance; 0 if there is no voltage at all
     */
    public double imbalance(Signal inductorVoltage) {
        Waveform waveform = of(inductorVoltage);
        double largest = Math.max(Math.abs(waveform.maximum()), Math.abs(waveform.minimum()));
        return largest == 0 ? 0 : Math.abs(waveform.mean()) / largest;
    }

    @Override
    public String toString() {
        return "steady state of " + circuit + ", period " + Quantity.format(period(), Unit.SECOND, 4);
    }
}
