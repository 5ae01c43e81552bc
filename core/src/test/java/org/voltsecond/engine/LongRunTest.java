package org.voltsecond.engine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.voltsecond.analysis.DutyCycles;
import org.voltsecond.analysis.EnergyAudit;
import org.voltsecond.analysis.Transient;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.Hysteretic;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.figures.StepFigures;
import org.voltsecond.figures.TransientFigures;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Envelope;
import org.voltsecond.waveform.RunWaveforms;
import org.voltsecond.waveform.Waveform;

/**
 * Of a run too long to be kept, in which nothing comes back, all that is told is what is told of one that is kept: to the bit where both are
 * the same run, and where the kept one ends sooner, of the part that they share.
 */
class LongRunTest {
    /** The runs of each kind have some more intervals than are kept as a whole, and some less. */
    @SuppressWarnings("ImmutableEnumChecker") // a converter cannot be changed
    enum Kind {
        /** Without slope compensation at more than half of the period: chaos. */
        CHAOTIC(
                PowerStage.boost()
                        .input(5)
                        .inductor(micro(22), milli(30))
                        .outputCapacitor(micro(47), milli(5))
                        .transistor(milli(80))
                        .rectifier(0.4, milli(20))
                        .load(Load.resistor(20))
                        .drive(CurrentMode.peak(kilo(100), 3)),
                0.72),
        HYSTERETIC(
                PowerStage.buck()
                        .input(12)
                        .inductor(micro(22), milli(30))
                        .outputCapacitor(micro(47), milli(30))
                        .transistor(milli(80))
                        .rectifier(0.4, milli(20))
                        .load(Load.resistor(2.5))
                        .drive(Hysteretic.voltageBand(kilo(300), 1, 0.2, milli(10))),
                0.95);

        private final Converter converter;
        private final double longer;

        Kind(Converter converter, double longer) {
            this.converter = converter;
            this.longer = longer;
        }
    }

    private static final double STEP = 0.5;
    private static final double SHORTER = 0.62;

    private static Change step() {
        return Change.at(STEP).load(Load.resistor(6));
    }

    private static List<Object> measured(DrivenCircuit circuit, Trajectory run) {
        RunWaveforms waveforms = RunWaveforms.of(run);
        Waveform output = waveforms.of(circuit.nodeVoltage("out"));
        Waveform current = waveforms.of(circuit.current("L1"));
        EnergyAudit audit = EnergyAudit.of(circuit, run);
        List<Object> all = new ArrayList<>(List.of(audit, audit.residual()));
        double end = run.end();
        for (Waveform one : List.of(output, current, output.between(0.01 * end, 0.93 * end))) {
            all.addAll(List.of(one.minimum(), one.maximum(), one.timeOfMinimum(), one.timeOfMaximum()));
            all.addAll(List.of(one.mean(), one.rms(), one.acRms(), one.intervalCount()));
            for (double band : new double[] {0.001, 0.1, 1, 10}) {
                all.add(one.settlingTime(one.mean(), band));
            }
            Envelope envelope = one.envelope(one.startTime(), one.endTime(), 300);
            for (int k = 0; k < 300; k++) {
                all.addAll(List.of(envelope.minimum(k), envelope.maximum(k), envelope.first(k), envelope.last(k)));
            }
        }
        return all;
    }

    @ParameterizedTest
    @EnumSource
    void whatIsKeptAndWhatIsRunAgainMeasureAlikeFromAnyThread(Kind kind) throws Exception {
        double duration = 0.1 * kind.longer;
        Change step = Change.at(0.6 * duration).load(Load.resistor(6));
        DrivenCircuit circuit = kind.converter.startUp(micro(1), step).run().circuit();
        Simulation simulation = Simulation.of(circuit.law());
        double[] rest = circuit.restState();
        Trajectory kept =
                simulation.record(new Simulation.Source(circuit.law(), rest, 1000, Integer.MAX_VALUE), duration);
        Trajectory again = simulation.record(new Simulation.Source(circuit.law(), rest, 1000, 1000), duration);
        List<Object> expected = measured(circuit, kept);

        Callable<List<Object>> measuring = () -> measured(circuit, again);
        ExecutorService threads = Executors.newFixedThreadPool(2);
        try {
            for (Future<List<Object>> one : threads.invokeAll(List.of(measuring, measuring))) {
                assertThat(one.get()).isEqualTo(expected);
            }
        } finally {
            threads.shutdown();
        }
    }

    @Test
    void aPartMeasuresAsTheRunThatEndsWithIt() {
        Kind kind = Kind.CHAOTIC;
        ConverterTransient whole = kind.converter.startUp(kind.longer, step());
        ConverterTransient part = kind.converter.startUp(SHORTER, step());
        assertThat(whole.run().trajectory().size()).isGreaterThan(1 << 17);
        assertThat(part.run().trajectory().size()).isBetween(1 << 16, 1 << 17);
        Waveform some = whole.of(kind.converter.outputVoltage()).between(0, SHORTER);
        Waveform all = part.of(kind.converter.outputVoltage());

        assertThat(some.mean()).isCloseTo(all.mean(), within(1e-14 * all.mean()));
        assertThat(some.rms()).isCloseTo(all.rms(), within(1e-14 * all.rms()));
        assertThat(some.minimum()).isEqualTo(all.minimum());
        assertThat(some.maximum()).isEqualTo(all.maximum());
        assertThat(some.timeOfMaximum()).isEqualTo(all.timeOfMaximum());
        assertThat(some.settlingTime(all.mean(), 1)).isEqualTo(all.settlingTime(all.mean(), 1));
        assertThat(some.settlingTime(all.mean(), 1e-4)).isEqualTo(all.settlingTime(all.mean(), 1e-4));

        TransientFigures figures = TransientFigures.of(whole, 0.02);
        TransientFigures expected = TransientFigures.of(part, 0.02);
        StepFigures start = figures.start().get();
        StepFigures expectedStart = expected.start().get();
        assertThat(start.dutyCycle().get()).isEqualTo(expectedStart.dutyCycle().get());
        assertThat(start.peakInductorCurrent()).isEqualTo(expectedStart.peakInductorCurrent());
        assertThat(start.settlingTime().map(String::valueOf).orElse("none"))
                .isEqualTo(expectedStart.settlingTime().map(String::valueOf).orElse("none"));
        assertThat(start.overshoot().get()).isEqualTo(expectedStart.overshoot().get());
        assertThat(figures.audit().residual()).isLessThan(1e-12);
    }

    /** Of a run without a clock, from the gate's own edges. */
    @Test
    void cyclesOfARunWithoutAClockAreThoseOfItsGate() {
        ConverterTransient run = Kind.HYSTERETIC.converter.startUp(0.02);
        Waveform gate = run.gate();
        double[] edges = gate.edges().stream()
                .filter(edge -> edge.after() > edge.before())
                .mapToDouble(edge -> edge.time())
                .toArray();
        double lowest = 2;
        double highest = -1;
        double last = -1;
        for (int k = 0; k + 1 < edges.length; k++) {
            last = gate.between(edges[k], edges[k + 1]).mean();
            lowest = Math.min(lowest, last);
            highest = Math.max(highest, last);
        }
        StepFigures.DutyCycles duty =
                TransientFigures.of(run, 0.02).start().get().dutyCycle().get();

        assertThat(edges.length).isGreaterThan(1000);
        assertThat(duty.minimum()).isCloseTo(lowest, within(1e-14));
        assertThat(duty.maximum()).isCloseTo(highest, within(1e-14));
        assertThat(duty.last()).isCloseTo(last, within(1e-14));
    }

    @Test
    void dutyCyclesOfALongRunAreThoseOfEachPeriod() {
        Transient run = Kind.CHAOTIC.converter.startUp(Kind.CHAOTIC.longer).run();
        DutyCycles duty = run.dutyCycles("Q1");
        DrivenCircuit circuit = run.circuit();
        double[] expected = new double[duty.periods()];
        Simulation.of(circuit.law()).stream(circuit.restState(), Kind.CHAOTIC.longer, interval -> {
            // on intervals of this converter begin with the period and end in it
            if (interval.tick() < expected.length && circuit.conducts(interval.phase(), "Q1")) {
                expected[(int) interval.tick()] += interval.duration() / circuit.clockPeriod();
            }
        });
        int[][] ranges = {{0, duty.periods()}, {3, 1000}, {256, 512}, {250, 260}, {511, 70_001}};
        for (int[] range : ranges) {
            double lowest = 2;
            double highest = -1;
            for (int k = range[0]; k < range[1]; k++) {
                lowest = Math.min(lowest, expected[k]);
                highest = Math.max(highest, expected[k]);
            }
            assertThat(duty.minimum(range[0], range[1])).isCloseTo(lowest, within(1e-15));
            assertThat(duty.maximum(range[0], range[1])).isCloseTo(highest, within(1e-15));
        }
        for (int k = 0; k < duty.periods(); k += 997) {
            assertThat(duty.of(k)).isCloseTo(expected[k], within(1e-15));
        }
    }
}
