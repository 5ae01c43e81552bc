package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.circuit.Circuit.GROUND;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.mega;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;
import static org.voltsecond.units.Si.nano;
import static org.voltsecond.units.Si.pico;

import java.util.List;
import java.util.Random;
import org.hipparchus.ode.ODEState;
import org.hipparchus.ode.OrdinaryDifferentialEquation;
import org.hipparchus.ode.nonstiff.DormandPrince853Integrator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.analysis.EnergyAudit;
import org.voltsecond.analysis.Parameter;
import org.voltsecond.characteristic.Junction;
import org.voltsecond.characteristic.Junction.Point;
import org.voltsecond.characteristic.Junction.Recovery;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.PartValue;
import org.voltsecond.circuit.Profile;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.engine.Simulation;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.stage.CouplingCapacitor;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.SecondInductor;
import org.voltsecond.stage.StagePart;
import org.voltsecond.stage.Topology;
import org.voltsecond.stage.Transformer;
import org.voltsecond.waveform.Waveform;

/** Rectifiers with a forward curve, a stored charge and capacitances: closed forms, and an integrator on the same equations. */
class RecoveringRectifierTest {
    private static final Point[] CURVE = {new Point(0.3, 0.55), new Point(1.2, 0.68), new Point(4, 0.86)};

    /**
     * A current that has flowed for long falls at a constant slope a: with the charge's state m = q / t (t its lifetime)
     * {@code m(s) = I - a s + a t (1 - exp(-s / t))}, s from where it begins to fall; the junction blocks where the current is
     * -k m, k lifetime over transit time, and what is left dies out with the time constant of both (by hand from the model's
     * equations).
     */
    @ParameterizedTest
    @CsvSource({"10, 60, 15", "2, 300, 20", "0.5, 20, 60"})
    void recoversAsTheModelSays(double forward, double lifetimeNanos, double transitNanos) {
        double t = nano(lifetimeNanos);
        Recovery recovery = new Recovery(t, nano(transitNanos));
        double henry = micro(1);
        double volt = 40;
        double slope = volt / henry;
        double from = 50 * t;
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "a", GROUND, Profile.constant(0).stepTo(from, -volt))
                .part(new Part.Inductor("L1", "a", "b", henry, 0, forward))
                .part(new Part.Rectifier("D1", "b", GROUND, 0, 0, Junction.IDEAL.withRecovery(recovery)))
                .build();
        DrivenCircuit driven = DrivenCircuit.builder(circuit).clockPeriod(1).build();
        // by bisection: when the junction blocks
        double k = lifetimeNanos / transitNanos;
        double low = 0;
        double high = forward / slope + 100 * t;
        for (int n = 0; n < 200; n++) {
            double s = 0.5 * (low + high);
            double charge = forward - slope * s + slope * t * -Math.expm1(-s / t);
            if (forward - slope * s + k * charge > 0) {
                low = s;
            } else {
                high = s;
            }
        }
        double peak = slope * low - forward;
        double tail = t / (1 + k);
        Trajectory run = Simulation.of(driven.law()).record(circuit.initialState(), from + low + 5 * tail);
        Waveform current = Waveform.of(run, driven.current("D1"));
        assertThat(-current.minimum()).isCloseTo(peak, within(1e-10 * forward));
        assertThat(current.timeOfMinimum() - from).isCloseTo(low, within(1e-10 * low));
        assertThat(-current.at(from + low + tail)).isCloseTo(peak / Math.E, within(1e-9 * peak));
        double falling = from + forward / slope;
        double backwards = -current.between(falling, current.endTime()).integral();
        assertThat(backwards)
                .isCloseTo(peak * peak / (2 * slope) + peak * tail * -Math.expm1(-5), within(1e-9 * backwards));
        assertThat(recovery.peakCurrent(forward, slope)).isCloseTo(peak, within(1e-12 * forward));
        assertThat(recovery.charge(forward, slope))
                .isCloseTo(peak * peak / (2 * slope) + peak * tail, within(1e-12 * forward * t));
        assertThat(EnergyAudit.of(driven, run).residual()).isLessThan(1e-10);
    }

    @Test
    void aDataSheetTellsBothTimes() {
        Recovery recovery = Recovery.ofDataSheet(10, mega(100), 2.5, nano(60));
        assertThat(recovery.peakCurrent(10, mega(100))).isCloseTo(2.5, within(1e-11));
        assertThat(recovery.charge(10, mega(100))).isCloseTo(nano(60), within(1e-11 * nano(60)));
        assertThatThrownBy(() -> Recovery.ofDataSheet(10, mega(100), 2.5, nano(30)))
                .hasMessageContaining("above peak^2 / (2 slope) = 3.125E-8 C")
                .hasMessageContaining("3.0E-8 C");
    }

    /** A current that rises evenly draws the curve as the voltage over time; the heat is the area below curve times current. */
    @Test
    void aCurrentThatRisesDrawsTheForwardCurve() {
        double ohm = 0.01;
        Junction junction = Junction.ofCurve(CURVE);
        Circuit circuit = Circuit.builder()
                .currentSource("I1", GROUND, "a", Profile.constant(0).rampTo(0, 6, 6))
                .resistor("R1", "a", GROUND, 1e3)
                .part(new Part.Rectifier("D1", "a", GROUND, 0.4, ohm, junction))
                .build();
        DrivenCircuit driven = DrivenCircuit.builder(circuit).clockPeriod(10).build();
        Trajectory run = Simulation.of(driven.law()).record(new double[] {0}, 6);
        Waveform current = Waveform.of(run, driven.current("D1"));
        Waveform voltage = Waveform.of(run, driven.voltageAcross("D1"));
        for (double time : new double[] {0.2, 0.9, 3, 5.5}) {
            double ampere = current.at(time);
            assertThat(ampere + voltage.at(time) / 1e3).isCloseTo(time, within(1e-12));
            assertThat(voltage.at(time)).isCloseTo(junction.voltageAt(0.4, ampere) + ohm * ampere, within(1e-12));
        }
        assertThat(junction.voltageAt(0.4, 0.75)).isCloseTo((0.55 + 0.68) / 2, within(1e-12));
        assertThat(junction.voltageAt(0.4, 5.4)).isCloseTo(0.95, within(1e-12));
        assertThat(EnergyAudit.of(driven, run).residual()).isLessThan(1e-12);
    }

    private static PowerStage buck() {
        return of(PowerStage.buck());
    }

    private static PowerStage of(PowerStage stage) {
        return stage.input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(10), milli(20))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(3.6));
    }

    /** The equations of a buck stage with all of it, by inspection of the circuit; shares no code with the library. */
    private record Everything(
            double loop, double loopOhm, double onOhm, double output, double junction, Recovery recovery, boolean on)
            implements OrdinaryDifferentialEquation {
        @Override
        public int getDimension() {
            return 6;
        }

        /** Of the diode, from ground to the switch node: what its curve says, unless the junction has blocked. */
        private double diode(double volt, double charge) {
            double ampere = (volt - 0.4) / (0.15 / 0.3);
            if (volt > 0.68) {
                ampere = 1.2 + (volt - 0.68) / (0.18 / 2.8);
            } else if (volt > 0.55) {
                ampere = 0.3 + (volt - 0.55) / (0.13 / 0.9);
            }
            return Math.max(ampere, -recovery.lifetime() / recovery.transitTime() * charge);
        }

        @Override
        public double[] computeDerivatives(double time, double[] x) {
            double i = x[0];
            double node = x[4];
            double diode = diode(-node, x[5]);
            double volt = (x[1] + milli(20) * i) * 3.6 / (3.6 + milli(20));
            return new double[] {
                (node - volt - milli(30) * i) / micro(22),
                (i - volt / 3.6) / micro(10),
                (12 - loopOhm * x[2] - x[3] - node) / loop,
                (x[2] - (on ? x[3] / onOhm : 0)) / output,
                (x[2] + diode - i) / junction,
                (diode - x[5]) / recovery.lifetime()
            };
        }
    }

    @ParameterizedTest
    @ValueSource(ints = {1, 2, 3, 4})
    void theIntegratorAgrees(int seed) {
        Random random = new Random(seed);
        double period = micro(3);
        double duty = 0.3 + 0.4 * random.nextDouble();
        double loop = nano(20 + 60 * random.nextDouble());
        // with little damping the node swings back far enough for the diode to conduct again while it still holds
        // charge
        double loopOhm = seed > 2 ? 0.02 : 0.5 + random.nextDouble();
        double onOhm = 0.5 + random.nextDouble();
        double output = pico(300 + 400 * random.nextDouble());
        double junction = pico(200 + 300 * random.nextDouble());
        Recovery recovery = new Recovery(nano(30 + 50 * random.nextDouble()), nano(10 + 20 * random.nextDouble()));
        int periods = 4;
        double[] state = new double[6];
        for (int k = 0; k < 2 * periods; k++) {
            boolean on = k % 2 == 0;
            Everything equations = new Everything(loop, loopOhm, onOhm, output, junction, recovery, on);
            DormandPrince853Integrator integrator = new DormandPrince853Integrator(1e-18, period, 1e-14, 1e-14);
            double from = (Math.floor(k / 2.0) + (on ? 0 : duty)) * period;
            double to = (Math.floor(k / 2.0) + (on ? duty : 1)) * period;
            state = integrator
                    .integrate(equations, new ODEState(from, state), to)
                    .getPrimaryState();
        }
        Converter converter = buck().transistor(onOhm)
                .outputCapacitance(output)
                .loopInductance(loop, loopOhm)
                .rectifier(0.4, 0)
                .junctionCapacitance(junction)
                .junction(Junction.ofCurve(CURVE).withRecovery(recovery))
                .drive(Drive.fixedDuty(duty, 1 / period));
        ConverterTransient run = converter.startUp(periods * period);
        assertThat(run.finalInductorCurrent()).isCloseTo(state[0], within(1e-9));
        assertThat(run.of(converter.outputVoltage()).at(periods * period))
                .isCloseTo((state[1] + milli(20) * state[0]) * 3.6 / (3.6 + milli(20)), within(1e-9));
        assertThat(run.audit().residual()).isLessThan(1e-10);
    }

    @ParameterizedTest
    @ValueSource(strings = {"continuous", "discontinuous", "capacitive", "boost", "synchronous"})
    void derivativesAgreeWithDifferences(String kind) {
        Junction junction = Junction.ofCurve(CURVE).withRecovery(new Recovery(nano(60), nano(15)));
        PowerStage stage = buck().junction(junction);
        Converter converter = (switch (kind) {
                    case "discontinuous" -> stage.load(Load.resistor(20)).bodyDiode(0.7, milli(10));
                    case "capacitive" ->
                        stage.transistor(0.4)
                                .outputCapacitance(pico(800))
                                .junctionCapacitance(pico(500))
                                .loopInductance(nano(60), 1.5);
                    case "boost" -> of(PowerStage.boost()).junction(junction).load(Load.resistor(20));
                    case "synchronous" ->
                        of(PowerStage.boost())
                                .synchronousRectifier(milli(30), 0.5, milli(10))
                                .junction(junction)
                                .load(Load.resistor(20));
                    default -> stage;
                })
                .drive(Drive.fixedDuty(0.42, kilo(300)));
        ConverterSteadyState steady = converter.steadyState();
        int checked = 0;
        for (PartValue value : PartValue.all(converter.circuit())) {
            if (value.value() == 0) {
                continue;
            }
            double derivative = steady.periodic()
                    .sensitivities()
                    .to(Parameter.of(value.name()))
                    .mean(converter.outputVoltage());
            double fine = difference(converter, value, 1e-4);
            double coarse = difference(converter, value, 2e-4);
            double size = Math.abs(steady.of(converter.outputVoltage()).mean());
            assertThat(derivative * value.value())
                    .as(value.name())
                    .isCloseTo((4 * fine - coarse) / 3 * value.value(), within(1e-8 * size));
            checked++;
        }
        assertThat(checked).isGreaterThan(14);
    }

    private static double difference(Converter converter, PartValue value, double step) {
        double up = mean(converter.with(value.name(), value.value() * (1 + step)));
        double down = mean(converter.with(value.name(), value.value() * (1 - step)));
        return (up - down) / (2 * step * value.value());
    }

    private static double mean(Converter converter) {
        return converter.steadyState().of(converter.outputVoltage()).mean();
    }

    /** What recovers takes a charge from the input each period: the loss grows by about voltage times charge times frequency. */
    @Test
    void theChargeThatLeavesIsALossOfTheAudit() {
        Recovery recovery = new Recovery(nano(60), nano(15));
        ConverterSteadyState plain =
                buck().drive(Drive.fixedDuty(0.42, kilo(300))).steadyState();
        ConverterSteadyState slow = buck().junction(Junction.IDEAL.withRecovery(recovery))
                .drive(Drive.fixedDuty(0.42, kilo(300)))
                .steadyState();
        double current = plain.of(plain.converter().inductorCurrent()).minimum();
        double more = slow.audit().totalDissipated() - plain.audit().totalDissipated();
        // nothing limits the slope: the junction is empty at once, and what it has stored leaves through the transistor
        double charge = current * recovery.lifetime() * recovery.timeConstant() / recovery.transitTime();
        assertThat(more).isGreaterThan(0.9 * 12 * charge).isLessThan(1.2 * 12 * charge);
        assertThat(slow.audit().residual()).isLessThan(1e-10);
    }

    /** With an integrator in the loop the mean output is the target, whatever the rectifier is like. */
    @ParameterizedTest
    @ValueSource(doubles = {3.6, 30})
    void aRegulatedStageHoldsItsOutput(double ohm) {
        Converter converter = buck().outputCapacitor(micro(47), milli(20))
                .load(Load.resistor(ohm))
                .bodyDiode(0.7, milli(10))
                .junction(Junction.ofCurve(CURVE).withRecovery(new Recovery(nano(60), nano(15))))
                .drive(VoltageMode.of(kilo(300), 1, 0.2, Compensator.type2(1500, 4557, kilo(100))));
        ConverterSteadyState steady = converter.steadyState();
        assertThat(steady.of(converter.outputVoltage()).mean()).isCloseTo(5, within(1e-9));
        assertThat(steady.periodic().isStable()).isTrue();
        assertThat(steady.audit().residual()).isLessThan(1e-10);
        assertThat(steady.of(converter.driven().current("D1")).minimum()).isLessThan(-0.01);
    }

    @Test
    void everyStageTakesThem() {
        for (Topology topology : Topology.READY) {
            PowerStage stage = PowerStage.of(topology)
                    .input(12)
                    .outputCapacitor(micro(47), milli(20))
                    .transistor(milli(200))
                    .rectifier(0.4, milli(20))
                    .load(Load.resistor(5));
            stage = topology.hasInductor() ? stage.inductor(micro(47), milli(30)) : stage;
            for (Class<? extends StagePart> kind : topology.needs()) {
                stage = stage.with(
                        kind == Transformer.class
                                ? Transformer.of(1, 1, micro(500)).withReset(1)
                                : kind == SecondInductor.class
                                        ? new SecondInductor(micro(47), milli(20), 0)
                                        : new CouplingCapacitor(micro(20), milli(50)));
            }
            Converter converter = stage.junction(Junction.ofCurve(CURVE).withRecovery(new Recovery(nano(60), nano(15))))
                    .outputCapacitance(nano(2))
                    .junctionCapacitance(nano(1))
                    .loopInductance(nano(50), 0.5)
                    .drive(Drive.fixedDuty(0.3, kilo(100)));
            ConverterSteadyState steady = converter.steadyState();
            assertThat(steady.audit().residual()).as(topology.toString()).isLessThan(1e-10);
            assertThat(steady.of(converter.outputVoltage()).mean())
                    .as(topology.toString())
                    .isNotZero();
        }
    }

    @Test
    void faultsAreToldAtOnce() {
        assertThatThrownBy(() -> buck().loopInductance(nano(20), 0.1)
                        .junction(
                                new Junction(List.of(new Point(1, 0.3), new Point(0.5, 0.2)), new Recovery(0, nano(1))))
                        .drive(Drive.fixedDuty(0.4, kilo(300))))
                .isInstanceOf(InvalidStageException.class)
                .hasMessageContaining("give the output capacitance as well, or a snubber")
                .hasMessageContaining(
                        "forward_curve[0].voltage must not be below the forward drop of 0.4 V, but was 0.3 V")
                .hasMessageContaining("forward_curve[1].current must be more than that of the point before it, 1.0 A")
                .hasMessageContaining("lifetime must be > 0");
    }
}
