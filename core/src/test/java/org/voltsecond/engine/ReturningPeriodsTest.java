package org.voltsecond.engine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.fail;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Objects;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.EnergyAudit;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.Plant;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.figures.StepFigures;
import org.voltsecond.figures.TransientFigures;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Envelope;
import org.voltsecond.waveform.RunWaveforms;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;

/** A settled run whose states come back to the bit is kept once: what is told of it is what the whole record tells. */
class ReturningPeriodsTest {
    private static final double PERIOD = 1 / kilo(300);
    private static final int PERIODS = 20_000;

    private static PowerStage buck(double load) {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(load));
    }

    /** Its last digits go round in eight periods at light load, in twenty at another. */
    private static DrivenCircuit loop(double laterLoad) {
        DrivenCircuit open = buck(100).drive(Drive.fixedDuty(0.45, kilo(300))).driven();
        Circuit circuit = open.circuit();
        Plant plant = new Plant("Q1", null, open.nodeVoltage("out"), open.current("L1"), open.nodeVoltage("in"));
        Compensator compensator = Compensator.type3(400, kilo(3), kilo(5), kilo(100), kilo(150));
        return DrivenCircuit.builder(circuit)
                .controlledBy(VoltageMode.of(kilo(300), 1, 0.2, compensator)
                        .withMaximumDutyCycle(0.95)
                        .on(plant))
                .change(0.2, circuit.withResistance("R1", laterLoad))
                .build();
    }

    private static Trajectory whole(DrivenCircuit circuit, double duration) {
        Trajectory.Recorder recorder =
                new Trajectory.Recorder(Simulation.Source.of(circuit.law(), circuit.restState()));
        // a listener that is told of each interval
        double[] end = Simulation.of(circuit.law()).stream(
                circuit.restState(), duration, interval -> recorder.onInterval(interval));
        return recorder.finish(ClockTime.from(duration, circuit.clockPeriod()), end);
    }

    private static void assertAlike(DrivenCircuit circuit, double duration, Trajectory record, Trajectory whole) {
        assertThat(whole.blocks()).containsExactly(new Trajectory.Block(0, whole.size(), 1));
        assertThat(record.size()).isEqualTo(whole.size());
        for (int index = 0; index < whole.size(); index++) {
            Interval one = record.interval(index);
            Interval other = whole.interval(index);
            boolean same = one.startTime().equals(other.startTime())
                    && one.duration() == other.duration()
                    && one.configuration() == other.configuration()
                    && one.end() == other.end()
                    && Arrays.equals(one.startState(), other.startState())
                    && Objects.equals(one.cause(), other.cause())
                    && (one.jump() == null) == (other.jump() == null);
            assertThat(same).as("interval %d, %s", index, other).isTrue();
        }
        assertThat(record.finalState()).isEqualTo(whole.finalState());
        assertThat(Simulation.of(circuit.law()).finalState(circuit.restState(), duration))
                .as("without a listener")
                .isEqualTo(whole.finalState());
        assertThat(record.indexAt(0.7 * duration)).isEqualTo(whole.indexAt(0.7 * duration));
    }

    private static void assertMeasures(DrivenCircuit circuit, Trajectory record, Trajectory whole) {
        EnergyAudit audit = EnergyAudit.of(circuit, record);
        EnergyAudit expected = EnergyAudit.of(circuit, whole);
        assertThat(audit.totalDelivered()).isCloseTo(expected.totalDelivered(), relative(expected.totalDelivered()));
        assertThat(audit.meanLoss("D1")).isCloseTo(expected.meanLoss("D1"), relative(expected.meanLoss("D1")));
        for (Signal signal : List.of(circuit.nodeVoltage("out"), circuit.current("L1"))) {
            Waveform one = RunWaveforms.of(record).of(signal);
            Waveform other = RunWaveforms.of(whole).of(signal);
            assertLike(one, other);
            double end = other.endTime();
            assertLike(one.between(0.51 * end, 0.93 * end), other.between(0.51 * end, 0.93 * end));
            assertThat(one.at(0.9123 * end)).isEqualTo(other.at(0.9123 * end));
            assertThat(one.crossings(other.mean())).isEqualTo(other.crossings(other.mean()));
        }
    }

    private static void assertLike(Waveform one, Waveform other) {
        assertThat(one.mean()).isCloseTo(other.mean(), relative(other.mean()));
        assertThat(one.rms()).isCloseTo(other.rms(), relative(other.rms()));
        assertThat(one.acRms()).isCloseTo(other.acRms(), relative(other.acRms()));
        assertThat(one.minimum()).isEqualTo(other.minimum());
        assertThat(one.maximum()).isEqualTo(other.maximum());
        assertThat(one.timeOfMaximum()).isEqualTo(other.timeOfMaximum());
        for (double band : new double[] {0.01, 0.1, 1}) {
            assertThat(one.settlingTime(other.mean(), band)).isEqualTo(other.settlingTime(other.mean(), band));
        }
        for (int columns : new int[] {7, 900}) {
            assertThat(columns(one, columns)).isEqualTo(columns(other, columns));
        }
    }

    private static List<Double> columns(Waveform waveform, int count) {
        Envelope envelope = waveform.envelope(waveform.startTime(), waveform.endTime(), count);
        List<Double> all = new ArrayList<>();
        for (int column = 0; column < count; column++) {
            all.addAll(List.of(
                    envelope.minimum(column), envelope.maximum(column), envelope.first(column), envelope.last(column)));
        }
        return all;
    }

    private static Offset<Double> relative(double value) {
        return within(1e-12 * Math.abs(value));
    }

    @Test
    void anOpenStageIsToldAsTheWholeRecordTells() {
        DrivenCircuit circuit =
                buck(2.5).drive(Drive.fixedDuty(0.45, kilo(300))).driven();
        double duration = PERIODS * PERIOD;
        Trajectory record = Simulation.of(circuit.law()).record(circuit.restState(), duration);
        Trajectory whole = whole(circuit, duration);

        assertThat(record.blocks()).anyMatch(block -> block.count() == 2 && block.times() > 5000);
        assertAlike(circuit, duration, record, whole);
        assertMeasures(circuit, record, whole);
    }

    @Test
    void aLoopWhoseLastDigitsGoRoundIsToldAsTheWholeRecordTells() {
        double duration = 0.4;
        // the last digits take a long round after some of the loads, and which these are hangs on the last digits
        for (int load = 6; load <= 24; load++) {
            DrivenCircuit circuit = loop(load);
            Trajectory record = Simulation.of(circuit.law()).record(circuit.restState(), duration);
            if (record.blocks().stream().anyMatch(block -> block.times() > 1 && block.count() > 100)) {
                assertThat(record.blocks()).anyMatch(block -> block.times() > 1 && block.count() < 100);
                assertAlike(circuit, duration, record, whole(circuit, duration));
                return;
            }
        }
        fail("no load after which the last digits take a long round");
    }

    @Test
    void tenMillionPeriodsTakeNoMoreRoomThanThoseInWhichSomethingHappens() {
        Converter rail = buck(2.5).drive(Drive.fixedDuty(0.45, kilo(300)));
        Change change = Change.at(0.05).load(Load.resistor(5));
        double brief = 30_000 * PERIOD;
        double longest = 10_000_000 * PERIOD;
        ConverterTransient run = rail.startUp(longest, change);
        ConverterTransient first = rail.startUp(brief, change);
        TransientFigures figures = TransientFigures.of(run, 0.01);

        assertThat(run.run().trajectory().size()).isGreaterThan(19_000_000);
        StepFigures step = figures.changes().get(0);
        StepFigures expected = TransientFigures.of(first, 0.01).changes().get(0);
        assertThat(step.settlingTime().get()).isEqualTo(expected.settlingTime().get());
        assertThat(step.overshoot().get()).isEqualTo(expected.overshoot().get());
        assertThat(step.dutyCycle().get()).isEqualTo(expected.dutyCycle().get());
        assertThat(step.peakInductorCurrent()).isEqualTo(expected.peakInductorCurrent());
        // the mean of the rest is that of the steady state
        Signal output = rail.outputVoltage();
        double settled = change.applyTo(rail).steadyState().of(output).mean();
        double mean = (first.of(output).mean() * brief + settled * (longest - brief)) / longest;
        assertThat(run.of(output).mean()).isCloseTo(mean, within(1e-12));
        assertThat(run.audit().residual()).isLessThan(1e-9);
        assertThat(run.gate().mean()).isCloseTo(0.45, within(1e-9));
    }
}
