package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.offset;

import java.util.ArrayList;
import java.util.List;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Assume;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.IntRange;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.EnergyAudit;
import org.voltsecond.control.Drive;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Simulation;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.numeric.Complex;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.PlainStages;
import org.voltsecond.stage.Topology;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;

/** What holds for every stage, over wide ranges of parts, drive and load; see {@link RandomStages}. */
class RandomStageProperties {
    private static final double ROUND_OFF = 0x1p-52;

    @Provide
    Arbitrary<StageSpec> stages() {
        return RandomStages.any();
    }

    @Provide
    Arbitrary<StageSpec> settlingStages() {
        return RandomStages.settling();
    }

    // -------------------------------------------------------------------------------------------------- steady states

    /** One property for all that a steady state must show, since finding it is what takes the time. */
    @Property(tries = 1000)
    void steadyStatesBalance(@ForAll("stages") StageSpec stage) {
        ConverterSteadyState steady = Interruption.steadyState(stage);
        assertAccounted(
                stage, steady.converter(), steady.audit(), steady.periodic().trajectory());
        assertVoltSeconds(stage, steady);
        assertCharges(stage, steady);
        assertIntervals(stage, steady);
        assertRectifies(stage, steady.converter(), steady.periodic().trajectory());
        assertStays(stage, steady);
    }

    /** The volt-seconds across the inductance of a period are nothing beside those that flow, or beside rounding. */
    private static void assertVoltSeconds(StageSpec stage, ConverterSteadyState steady) {
        Waveform across = steady.of(steady.converter().driven().voltageAcross("L1"));
        Waveform current = steady.of(steady.converter().inductorCurrent());
        double imbalance = across.integral() - stage.coilOhm() * current.integral();
        double flows = peak(across) * stage.period();
        double rounding = 32 * ROUND_OFF * (stage.inductance() * peak(current) + stage.input() * stage.period());
        assertThat(imbalance).as("volt-seconds").isCloseTo(0, offset(1e-10 * flows + rounding));
    }

    /**
     * The charge into the output capacitor of a period, with that of jumps where ideal devices short it, is nothing beside
     * that which flows, or beside rounding.
     */
    private static void assertCharges(StageSpec stage, ConverterSteadyState steady) {
        Waveform into = steady.of(steady.converter().outputCapacitorCurrent());
        double jumps = 0;
        double before = steady.periodic().state()[1];
        for (Interval interval : steady.periodic().trajectory().intervals()) {
            jumps += stage.capacitance() * (interval.startState()[1] - before);
            before = interval.endState()[1];
        }
        double flows = peak(into) * stage.period() + Math.abs(jumps);
        double charge = stage.capacitance() * Math.abs(before);
        double rounding =
                32 * ROUND_OFF * (charge + peak(steady.of(steady.converter().inductorCurrent())) * stage.period());
        assertThat(into.integral() + jumps).as("charge").isCloseTo(0, offset(1e-10 * flows + rounding));
    }

    private static void assertIntervals(StageSpec stage, ConverterSteadyState steady) {
        double exact = 4 * ROUND_OFF * stage.period();
        double sum = steady.onTime() + steady.offTime() + steady.idleTime();
        assertThat(sum).as("on, off and idle").isCloseTo(stage.period(), offset(exact));
        assertThat(steady.onTime()).as("on").isCloseTo(stage.dutyCycle() * stage.period(), offset(exact));
        assertThat(steady.conduction() == Conduction.DISCONTINUOUS)
                .as("discontinuous")
                .isEqualTo(steady.idleTime() > 1e-9 * stage.period());
    }

    private static void assertStays(StageSpec stage, ConverterSteadyState steady) {
        if (steady.periodic().isStable()) {
            double[] state = steady.periodic().state();
            double[] later = Simulation.of(steady.converter().driven().law()).finalState(state, 30 * stage.period());
            assertThat(distance(stage, state, later)).as("stays").isLessThan(1e-11);
        }
    }

    /**
     * To 1e-10, or to the rounding of the stored energy where that exceeds the energy that flows by 1e4 and more, or to that
     * of the current where next to no resistance joins the output capacitor and the input.
     */
    private static void assertAccounted(
            StageSpec stage, Converter converter, EnergyAudit audit, Trajectory trajectory) {
        double largest = Math.abs(audit.storedChange());
        for (double energy : audit.delivered().values()) {
            largest = Math.max(largest, Math.abs(energy));
        }
        for (double energy : audit.dissipated().values()) {
            largest = Math.max(largest, energy);
        }
        double stored = converter.circuit().storedEnergy(trajectory.finalState());
        double rounding = 32 * ROUND_OFF * (stored + energyOfJoining(stage, trajectory));
        double limit = Math.max(1e-10, largest == 0 ? 0 : rounding / largest);
        assertThat(audit.residual()).as("energy audit").isLessThanOrEqualTo(limit);
        assertThat(audit.dissipated().values())
                .allSatisfy(loss -> assertThat(loss).isGreaterThanOrEqualTo(-rounding));
        boolean ideal = stage.seriesOhm() + stage.onOhm() == 0 || stage.seriesOhm() + stage.slopeOhm() == 0;
        double most = ideal ? Double.POSITIVE_INFINITY : rounding + 1e-10 * largest;
        assertThat(audit.redistributed()).as("redistributed").isBetween(-rounding - 1e-10 * largest, most);
    }

    /**
     * A unit in the last place of the capacitor's voltage is a current of so much more through a resistance between two
     * voltages; the energy is that of the input into the resistance alone while transistor and rectifier conduct.
     */
    private static double energyOfJoining(StageSpec stage, Trajectory trajectory) {
        double ohm = stage.onOhm() + stage.slopeOhm() + stage.seriesOhm();
        double joined = trajectory.intervals().stream()
                .filter(interval -> interval.configuration().toString().contains("Q1 closed, D1 conducting"))
                .mapToDouble(Interval::duration)
                .sum();
        return ohm == 0 ? 0 : stage.input() * stage.input() / ohm * joined;
    }

    /** Blocking: no current at all, and at most the drop across it. Conducting: no current backwards. */
    private static void assertRectifies(StageSpec stage, Converter converter, Trajectory trajectory) {
        if (stage.synchronous()) {
            return;
        }
        double peak = peak(Waveform.of(trajectory, converter.inductorCurrent()));
        for (Interval interval : trajectory.intervals()) {
            Waveform current = within(interval, converter.rectifierCurrent());
            if (converter.driven().conducts(interval.phase(), "D1")) {
                double rounding = 64 * ROUND_OFF * terms(interval, converter.rectifierCurrent());
                assertThat(current.minimum()).as("rectifier current").isGreaterThanOrEqualTo(-1e-12 * peak - rounding);
            } else {
                Waveform voltage = within(interval, converter.rectifierVoltage());
                assertThat(peak(current)).as("blocking current").isZero();
                assertThat(voltage.maximum())
                        .as("blocking voltage")
                        .isLessThanOrEqualTo(stage.forwardDrop() + 1e-12 * Math.max(peak(voltage), stage.input()));
            }
        }
    }

    /** Size of the terms of which a signal is the difference: a clamp's current is that of two voltages over milliohms. */
    private static double terms(Interval interval, Signal signal) {
        AffineForm form = signal.in(interval.configuration());
        double sum = Math.abs(form.constant());
        for (int j = 0; j < form.dimension(); j++) {
            double state = Math.max(Math.abs(interval.startState()[j]), Math.abs(interval.endState()[j]));
            sum += Math.abs(form.coefficient(j)) * state;
        }
        return sum;
    }

    private static Waveform within(Interval interval, Signal signal) {
        return Waveform.of(signal.name(), signal.unit(), interval.pieces(signal.in(interval.configuration())));
    }

    private static double peak(Waveform waveform) {
        return Math.max(Math.abs(waveform.maximum()), Math.abs(waveform.minimum()));
    }

    /**
     * Ideal parts and a ripple of less than 1e-4: conduction is continuous exactly if K is above its critical value. The
     * ripple moves the boundary by its own relative size, so that nothing closer than 1e-3 is asked.
     *
     * <p>Source of the criterion: Erickson, Maksimovic, Fundamentals of Power Electronics, 3rd ed., eq. 5.28 and table 5.1.
     */
    @Property(tries = 1000)
    void conductionIsTheSignOfKLessCriticalK(
            @ForAll("topologies") Topology topology,
            @ForAll("duties") double dutyCycle,
            @ForAll("distances") double distance,
            @ForAll boolean above,
            @ForAll("frequencies") double frequency) {
        double critical = ConversionRatio.criticalK(topology, dutyCycle);
        double k = above ? critical * (1 + distance) : critical / (1 + distance);
        double period = 1 / frequency;
        double ohm = 10;
        Converter converter = PowerStage.of(topology)
                .input(12)
                .inductor(k * ohm * period / 2)
                .outputCapacitor(1e5 * period / ohm)
                .load(Load.resistor(ohm))
                .drive(Drive.fixedDuty(dutyCycle, frequency));
        ConverterSteadyState steady = converter.steadyState();
        Waveform output = steady.of(converter.outputVoltage());
        assertThat(output.peakToPeak()).isLessThan(1e-4 * Math.abs(output.mean()));
        assertThat(steady.conduction()).isEqualTo(above ? Conduction.CONTINUOUS : Conduction.DISCONTINUOUS);
    }

    @Provide
    Arbitrary<Double> duties() {
        return RandomStages.duty(0.02, 0.98);
    }

    @Provide
    Arbitrary<Double> distances() {
        return RandomStages.log(1e-3, 10);
    }

    @Provide
    Arbitrary<Double> frequencies() {
        return RandomStages.log(1e3, 1e7);
    }

    // ---------------------------------------------------------------------------------------------------------- runs

    /** From rest, with a step of the line within. */
    @Property(tries = 1000)
    void transientsBalance(@ForAll("stages") StageSpec stage, @ForAll @IntRange(min = 1, max = 8) int periods) {
        Converter converter = stage.converter();
        Change step = Change.at(0.37 * periods * stage.period()).input(1.3 * stage.input());
        ConverterTransient run = Interruption.leftOut(stage, () -> converter.startUp(periods * stage.period(), step));
        assertAccounted(stage, converter, run.audit(), run.run().trajectory());
        assertRectifies(stage, run.after(0), run.run().trajectory());
    }

    @Property(tries = 1000)
    void steadyStateIsTheEndOfALongTransient(@ForAll("settlingStages") StageSpec stage) {
        ConverterSteadyState steady = Interruption.steadyState(stage);
        double slowest = steady.periodic().multipliers().stream()
                .mapToDouble(Complex::magnitude)
                .max()
                .orElse(0);
        Assume.that(slowest < 0.98);
        long periods = 300 + 2 * Math.round(Math.log(1e-14) / Math.log(Math.max(0.5, slowest)));
        double[] settled = Interruption.leftOut(
                stage,
                () -> Simulation.of(steady.converter().driven().law())
                        .finalState(new double[] {0, 0}, periods * stage.period()));
        assertThat(distance(stage, steady.periodic().state(), settled)).isLessThan(1e-10);
    }

    /** All voltages and currents of a stage scale with its sources; powers of two do not even change the digits. */
    @Property(tries = 1000)
    void mirrorsWhenVoltagesAreScaled(
            @ForAll("stages") StageSpec stage, @ForAll @IntRange(min = -30, max = 30) int exponent) {
        double factor = Math.scalb(1.0, exponent);
        StageSpec scaled = stage.scaled(factor);
        ConverterTransient run =
                Interruption.leftOut(stage, () -> stage.converter().startUp(5 * stage.period()));
        double[] expected = run.run().finalState();
        double[] actual = scaled.converter().startUp(5 * stage.period()).run().finalState();
        assertThat(actual).containsExactly(factor * expected[0], factor * expected[1]);

        double[] orbit = Interruption.steadyState(stage).periodic().state();
        double[] scaledOrbit = scaled.converter().steadyState().periodic().state();
        assertThat(scaledOrbit).containsExactly(factor * orbit[0], factor * orbit[1]);
    }

    @Property(tries = 1000)
    void recordedIsStreamed(@ForAll("stages") StageSpec stage) {
        Converter converter = stage.converter();
        double duration = 10.3 * stage.period();
        ConverterTransient run = Interruption.leftOut(stage, () -> converter.startUp(duration));
        List<double[]> starts = new ArrayList<>();
        List<Double> durations = new ArrayList<>();
        double[] last = Simulation.of(converter.driven().law()).stream(new double[] {0, 0}, duration, view -> {
            double[] start = new double[2];
            view.copyStartState(start);
            starts.add(start);
            durations.add(view.duration());
        });
        List<Interval> recorded = run.run().trajectory().intervals();
        assertThat(durations).hasSameSizeAs(recorded);
        for (int k = 0; k < recorded.size(); k++) {
            assertThat(starts.get(k)).containsExactly(recorded.get(k).startState());
            assertThat(durations.get(k)).isEqualTo(recorded.get(k).duration());
        }
        assertThat(last).containsExactly(run.run().finalState());
    }

    @Property(tries = 200)
    void changedCopiesLeaveTheOriginalAlone(@ForAll("stages") StageSpec stage, @ForAll("stages") StageSpec other) {
        Converter original = stage.converter();
        String words = original.toString();
        double[] before = firstPeriods(stage, original);
        List<Converter> copies = List.of(
                original.withInput(other.input()),
                original.withInductor(other.inductance(), other.coilOhm()),
                original.withOutputCapacitor(other.capacitance(), other.seriesOhm()),
                original.withTransistor(other.onOhm()),
                original.withRectifier(other.forwardDrop(), other.slopeOhm()),
                original.withSynchronousRectifier(other.slopeOhm()),
                original.withLoad(other.converter().load()),
                original.withDutyCycle(other.dutyCycle()),
                original.withDrive(other.converter().drive()));
        assertThat(copies).doesNotContain(original);
        assertThat(firstPeriods(stage, original)).containsExactly(before);
        assertThat(original).hasToString(words);
        double[] same = firstPeriods(stage, original.withInput(other.input()).withInput(stage.input()));
        assertThat(same).containsExactly(before);
    }

    private static double[] firstPeriods(StageSpec stage, Converter converter) {
        return Interruption.leftOut(
                stage, () -> converter.startUp(5 * stage.period()).run().finalState());
    }

    // -------------------------------------------------------------------------------------------------------- helpers

    /** Distance of two states in energy, relative to the first. */
    private static double distance(StageSpec stage, double[] a, double[] b) {
        double zi = Math.sqrt(stage.inductance());
        double zv = Math.sqrt(stage.capacitance());
        return Math.hypot(zi * (a[0] - b[0]), zv * (a[1] - b[1])) / Math.hypot(zi * a[0], zv * a[1]);
    }

    @Provide
    Arbitrary<Topology> topologies() {
        return Arbitraries.of(PlainStages.ALL);
    }
}
