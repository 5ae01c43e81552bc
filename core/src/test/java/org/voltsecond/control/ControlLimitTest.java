package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.Transient;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Profile;
import org.voltsecond.engine.Interval;
import org.voltsecond.waveform.Side;
import org.voltsecond.waveform.Waveform;

/** The clamp of the control voltage and its recovery. */
class ControlLimitTest {
    private static final double LOW = 0.1;
    private static final double HIGH = 0.9;
    private static final double GAIN = 1500;
    private static final double ZERO = 4557;
    private static final double POLE = 100e3;

    /** The output is given, so that the error is: reference 1 V minus what the source says. */
    private static Transient withError(Profile output, VoltageMode regulator, double duration) {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", "ground", 12)
                .switchPart("Q1", "in", "sw", 0.1)
                .rectifier("D1", "ground", "sw", 0.4, 0.02)
                .inductor("L1", "sw", "out", 22e-6, 1)
                .capacitor("C1", "in", "ground", 10e-6, 0.1)
                .voltageSource("V2", "out", "ground", output)
                .build();
        return Transient.fromRest(Bench.driven(circuit, regulator, false).build(), duration);
    }

    private static VoltageMode regulator(Compensator compensator) {
        return VoltageMode.of(Bench.FREQUENCY, 1, 1, compensator).withControlLimits(LOW, HIGH);
    }

    private static Waveform control(Transient run) {
        return run.of(run.circuit().control("control voltage"));
    }

    @Test
    void typeTwoStartsAtTheLowerLimitAndLeavesItWhenItsNetworkIsCharged() {
        // v_c(0) would be 0 V: it stands at 0.1 V, x' = wz (0.1 V - x), until d K e = (d - 1) wz (0.1 V - x)
        double error = 0.2;
        Transient run = withError(Profile.constant(1 - error), regulator(Compensator.type2(GAIN, ZERO, POLE)), 0.2e-3);
        double d = POLE / ZERO;
        double wz = 2 * Math.PI * ZERO;
        double missing = d * GAIN * error / ((d - 1) * wz);
        double left = Math.log(LOW / missing) / wz;
        assertThat(control(run).between(0, left - 1e-12).maximum()).isEqualTo(LOW);
        double after = 60e-6;
        double expected = leaving(LOW, LOW - missing, error, after);
        assertThat(control(run).at(left + after)).isCloseTo(expected, within(1e-12));
    }

    /**
     * The control voltage some time after it has left a limit, where the error is constant and the lag's state began at
     * {@code lag}. With d = wp/wz: v = d y + (1 - d) x, y' = K e, x' = wp (y - x).
     */
    private static double leaving(double limit, double lag, double error, double time) {
        double d = POLE / ZERO;
        double wp = 2 * Math.PI * POLE;
        double begin = (limit - (1 - d) * lag) / d;
        double y = begin + GAIN * error * time;
        double follows = y - GAIN * error / wp;
        double x = follows + (lag - (begin - GAIN * error / wp)) * Math.exp(-wp * time);
        return d * y + (1 - d) * x;
    }

    @Test
    void typeTwoIsHeldAtTheUpperLimitAndReturnsWithoutDelay() {
        double up = 0.5;
        double down = 0.3;
        double turn = 10e-3;
        Profile output = Profile.constant(1 - up).stepTo(turn, 1 + down);
        Transient run = withError(output, regulator(Compensator.type2(GAIN, ZERO, POLE)), turn + 0.2e-3);
        Waveform control = control(run);
        assertThat(control.between(8e-3, turn).minimum()).isEqualTo(HIGH);
        assertThat(control.between(8e-3, turn).maximum()).isEqualTo(HIGH);
        // long at the limit the lag has come to rest there; no wind-up: the way back begins with the error's sign
        for (double time : new double[] {1e-6, 10e-6, 100e-6}) {
            assertThat(control.at(turn + time)).isCloseTo(leaving(HIGH, HIGH, -down, time), within(1e-11));
        }
    }

    @Test
    void aShortStayAtTheLimitLeavesTheLagOnItsWay() {
        // at the limit: x' = wz (limit - x); it leaves when the free rate d K e + (1 - d) wp (y - x) turns
        double up = 0.8;
        Transient run = withError(
                Profile.constant(1 - up).stepTo(0.75e-3, 1.02), regulator(Compensator.type2(GAIN, ZERO, POLE)), 0.9e-3);
        Waveform control = control(run);
        double reached = control.crossings(HIGH - 1e-9).get(0).time();
        assertThat(reached).isLessThan(0.75e-3);
        double left = run.trajectory().intervals().stream()
                .filter(interval -> interval.start() >= 0.75e-3 - 1e-12)
                .filter(ControlLimitTest::isFree)
                .mapToDouble(Interval::start)
                .findFirst()
                .orElseThrow();
        assertThat(control.between(reached + 1e-7, left).minimum()).isEqualTo(HIGH);
        assertThat(control.at(left + 1e-6)).isLessThan(HIGH);
        assertThat(control.at(left, Side.BEFORE)).isCloseTo(control.at(left, Side.AFTER), within(1e-12));
    }

    private static boolean isFree(Interval interval) {
        ControlPath.State path = ((RegulatedController.Node) ((CircuitPhase) interval.phase()).mode()).path();
        return path.toString().contains("FREE");
    }

    @Test
    void aProportionalLoopIsSimplyCut() {
        Transient run =
                withError(Profile.constant(1.5).rampTo(0, 1e-3, -1), regulator(Compensator.proportional(1)), 1e-3);
        Waveform control = control(run);
        for (double time : new double[] {0.1e-3, 0.3e-3, 0.5e-3, 0.9e-3}) {
            double free = 1 - (1.5 - 2.5e3 * time);
            assertThat(control.at(time)).isCloseTo(Math.min(HIGH, Math.max(LOW, free)), within(1e-12));
        }
    }

    @Property(tries = 25)
    void bothLimitsHoldForTypeThreeUnderLoadSteps(
            @ForAll @DoubleRange(min = 500, max = 20000) double gain,
            @ForAll @DoubleRange(min = 0, max = 0.3) double low,
            @ForAll @DoubleRange(min = 0.45, max = 1) double high,
            @ForAll @DoubleRange(min = 1, max = 100) double load) {
        VoltageMode regulator = VoltageMode.of(Bench.FREQUENCY, 1, 0.2, Compensator.type3(gain, 3e3, 5e3, 100e3, 150e3))
                .withMaximumDutyCycle(0.9)
                .withControlLimits(low, high);
        Circuit circuit = Bench.buck(load);
        DrivenCircuit driven = Bench.driven(circuit, regulator, false)
                .change(1e-3, circuit.withResistance("R1", 25))
                .change(2e-3, circuit.withResistance("R1", 1))
                .build();
        Transient run = Transient.fromRest(driven, 3e-3);
        Waveform control = control(run);
        assertThat(control.maximum()).isLessThanOrEqualTo(high + 1e-12);
        assertThat(control.minimum()).isGreaterThanOrEqualTo(low - 1e-12);
        assertThat(control.edges()).allMatch(edge -> Math.abs(edge.after() - edge.before()) <= 1e-11);
        assertThat(run.audit().residual()).isLessThanOrEqualTo(1e-10);
        assertThat(Transient.fromRest(driven, 3e-3).finalState()).containsExactly(run.finalState());
    }

    @Test
    void movedLimitsBindFromTheirInstantOn() {
        Compensator compensator = Compensator.type2(GAIN, ZERO, POLE);
        VoltageMode regulator =
                VoltageMode.of(Bench.FREQUENCY, 1, 0.2, compensator).withControlLimits(LOW, HIGH);
        Circuit circuit = Bench.buck(0.3);
        Plant plant = Bench.plant(circuit, false);
        DrivenCircuit driven = DrivenCircuit.builder(circuit)
                .controlledBy(regulator.on(plant))
                .change(3e-3, regulator.withControlLimits(LOW, 0.5).on(plant))
                .change(4e-3, regulator.withControlLimits(LOW, 0.7).on(plant))
                .build();
        Transient run = Transient.fromRest(driven, 6e-3);
        List<Double> expected = List.of(0.5, 0.7);
        assertThat(control(run).between(3e-3, 4e-3).maximum()).isEqualTo(expected.get(0));
        assertThat(control(run).between(4e-3, 6e-3).maximum()).isLessThanOrEqualTo(expected.get(1));
        assertThat(control(run).at(4e-3)).isCloseTo(0.5, within(1e-12));
    }
}
