package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.circuit.Circuit.GROUND;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Random;
import org.hipparchus.ode.nonstiff.DormandPrince853Integrator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.analysis.EnergyAudit;
import org.voltsecond.analysis.Parameter;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.InvalidCircuitException;
import org.voltsecond.circuit.Network;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Transition;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.AffineMap;
import org.voltsecond.engine.Simulation;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.figures.BentPart;
import org.voltsecond.figures.NamedSignals;
import org.voltsecond.stage.CouplingCapacitor;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.SecondInductor;
import org.voltsecond.stage.Topology;
import org.voltsecond.stage.Transformer;
import org.voltsecond.waveform.Waveform;

/** Inductors that saturate and capacitors that fade: closed forms, and {@link DormandPrince853Integrator} on the same bends. */
class BendTest {
    /**
     * A buck stage without resistance at a capacitor so large that its voltage stands still: the current rises by E / L and falls
     * by V / L on each segment, so that the knee is passed at known instants.
     */
    @Test
    void aSaturatingBuckStageHasRampsWithAKnee() {
        double period = 1 / kilo(100);
        double duty = 0.5;
        double knee = 2;
        double below = micro(20);
        double above = micro(5);
        Converter converter = PowerStage.buck()
                .input(10)
                .inductor(below)
                .saturation(new Bend(knee, above))
                .outputCapacitor(100)
                .synchronousRectifier(0)
                .load(Load.current(2))
                .drive(Drive.fixedDuty(duty, 1 / period));
        ConverterSteadyState steady = converter.steadyState();
        assertThat(steady.of(converter.outputVoltage()).mean()).isCloseTo(5, within(1e-9));
        // ramps of flux: x below the knee, y above it, x L1 + y L2 = 5 V T / 2; the capacitor moves by some 1e-9 of its
        // voltage
        double flux = 5 * duty * period;
        double low = steady.of(converter.inductorCurrent()).minimum();
        double high = steady.of(converter.inductorCurrent()).maximum();
        double x = knee - low;
        double y = high - knee;
        assertThat(x * below + y * above).isCloseTo(flux, within(1e-8 * flux));
        double mean = (below * x * (knee - x / 2) + above * y * (knee + y / 2)) / flux;
        assertThat(mean).isCloseTo(2, within(1e-8));
        // from these two: below x^2 = above y^2, since the load takes just the current of the knee
        double expected = flux / (below + Math.sqrt(below * above));
        assertThat(x).isCloseTo(expected, within(1e-8 * expected));
        assertThat(steady.audit().residual()).isLessThan(1e-10);
    }

    /** Half a period of a tank is that of the flux: with C1 below and C2 above the knee the quarters are arcs of two ellipses. */
    @Test
    void aTankWithABendingCapacitorSwingsAsByQuadrature() {
        double henry = milli(1);
        double first = micro(1);
        double second = micro(0.25);
        double knee = 3;
        double peak = 10;
        Circuit circuit = Circuit.builder()
                .part(new Part.Inductor("L1", "a", GROUND, henry, 0, 0))
                .part(new Part.Capacitor("C1", "a", GROUND, first, 0, peak, List.of(new Bend(knee, second))))
                .build();
        DrivenCircuit driven = DrivenCircuit.builder(circuit).clockPeriod(1e-3).build();
        // above: v = peak cos(w2 t); below: an arc of radius sqrt(knee^2 + i^2 L / C1)
        double w2 = 1 / Math.sqrt(henry * second);
        double w1 = 1 / Math.sqrt(henry * first);
        double above = Math.acos(knee / peak) / w2;
        double current = peak * Math.sqrt(second / henry) * Math.sin(above * w2);
        double below = Math.atan2(knee, current * Math.sqrt(henry / first)) / w1;
        double period = 4 * (above + below);
        Trajectory run = Simulation.of(driven.law()).record(circuit.initialState(), 25 * period);
        assertThat(run.finalState()[1]).isCloseTo(peak, within(1e-9));
        assertThat(run.finalState()[0]).isCloseTo(0, within(1e-9));
        assertThat(EnergyAudit.of(driven, run).residual()).isLessThan(1e-12);
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 4, 5, 6, 7, 8, 9})
    void theIntegratorAgreesOnRandomBends(int seed) {
        Random random = new Random(seed);
        Topology topology = List.of(Topology.BUCK, Topology.BOOST, Topology.INVERTING_BUCK_BOOST)
                .get(seed % 3);
        double period = 1 / kilo(300);
        double ohm = 3 + 5 * random.nextDouble();
        double duty = 0.25 + 0.4 * random.nextDouble();
        double sign = topology == Topology.INVERTING_BUCK_BOOST ? -1 : 1;
        double esr = milli(20);
        List<Bend> saturation = bends(random, 1, micro(22));
        List<Bend> bias = bends(random, 2, micro(47));
        Converter converter = PowerStage.of(topology)
                .input(12)
                .inductor(micro(22), milli(30))
                .saturation(saturation.toArray(Bend[]::new))
                .outputCapacitor(micro(47), esr)
                .bias(bias.toArray(Bend[]::new))
                .transistor(milli(80))
                .synchronousRectifier(milli(80))
                .load(Load.resistor(ohm))
                .drive(Drive.fixedDuty(duty, 1 / period));
        int periods = 60;
        ConverterTransient run = converter.startUp(periods * period);
        BentStage oracle = new BentStage(
                topology,
                12,
                micro(22),
                saturation,
                milli(30),
                micro(47),
                bias,
                esr,
                milli(80),
                duty,
                period,
                open -> open * ohm / (ohm + esr));
        double[] expected = oracle.after(periods, new double[] {0, 0});
        assertThat(run.finalInductorCurrent())
                .isCloseTo(expected[0], within(1e-9 * Math.max(1, Math.abs(expected[0]))));
        assertThat(sign * run.finalCapacitorVoltage()).isCloseTo(expected[1], within(1e-9 * Math.max(1, expected[1])));
        assertThat(run.audit().residual()).isLessThan(1e-10);
        assertThat(converter.steadyState().audit().residual()).isLessThan(1e-10);
    }

    private static List<Bend> bends(Random random, double scale, double value) {
        List<Bend> bends = new ArrayList<>();
        double above = 0;
        double present = value;
        for (int k = 0; k < 3; k++) {
            above += scale * (0.3 + random.nextDouble());
            present *= 0.4 + 0.8 * random.nextDouble();
            bends.add(new Bend(above, present));
        }
        return bends;
    }

    /** Charge is kept across the knees: 8 V on 2 uF up to 2 V and 1 uF beyond (10 uC) meets an empty capacitor of 3 uF. */
    @Test
    void capacitorsThatMeetKeepTheirCharge() {
        Circuit circuit = Circuit.builder()
                .part(new Part.Capacitor("C1", "a", GROUND, micro(2), 0, 8, List.of(new Bend(2, micro(1)))))
                .capacitor("C2", "b", GROUND, micro(3))
                .switchPart("Q1", "a", "b", 0)
                .build();
        Network network = Network.of(circuit);
        Transition met = network.resolve(1, 0, -1, new double[] {8, 0});
        double[] after = jump(met).apply(new double[] {8, 0});
        // at 2 V they hold 4 uC and 6 uC, which is just the 10 uC that there were; so try 9 V: 11 uC, 2.25 V
        assertThat(after).containsExactly(new double[] {2, 2}, within(1e-12));
        double[] more = jump(network.resolve(1, 0, -1, new double[] {9, 0})).apply(new double[] {9, 0});
        assertThat(more).containsExactly(new double[] {2.25, 2.25}, within(1e-12));
        double[] less = jump(network.resolve(1, 0, -1, new double[] {3, 0})).apply(new double[] {3, 0});
        assertThat(less).containsExactly(new double[] {1, 1}, within(1e-12));
    }

    private static AffineMap jump(Transition met) {
        return Objects.requireNonNull(met.jump());
    }

    /** From 3 V, 5 uC: 1 V. One microvolt more on C1 is a picocoulomb of its upper segment, shared by 5 uF. */
    @Test
    void theJumpTellsItsDerivative() {
        Circuit circuit = Circuit.builder()
                .part(new Part.Capacitor("C1", "a", GROUND, micro(2), 0, 8, List.of(new Bend(2, micro(1)))))
                .capacitor("C2", "b", GROUND, micro(3))
                .switchPart("Q1", "a", "b", 0)
                .build();
        Transition met = Network.of(circuit).resolve(1, 0, -1, new double[] {3, 0});
        assertThat(jump(met).entry(0, 0)).isCloseTo(0.2, within(1e-12));
        assertThat(jump(met).entry(1, 1)).isCloseTo(0.6, within(1e-12));
        assertThat(met.repeatable()).isFalse();
    }

    /** A sampler must not take the equations of a constant inductance. */
    @Test
    void aSamplerKnowsTheBends() {
        Converter converter = PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .saturation(new Bend(2, micro(8)))
                .outputCapacitor(micro(47), milli(5))
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.45, kilo(300)));
        StageMeasurement ripple =
                StageMeasurement.of(StageMeasurement.Measure.PEAK_TO_PEAK, StageSignal.INDUCTOR_CURRENT);
        StageSampler sampler = StageSampler.of(converter, List.of(StageValue.INPUT_VOLTAGE), List.of(ripple));
        double[] found = new double[1];
        sampler.measure(new double[] {12}, found);
        assertThat(found[0])
                .isEqualTo(
                        converter.steadyState().of(converter.inductorCurrent()).peakToPeak());
    }

    /**
     * Windings that share a saturating core, at a load that undamps: the search begins with a straight core. Over a period the
     * flux comes back: 24 V for 4 us against the output, with its ideal rectifier, seen from the primary for 6 us.
     */
    @Test
    void theCoreOfATransformerSaturates() {
        Converter converter = PowerStage.of(Topology.FLYBACK)
                .input(24)
                .with(Transformer.of(3, 1, micro(100)).withSaturation(new Bend(1, micro(40))))
                .outputCapacitor(10)
                .load(Load.power(8, 2))
                .drive(Drive.fixedDuty(0.4, kilo(100)));
        ConverterSteadyState steady = converter.steadyState();
        assertThat(steady.of(converter.outputVoltage()).mean()).isCloseTo(24 * 0.4 / 0.6 / 3, within(1e-6));
        double low = steady.of(converter.inductorCurrent()).minimum();
        double high = steady.of(converter.inductorCurrent()).maximum();
        double flux = micro(100) * (1 - low) + micro(40) * (high - 1);
        assertThat(flux).isCloseTo(24 * 4e-6, within(1e-13));
        assertThat(steady.audit().residual()).isLessThan(1e-10);
        assertThat(steady.periodic().isStable()).isFalse();
    }

    /** At a frequency near zero the response to the line is the derivative of the mean output by the input voltage. */
    @Test
    void theResponseBeginsWithTheDerivative() {
        Converter converter = PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .saturation(new Bend(1.1, micro(14)), new Bend(1.3, micro(8)))
                .outputCapacitor(micro(10), milli(20))
                .bias(new Bend(4.9, micro(5)), new Bend(5.03, micro(4)))
                .rectifier(0.4, milli(20))
                .load(Load.power(6, 3))
                .drive(Drive.fixedDuty(0.45, kilo(300)));
        ConverterSteadyState steady = converter.steadyState();
        double response = steady.smallSignal().lineToOutput(1e-3).magnitude(0);
        double derivative =
                steady.periodic().sensitivities().to(Parameter.voltage("V1")).mean(converter.outputVoltage());
        assertThat(response).isCloseTo(derivative, within(1e-8));
        double impedance = steady.smallSignal().outputImpedance(1e-3).magnitude(0);
        double byLoad =
                steady.periodic().sensitivities().to(Parameter.current("I1")).mean(converter.outputVoltage());
        assertThat(impedance).isCloseTo(-byLoad, within(1e-8));
    }

    /** A ripple on the line, in the exact steady state of a hundred periods, against the response that was linearised. */
    @Test
    void theResponseIsThatOfARipple() {
        double frequency = kilo(3);
        double amplitude = 1e-4;
        PowerStage stage = PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .saturation(new Bend(2, micro(8)))
                .outputCapacitor(micro(20), milli(20))
                .bias(new Bend(5.01, micro(12)))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5));
        Drive drive = Drive.fixedDuty(0.45, kilo(300));
        double response = stage.drive(drive)
                .steadyState()
                .smallSignal()
                .lineToOutput(frequency)
                .magnitude(0);
        Converter rippled = stage.inputRipple(amplitude, frequency).drive(drive);
        double measured =
                rippled.steadyState().of(rippled.outputVoltage()).spectrum(1).amplitude(1) / amplitude;
        assertThat(measured).isCloseTo(response, within(1e-5 * response));
    }

    /** A straight fall from 20 uH to 10 uH over 10 A: on each segment the ratio of the ends is the same, and 2 in all. */
    @Test
    void aCurveOfADataSheetBecomesSegments() {
        Bend.Fit fit = Bend.fit(new double[] {0, 10}, new double[] {micro(20), micro(10)}, 0.05);
        assertThat(fit.error()).isLessThanOrEqualTo(0.05);
        // the mean of a segment from a down to b is (a + b) / 2, above b by 5 %: a = 1.1 b, so that seven of 10 % and a
        // rest
        assertThat(fit.value()).isCloseTo(micro(20) * (1 + 1 / 1.1) / 2, within(1e-16));
        assertThat(fit.bends()).hasSize(8);
        assertThat(fit.bends().get(0).above()).isCloseTo(20 - 20 / 1.1, within(1e-9));
        assertThat(fit.bends().get(7)).isEqualTo(new Bend(10, micro(10)));
        double flux = 0;
        double from = 0;
        double value = fit.value();
        for (Bend bend : fit.bends()) {
            flux += value * (bend.above() - from);
            from = bend.above();
            value = bend.value();
        }
        assertThat(flux).isCloseTo(micro(150), within(1e-16));
        // the flux is farthest off where the curve meets the mean: in the middle of the first segment
        double half = (20 - 20 / 1.1) / 2;
        double there = 20 * half - half * half / 2;
        assertThat(fit.storedError()).isCloseTo(1 - (20 - half) * half / there, within(1e-9));
        assertThat(Bend.fit(new double[] {3}, new double[] {micro(5)}, 0.1).value())
                .isEqualTo(micro(5));
        assertThat(org.assertj.core.api.Assertions.catchThrowable(
                        () -> Bend.fit(new double[] {3, 2}, new double[] {1, 1}, 0.1)))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("ascending");
    }

    @Test
    void bendsAreInAscendingOrder() {
        assertThat(org.assertj.core.api.Assertions.catchThrowableOfType(
                                InvalidCircuitException.class,
                                () -> Circuit.builder()
                                        .part(new Part.Inductor(
                                                "L1",
                                                "a",
                                                GROUND,
                                                1e-6,
                                                0,
                                                0,
                                                List.of(new Bend(2, 1e-6), new Bend(1, 0))))
                                        .resistor("R1", "a", GROUND, 1)
                                        .build())
                        .faults())
                .containsExactlyInAnyOrder(
                        "L1: saturation[1].inductance must be > 0 H and finite but was 0.0 H",
                        "L1: saturation[1].above must be more than that of the bend before it, 2.0 A, but was 1.0 A");
    }

    private static Converter coupledSepic(Bend... saturation) {
        return PowerStage.sepic()
                .input(12)
                .inductor(micro(90), 0)
                .saturation(saturation)
                .with(new SecondInductor(micro(60), milli(10), 0.9))
                .with(new CouplingCapacitor(micro(80), 0))
                .outputCapacitor(micro(100), milli(5))
                .rectifier(0.4, 0)
                .load(Load.resistor(6))
                .drive(Drive.fixedDuty(0.45, kilo(100)));
    }

    /** The saturation of coupled windings was passed over without a word. */
    @Test
    void coupledWindingsShareACoreThatSaturates() {
        Converter straight = coupledSepic();
        Converter unsaturated = coupledSepic(new Bend(100, micro(20)));
        ConverterSteadyState one = straight.steadyState();
        ConverterSteadyState other = unsaturated.steadyState();
        NamedSignals.of(straight).forEach((name, signal) -> {
            double scale = one.of(signal).rms();
            double[] twice = {
                other.of(Objects.requireNonNull(NamedSignals.of(unsaturated).get(name)))
                        .rms(),
                other.of(Objects.requireNonNull(NamedSignals.of(unsaturated).get(name)))
                        .maximum()
            };
            assertThat(twice[0]).as(name).isCloseTo(scale, within(1e-11 * (1 + scale)));
            assertThat(twice[1]).as(name).isCloseTo(one.of(signal).maximum(), within(1e-11 * (1 + scale)));
        });
        // in the on interval the first winding sees the input, so that its flux grows by 12 V · 4.5 µs whatever the
        // core does
        Converter converter = coupledSepic(new Bend(2.4, micro(20)));
        ConverterSteadyState steady = converter.steadyState();
        BentPart core = BentPart.of(converter, steady).get(0);
        assertThat(core.isSaturated()).isTrue();
        double flux = micro(90) * (2.4 - core.lowest()) + micro(20) * (core.peak() - 2.4);
        assertThat(flux).isCloseTo(12 * micro(4.5), within(1e-15));
        // and the core's current is that of the first winding and the second one's, by 0.9 of the root of their
        // inductances
        Waveform both = steady.of(converter.inductorCurrent())
                .plus(steady.of(converter.further("second_inductor_current")).times(0.9 * Math.sqrt(60.0 / 90)));
        assertThat(both.maximum()).isCloseTo(core.peak(), within(1e-12));
        assertThat(steady.audit().residual()).isLessThan(1e-12);
    }
}
