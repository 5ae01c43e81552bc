package org.voltsecond.emission;

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

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.DoubleUnaryOperator;
import org.hipparchus.analysis.integration.IterativeLegendreGaussIntegrator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Drive;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.numeric.Complex;
import org.voltsecond.stage.CouplingCapacitor;
import org.voltsecond.stage.InputCapacitor;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Phases;
import org.voltsecond.stage.SecondInductor;
import org.voltsecond.stage.Topology;
import org.voltsecond.stage.Transformer;
import org.voltsecond.waveform.Side;
import org.voltsecond.waveform.Spectrum;
import org.voltsecond.waveform.Waveform;

/** What a receiver sees at the artificial networks, against what can be worked out by hand and against quadrature. */
class EmissionsTest {
    /** Of an interval, so that a harmonic has no more than a few swings in each. */
    private static final int PARTS = 8;

    private static PowerStage stage(Topology topology) {
        return PowerStage.of(topology)
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5));
    }

    private static Converter buck() {
        return stage(Topology.BUCK)
                .with(new InputCapacitor(micro(10), milli(5)))
                .drive(Drive.fixedDuty(0.45, kilo(300)));
    }

    private static Converter isolated(Topology topology, double duty) {
        return stage(topology)
                .with(Transformer.of(1, 1, micro(500)).withReset(1))
                .with(new InputCapacitor(micro(10), milli(5)))
                .drive(Drive.fixedDuty(duty, kilo(100)));
    }

    /** Every stage there is, one of several phases, a regulated one, and a custom circuit. */
    static Map<String, Converter> all() {
        Map<String, Converter> all = new LinkedHashMap<>();
        for (Topology topology : List.of(Topology.BUCK, Topology.BOOST, Topology.INVERTING_BUCK_BOOST)) {
            all.put(topology.toString(), stage(topology).drive(Drive.fixedDuty(0.45, kilo(300))));
            all.put(
                    topology + ", light load",
                    stage(topology).load(Load.resistor(100)).drive(Drive.fixedDuty(0.45, kilo(300))));
            all.put(
                    topology + ", three phases",
                    stage(topology).with(new Phases(3)).drive(Drive.fixedDuty(0.45, kilo(300))));
        }
        for (Topology topology : List.of(Topology.SEPIC, Topology.CUK, Topology.ZETA)) {
            all.put(
                    topology.toString(),
                    stage(topology)
                            .with(new SecondInductor(micro(33), milli(30), 0))
                            .with(new CouplingCapacitor(micro(10), milli(5)))
                            .drive(Drive.fixedDuty(0.45, kilo(300))));
        }
        all.put("four-switch", stage(Topology.FOUR_SWITCH_BUCK_BOOST).drive(Drive.fixedDuty(0.45, kilo(300))));
        all.put(
                "flyback",
                PowerStage.flyback()
                        .input(24)
                        .with(Transformer.of(3, 1, micro(500)))
                        .with(new InputCapacitor(micro(10), milli(5)))
                        .outputCapacitor(micro(200), milli(5))
                        .load(Load.resistor(5))
                        .drive(Drive.fixedDuty(0.4, kilo(40))));
        all.put("forward", isolated(Topology.FORWARD, 0.4));
        all.put("two-switch forward", isolated(Topology.TWO_SWITCH_FORWARD, 0.4));
        all.put("push-pull", isolated(Topology.PUSH_PULL, 0.3));
        all.put("half bridge", isolated(Topology.HALF_BRIDGE, 0.3));
        all.put("full bridge", isolated(Topology.FULL_BRIDGE, 0.3));
        all.put(
                "regulated",
                stage(Topology.BUCK)
                        .with(new InputCapacitor(micro(220), milli(300)))
                        .drive(VoltageMode.of(kilo(300), 1, 0.2, Compensator.type2(1500, 4557, kilo(100)))
                                .withRamp(0, 1)));
        all.put("own circuit", own());
        return all;
    }

    private static Converter own() {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 9)
                .inductor("L1", "in", "drain", micro(90))
                .switchPart("Q1", "drain", GROUND, milli(50))
                .capacitor("C1", "drain", "middle", micro(80))
                .inductor("L2", GROUND, "middle", micro(90))
                .rectifier("D1", "middle", "out", 0.4, 0)
                .capacitor("C2", "out", GROUND, micro(80))
                .resistor("R1", "out", GROUND, 2)
                .build();
        return Converter.of(circuit)
                .output("out", GROUND)
                .inductorCurrent("L1")
                .switchNode("drain")
                .drive(Drive.fixedDuty(0.4, kilo(100)));
    }

    static List<String> names() {
        return List.copyOf(all().keySet());
    }

    /** The integral of the waveform at the network, from one switching instant to the next, by Gauss's rule. */
    @ParameterizedTest
    @MethodSource("names")
    void everyStageAgreesWithQuadrature(String name) {
        Emissions found =
                EmissionEstimate.of(Objects.requireNonNull(all().get(name))).measure();
        assertThat(found.steady().audit().residual()).isLessThan(1e-10);
        Waveform volts = found.steady().of(found.plusLine());
        double size = Math.max(volts.maximum(), -volts.minimum());
        for (int harmonic : new int[] {1, 7, 40}) {
            double amplitude = Math.sqrt(2) * 1e-6 * Math.pow(10, found.level(harmonic) / 20);
            assertThat(amplitude)
                    .as("harmonic %s", harmonic)
                    .isCloseTo(amplitude(volts, harmonic), within(1e-11 * size));
        }
    }

    private static double amplitude(Waveform volts, int harmonic) {
        double omega = 2 * Math.PI * harmonic / (volts.endTime() - volts.startTime());
        double re = integral(volts, t -> Math.cos(omega * t));
        double im = integral(volts, t -> Math.sin(omega * t));
        return omega / Math.PI / harmonic * Math.hypot(re, im);
    }

    private static double integral(Waveform volts, DoubleUnaryOperator with) {
        double[] times = volts.switchingTimes();
        double size = Math.max(volts.maximum(), -volts.minimum());
        double sum = 0;
        for (int i = 0; i + 1 < times.length; i++) {
            double to = times[i + 1];
            double step = (to - times[i]) / PARTS;
            var gauss = new IterativeLegendreGaussIntegrator(30, 1e-12, 1e-14 * size * step);
            for (int p = 0; p < PARTS; p++) {
                double start = times[i] + p * step;
                double end = p + 1 == PARTS ? to : start + step;
                sum += gauss.integrate(
                        100_000,
                        t -> volts.at(t, t == end ? Side.BEFORE : Side.AFTER) * with.applyAsDouble(t),
                        start,
                        end);
            }
        }
        return sum;
    }

    /**
     * A buck stage without input capacitor whose inductor holds its current draws rectangular pulses: their harmonic, 2 I sin(pi k D) / (pi
     * k), across inductor and resistor side by side.
     */
    @Test
    void pulsesOfABuckStageByHand() {
        Converter stage = PowerStage.buck()
                .input(100)
                .inductor(10)
                .outputCapacitor(micro(47))
                .transistor(1)
                .rectifier(0.4, 0)
                .load(Load.resistor(100))
                .drive(Drive.fixedDuty(0.3, kilo(200)));
        for (ArtificialNetwork network :
                List.of(ArtificialNetwork.FIFTY_MICROHENRY, ArtificialNetwork.FIVE_MICROHENRY)) {
            Emissions found = EmissionEstimate.of(stage).network(network).measure();
            double amperes = found.steady().of(stage.inductorCurrent()).mean();
            assertThat(found.size()).isEqualTo(150);
            assertThat(found.frequency(150)).isCloseTo(30e6, within(1e-3));
            for (int k : new int[] {1, 2, 3, 17, 149}) {
                double pulses = 2 * amperes * Math.abs(Math.sin(Math.PI * k * 0.3)) / (Math.PI * k);
                double volts = pulses * network.impedance(k * kilo(200)).magnitude();
                assertThat(found.level(k))
                        .as("harmonic %s at %s", k, network)
                        .isCloseTo(20 * Math.log10(volts / Math.sqrt(2) / 1e-6), within(1e-4));
                assertThat(found.minusLevel(k)).isEqualTo(found.level(k));
                assertThat(found.differentialMode(k)).isEqualTo(found.level(k));
                assertThat(found.commonMode(k)).isEmpty();
            }
        }
    }

    /**
     * A rectangular switch node drives the capacitance to earth through both networks side by side, as the input capacitor joins the
     * lines: a divider by hand.
     */
    @Test
    void commonModeByHand() {
        Converter stage = PowerStage.buck()
                .input(12)
                .inductor(micro(22))
                .outputCapacitor(micro(47))
                .synchronousRectifier(0)
                .load(Load.resistor(2.5))
                .with(new InputCapacitor(milli(10), 0))
                .drive(Drive.fixedDuty(0.3, kilo(300)));
        Emissions found = EmissionEstimate.of(stage).earthCapacitance(pico(40)).measure();
        for (int k : new int[] {1, 3, 7, 49, 99}) {
            double node = 2 * 12 * Math.abs(Math.sin(Math.PI * k * 0.3)) / (Math.PI * k);
            Complex both =
                    ArtificialNetwork.FIFTY_MICROHENRY.impedance(k * kilo(300)).divide(2);
            Complex capacitor = new Complex(0, -1 / (2 * Math.PI * k * kilo(300) * pico(40)));
            double volts = node * both.divide(both.add(capacitor)).magnitude();
            assertThat(found.commonMode(k).orElseThrow())
                    .as("harmonic %s", k)
                    .isCloseTo(20 * Math.log10(volts / Math.sqrt(2) / 1e-6), within(1e-3));
        }
        assertThat(found.steady().audit().residual()).isLessThan(1e-10);
    }

    /** The lines differ where there is a common mode: each is half of the sum and half of the difference. */
    @Test
    void linesAreSumAndDifferenceOfTheModes() {
        Emissions found = EmissionEstimate.of(buck())
                .limits(EmissionLimits.CLASS_B)
                .earthCapacitance(pico(20))
                .measure();
        assertThat(found.worstElsewhere()).containsOnlyKeys("minus line", "common mode", "differential mode");
        assertThat(Objects.requireNonNull(found.worstElsewhere().get("differential mode"))
                        .get()
                        .level())
                .isEqualTo(found.differentialMode(1));
        assertThat(Objects.requireNonNull(found.worstElsewhere().get("common mode"))
                        .get()
                        .frequency())
                .isGreaterThan(300e3);
        double plus = found.level(1);
        double minus = found.minusLevel(1);
        assertThat(minus - plus).isGreaterThan(2);
        double modes =
                Math.pow(10, found.commonMode(1).orElseThrow() / 10) + Math.pow(10, found.differentialMode(1) / 10);
        double lines = (Math.pow(10, plus / 10) + Math.pow(10, minus / 10)) / 2;
        assertThat(lines).isCloseTo(modes, within(1e-9 * modes));
    }

    /** Each phase has a switch node, so that evenly shifted phases cancel all but every third harmonic of the common mode. */
    @Test
    void commonModeOfPhasesCancels() {
        Converter stage = stage(Topology.BUCK)
                .with(new Phases(3))
                .with(new InputCapacitor(micro(100), 0))
                .drive(Drive.fixedDuty(0.45, kilo(300)));
        Emissions found = EmissionEstimate.of(stage).earthCapacitance(pico(20)).measure();
        assertThat(found.commonMode(1).orElseThrow())
                .isLessThan(found.commonMode(3).orElseThrow() - 100);
    }

    /** The mean square is the sum of those of all harmonics (Parseval). */
    @Test
    void harmonicsAddUpToTheMeanSquare() {
        Converter withoutJumps = buck().withAcrossInput("CI", micro(10), 0);
        Emissions found = EmissionEstimate.of(withoutJumps).upTo(3e9).measure();
        double sum = 0;
        for (int k = 1; k <= found.size(); k++) {
            sum += Math.pow(10, found.level(k) / 10) * 1e-12;
        }
        double rms = found.steady().of(found.plusLine()).rms();
        assertThat(sum).isCloseTo(rms * rms, within(1e-9 * rms * rms));
    }

    @Test
    void slowEdgesTakeHighHarmonicsAway() {
        EmissionEstimate sharp = EmissionEstimate.of(buck());
        Emissions fast = sharp.measure();
        Emissions slow = sharp.edges(nano(50), nano(50)).measure();
        for (int k : new int[] {1, 30, 90}) {
            double x = Math.PI * fast.frequency(k) * nano(50);
            assertThat(slow.level(k) - fast.level(k))
                    .as("harmonic %s", k)
                    .isCloseTo(20 * Math.log10(Math.abs(Math.sin(x) / x)), within(1e-9));
        }
    }

    /** The transistor closes on the clock edge and opens after it; each has its own time. */
    @Test
    void closingAndOpeningHaveTimesOfTheirOwn() {
        Emissions found = EmissionEstimate.of(buck()).edges(nano(60), nano(15)).measure();
        Spectrum expected = Spectrum.of(
                found.steady().periodic().trajectory(),
                found.plusLine(),
                90,
                (before, after) -> after.sinceTick() == 0 ? nano(60) : nano(15));
        for (int k : new int[] {1, 20, 90}) {
            double volts = 1e-6 * Math.pow(10, found.level(k) / 20) * Math.sqrt(2);
            assertThat(volts).as("harmonic %s", k).isCloseTo(expected.amplitude(k), within(1e-12));
        }
    }

    @Test
    void worstIsTheLeastMarginFrom150KilohertzOn() {
        Converter slow = buck().withDrive(Drive.fixedDuty(0.25, kilo(100)));
        Emissions found =
                EmissionEstimate.of(slow).limits(EmissionLimits.CLASS_B).measure();
        Emissions.Worst worst = found.worst().get();
        assertThat(worst.frequency()).isCloseTo(200e3, within(1e-6)); // the first is stronger, but has no limit
        assertThat(worst.margin())
                .isEqualTo(EmissionLimits.CLASS_B.average(200e3).orElseThrow() - found.level(2));
        for (int k = 2; k <= found.size(); k++) {
            double limit = EmissionLimits.CLASS_B.average(found.frequency(k)).orElseThrow();
            assertThat(limit - found.level(k)).isGreaterThanOrEqualTo(worst.margin());
        }
        assertThat(found.worstPeak().get().margin()).isCloseTo(worst.margin() + 10, within(1e-9));
        assertThat(worst.verdict()).contains("exceeded by").contains("200 kHz");
    }

    /** At 0.5 MHz and at 5 MHz two bands meet. */
    @Test
    void lowerLimitHoldsAtAnEdge() {
        Converter stage = buck().withDrive(Drive.fixedDuty(0.45, kilo(500)));
        Emissions found =
                EmissionEstimate.of(stage).limits(EmissionLimits.CLASS_A).measure();
        assertThat(found.worst().get().limit()).isEqualTo(60);
    }

    @Test
    void peakBoundAddsWhatLiesWithinTheBandwidth() {
        Converter slow = buck().withDrive(Drive.fixedDuty(0.45, kilo(4)));
        Emissions found = EmissionEstimate.of(slow).upTo(kilo(400)).measure();
        double sum = 0;
        for (int k = 49; k <= 51; k++) { // 9 kHz hold three lines 4 kHz apart
            sum += Math.pow(10, found.level(k) / 20);
        }
        assertThat(found.peakBound(50)).isCloseTo(20 * Math.log10(sum), within(1e-9));
        Emissions high = EmissionEstimate.of(buck().withDrive(Drive.fixedDuty(0.45, kilo(50))))
                .upTo(mega(31))
                .measure();
        double wide = 0;
        for (int k = 609; k <= 611; k++) { // above 30 MHz 120 kHz hold three lines 50 kHz apart
            wide += Math.pow(10, high.level(k) / 20);
        }
        assertThat(high.peakBound(610)).isCloseTo(20 * Math.log10(wide), within(1e-9));
        assertThat(high.peakBound(500)).isEqualTo(high.level(500));
        assertThat(EmissionEstimate.of(buck()).measure().peakBound(9))
                .isEqualTo(EmissionEstimate.of(buck()).measure().level(9));
    }

    @Test
    void rippleOfTheLineIsLeftOut() {
        assertThat(EmissionEstimate.of(buck().withInputRipple(0.5, kilo(10)))
                        .measure()
                        .level(3))
                .isEqualTo(EmissionEstimate.of(buck()).measure().level(3));
    }

    @Test
    void withoutLimitsThereIsNoWorst() {
        Emissions found = EmissionEstimate.of(buck()).measure();
        assertThat(found.worst().reason()).contains("no limits are given");
        assertThat(found.worstPeak().exists()).isFalse();
        assertThat(found.worstElsewhere()).isEmpty();
        Emissions outside = EmissionEstimate.of(buck())
                .limits(EmissionLimits.of(EmissionLimits.Band.level(1e3, 2e3, 40)))
                .measure();
        assertThat(outside.worst().reason()).contains("no harmonic from 150 kHz");
    }

    @Test
    void faultsAreToldAtOnce() {
        assertThatThrownBy(() -> EmissionEstimate.of(buck())
                        .upTo(-1)
                        .edges(-nano(1), Double.NaN)
                        .earthCapacitance(-pico(1))
                        .measure())
                .isInstanceOf(InvalidStageException.class)
                .hasMessageContaining("highest frequency")
                .hasMessageContaining("rise time")
                .hasMessageContaining("fall time")
                .hasMessageContaining("earth capacitance");
        assertThatThrownBy(() -> EmissionEstimate.of(buck()).upTo(kilo(200)).measure())
                .hasMessageContaining("first harmonic, at 300 kHz, but was 200 kHz");
        assertThatThrownBy(() -> EmissionEstimate.of(buck()).upTo(mega(1e9)).measure())
                .hasMessageContaining("too many");
    }
}
