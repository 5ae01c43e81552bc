package org.voltsecond.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.reference.Printed.assertPrinted;
import static org.voltsecond.reference.Printed.assertPublished;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;

import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.OutputRegulation;
import org.voltsecond.circuit.Part;
import org.voltsecond.control.Drive;
import org.voltsecond.control.Limiter;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.converter.StageMeasurement;
import org.voltsecond.converter.StageSignal;
import org.voltsecond.converter.StageValue;
import org.voltsecond.figures.NamedSignals;
import org.voltsecond.stage.CouplingCapacitor;
import org.voltsecond.stage.InputCapacitor;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Phases;
import org.voltsecond.stage.SecondInductor;
import org.voltsecond.stage.StagePart;
import org.voltsecond.stage.Topology;
import org.voltsecond.waveform.Waveform;

/**
 * Published cases of the stages with two inductors, of the four-switch stage and of interleaved ones, by a design file and by Java,
 * which must give the same circuit. What the letters mean stands in {@code Printed}.
 */
class FurtherStagesReferenceTest {
    private static final double EXACT = 1e-6;

    /** Of a file and of Java, of which the circuits are the same. */
    private static ConverterSteadyState steady(String file, Converter java) throws DesignException {
        Converter read = DesignFile.parse("stage.toml", "stage", file).converter();
        assertThat(read.circuit()).isEqualTo(java.circuit());
        assertThat(read.roles()).isEqualTo(java.roles());
        ConverterSteadyState steady = read.steadyState();
        assertThat(steady.periodic().state())
                .isEqualTo(java.steadyState().periodic().state());
        assertThat(steady.audit().residual()).isLessThanOrEqualTo(1e-10);
        return steady;
    }

    private static Waveform of(ConverterSteadyState steady, String signal) {
        return steady.of(
                Objects.requireNonNull(NamedSignals.of(steady.converter()).get(signal), signal));
    }

    private static String twoInductors(String topology, String values) {
        String[] v = values.split(" ", -1);
        return """
                [stage]
                topology = "%s"
                [input]
                voltage = "%s V"
                [inductor]
                inductance = "%s µH"
                [second_inductor]
                inductance = "%s µH"
                [coupling_capacitor]
                capacitance = "%s µF"
                [output_capacitor]
                capacitance = "%s µF"
                [load]
                resistance = "%s Ω"
                [drive]
                kind = "fixed-duty"
                duty_cycle = %s
                switching_frequency = "%s kHz"
                """.formatted(topology, v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7]);
    }

    private static PowerStage partsOfSepic1(PowerStage stage) {
        return stage.input(9)
                .inductor(micro(90))
                .with(new SecondInductor(micro(90), 0, 0))
                .with(new CouplingCapacitor(micro(80), 0))
                .outputCapacitor(micro(80))
                .load(Load.resistor(2));
    }

    /** REF-CUK-2: D. W. Hart, Power Electronics, McGraw-Hill 2011, ex. 6-7, 12 V to -18 V, 40 W: M. Exact: C. */
    @Test
    void cukOfHartsExample6x7() throws DesignException {
        Converter java = PowerStage.cuk()
                .input(12)
                .inductor(432e-6)
                .with(new SecondInductor(648e-6, 0, 0))
                .with(new CouplingCapacitor(17.8e-6, 0))
                .outputCapacitor(3.09e-6)
                .load(Load.resistor(8.1))
                .drive(Drive.fixedDuty(0.6, kilo(50)));
        ConverterSteadyState steady = steady(twoInductors("cuk", "12 432 648 17.8 3.09 8.1 0.6 50"), java);
        assertThat(java.topology()).hasToString("Ćuk");
        assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
        Waveform output = of(steady, "output_voltage");
        Waveform first = of(steady, "inductor_current");
        Waveform second = of(steady, "second_inductor_current");
        Waveform coupling = of(steady, "coupling_capacitor_voltage");
        assertPrinted("output", output.mean(), "-18.0000");
        assertPrinted("output ripple", output.peakToPeak(), "0.1797");
        assertPrinted("ripple of L1", first.peakToPeak(), "0.33333");
        assertPrinted("ripple of L2", second.peakToPeak(), "0.2231");
        assertPrinted("ripple of C1", coupling.peakToPeak(), "1.4988");
        assertPublished("mean of L1", first.mean(), "3.33", 10 / 3.0, 10 / 3.0);
        assertPublished("mean of L2", second.mean(), "2.22", 20 / 9.0, 20 / 9.0);
        // in closed form: the mean of the coupling capacitor is what is left over both inductors
        assertThat(coupling.mean()).isCloseTo(12 - output.mean(), within(30 * EXACT));
        assertThat(of(steady, "coupling_capacitor_current").mean()).isCloseTo(0, within(1e-12));
    }

    /** REF-SEPIC-1: D. W. Hart, Power Electronics, ex. 6-8, 9 V to 6 V, 3 A: M. Exact: C. */
    @Test
    void sepicOfHartsExample6x8() throws DesignException {
        Converter java = partsOfSepic1(PowerStage.sepic()).drive(Drive.fixedDuty(0.4, kilo(100)));
        ConverterSteadyState steady = steady(twoInductors("sepic", "9 90 90 80 80 2 0.4 100"), java);
        Waveform output = of(steady, "output_voltage");
        Waveform first = of(steady, "inductor_current");
        Waveform second = of(steady, "second_inductor_current");
        Waveform coupling = of(steady, "coupling_capacitor_voltage");
        assertPrinted("output", output.mean(), "5.99735");
        assertPrinted("ripple of L1", first.peakToPeak(), "0.40000");
        assertPrinted("output ripple", output.peakToPeak(), "0.14985");
        assertPrinted("switch peak", of(steady, "transistor_current").maximum(), "5.395");
        double exact = 5.99735 / 6;
        assertPublished("maximum of L1", first.maximum(), "2.2", 2.2, 2 * exact + 0.2);
        assertPublished("mean of L2", second.mean(), "3", 3, 3 * exact);
        assertPublished("ripple of C1", coupling.peakToPeak(), "0.15", 0.15, 0.14985);
        assertThat(coupling.mean()).isCloseTo(9, within(9 * EXACT));
        // both windings are driven alike in the on interval, by the input
        assertThat(second.minimum()).isCloseTo(second.maximum() - 0.4, within(1e-4));
    }

    /** REF-ZETA-1, with the parts of REF-SEPIC-1: C. */
    @Test
    void zeta() throws DesignException {
        Converter java = partsOfSepic1(PowerStage.zeta()).drive(Drive.fixedDuty(0.4, kilo(100)));
        ConverterSteadyState steady = steady(twoInductors("zeta", "9 90 90 80 80 2 0.4 100"), java);
        Waveform output = of(steady, "output_voltage");
        assertPrinted("output", output.mean(), "5.99967");
        assertPrinted("output ripple, mV", 1e3 * output.peakToPeak(), "6.25");
        assertPrinted("ripple of L1", of(steady, "inductor_current").peakToPeak(), "0.40000");
        assertPrinted("ripple of L2", of(steady, "second_inductor_current").peakToPeak(), "0.40009");
        Waveform coupling = of(steady, "coupling_capacitor_voltage");
        assertPrinted("ripple of C1", coupling.peakToPeak(), "0.15001");
        // mean voltages over both inductors are zero, so that the capacitor's is that of the output
        assertThat(coupling.mean()).isCloseTo(output.mean(), within(6 * EXACT));
    }

    /** REF-4SW-1: M = D1 / (1 - D2), the closed form of ideal parts and a large capacitor: C. */
    @ParameterizedTest
    @CsvSource({"0.6, 0.6", "0.6, 0.2", "0.5, 0", "1, 0.4", "0.3, 0.7"})
    void fourSwitches(double input, double output) throws DesignException {
        PowerStage parts = PowerStage.fourSwitchBuckBoost()
                .input(12)
                .inductor(micro(100))
                .outputCapacitor(1)
                .load(Load.resistor(3));
        double hertz = kilo(200);
        Converter java = parts.drive(Map.of("Q1", Drive.fixedDuty(input, hertz), "Q2", Drive.fixedDuty(output, hertz)));
        String duty = input == output
                ? "duty_cycle = " + input
                : "duty_cycles = { input = " + input + ", output = " + output + " }";
        ConverterSteadyState steady = steady("""
                [stage]
                topology = "four-switch-buck-boost"
                [input]
                voltage = "12 V"
                [inductor]
                inductance = "100 µH"
                [output_capacitor]
                capacitance = 1
                [load]
                resistance = "3 Ω"
                [drive]
                kind = "fixed-duty"
                switching_frequency = "200 kHz"
                """ + duty, java);
        double wanted = 12 * input / (1 - output);
        assertThat(of(steady, "output_voltage").mean()).isCloseTo(wanted, within(wanted * EXACT));
        // charge balance of the output capacitor
        assertThat(steady.of(java.driven().current("D4")).mean()).isCloseTo(wanted / 3, within(wanted / 3 * EXACT));
        assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
        // of the leg that switches
        assertThat(steady.dutyCycle()).isCloseTo(input < 1 ? input : output, within(1e-12));
        assertThat(steady.onTime() + steady.offTime() + steady.idleTime()).isCloseTo(1 / hertz, within(1e-17));
        // volt-seconds of the inductor: both switch nodes have the same mean
        assertThat(of(steady, "switch_node_voltage").mean())
                .isCloseTo(of(steady, "second_switch_node_voltage").mean(), within(1e-9));
    }

    /**
     * REF-MULTI-1: TI user's guide SLUU195, June 2004, four phases of 0.6 µH at 420 kHz, 12 V to 1.5 V, 100 A, eq. 6: S. The phases of
     * ideal parts share the load evenly, whether the load is a resistor or a sink.
     */
    @ParameterizedTest
    @CsvSource({"resistance = '15 mΩ', 0.015", "current = '100 A', 0"})
    void fourPhasesOfTheUsersGuide(String load, double ohm) throws DesignException {
        Converter java = PowerStage.buck()
                .input(12)
                .inductor(micro(0.6))
                .with(new Phases(4))
                .outputCapacitor(0.1)
                .with(new InputCapacitor(micro(100), 0))
                .load(ohm > 0 ? Load.resistor(ohm) : Load.current(100))
                .drive(Drive.fixedDuty(0.125, kilo(420)));
        ConverterSteadyState steady = steady(FOUR_PHASES + load.replace('\'', '"'), java);
        assertThat(of(steady, "output_voltage").mean()).isCloseTo(1.5, within(1.5 * EXACT));
        List<Waveform> phases = java.inductorCurrents().stream().map(steady::of).toList();
        assertThat(phases).hasSize(4).allSatisfy(phase -> {
            assertThat(phase.mean()).isCloseTo(25, within(25 * EXACT));
            assertThat(phase.peakToPeak()).isCloseTo(1.5 * 0.875 / (0.6e-6 * 420e3), within(5 * EXACT));
        });
        // the product of eq. 6 at D = 0.125, where 4 D is a half: K = (1 - 0) (1 - 0.5)
        Waveform sum = steady.of(java.inductorCurrents()
                .get(0)
                .plus(java.inductorCurrents().get(1))
                .plus(java.inductorCurrents().get(2))
                .plus(java.inductorCurrents().get(3)));
        assertThat(sum.peakToPeak()).isCloseTo(1.5 / (0.6e-6 * 420e3) * 0.5, within(3 * EXACT));
        assertThat(steady.conduction()).isEqualTo(Conduction.CONTINUOUS);
        assertThat(steady.dutyCycle()).isCloseTo(0.125, within(1e-12));
    }

    private static final String FOUR_PHASES = """
            [stage]
            topology = "buck"
            phases = 4
            [input]
            voltage = "12 V"
            [inductor]
            inductance = "0.6 µH"
            [output_capacitor]
            capacitance = 0.1
            [input_capacitor]
            capacitance = "100 µF"
            [drive]
            kind = "fixed-duty"
            duty_cycle = 0.125
            switching_frequency = "420 kHz"
            [load]
            """;

    /**
     * REF-MULTI-2: ripple of the currents of N phases together over that of one, N / (D (1 - D)) (D - m / N) ((m + 1) / N - D), and
     * effective current of the input capacitor over the load current, the root of the same without N / (D (1 - D)): M, values C.
     */
    @ParameterizedTest
    @CsvSource({
        "0.1, 2, 0.8889, 0.2000", "0.1, 3, 0.7778, 0.1528", "0.1, 4, 0.6667, 0.1225", "0.1, 6, 0.4444, 0.0816",
        "0.125, 2, 0.8571, 0.2165", "0.125, 6, 0.2857, 0.0722", "0.2, 3, 0.5000, 0.1633", "0.2, 4, 0.2500, 0.1000",
        "0.25, 4, 0, 0", "0.25, 3, 0.3333, 0.1443", "0.3, 2, 0.5714, 0.2449", "0.3, 4, 0.1905, 0.1000",
        "0.4, 2, 0.3333, 0.2000", "0.4, 3, 0.2222, 0.1333", "0.5, 3, 0.3333, 0.1667", "0.5, 6, 0, 0"
    })
    void ripplesOfPhasesCancel(double duty, int count, double ripple, double input) {
        Converter stage = PowerStage.buck()
                .input(12)
                .inductor(micro(1000)) // next to no ripple of its own
                .with(new Phases(count))
                .outputCapacitor(0.1)
                .load(Load.resistor(0.12))
                .drive(Drive.fixedDuty(duty, kilo(400)));
        ConverterSteadyState steady = stage.steadyState();
        var sum = stage.inductorCurrents().stream()
                .reduce((one, other) -> one.plus(other))
                .orElseThrow();
        double one = steady.of(stage.inductorCurrent()).peakToPeak();
        double whole = Math.floor(count * duty + 1e-12);
        double product = Math.max(0, (duty - whole / count) * ((whole + 1) / count - duty));
        double exact = count / (duty * (1 - duty)) * product;
        assertThat(exact).isCloseTo(ripple, within(5.1e-5));
        assertThat(steady.of(sum).peakToPeak() / one).isCloseTo(exact, within(EXACT));
        Waveform drawn = steady.of(stage.inputCurrent());
        double alternating = Math.sqrt(Math.max(0, drawn.rms() * drawn.rms() - drawn.mean() * drawn.mean()));
        double load = 12 * duty / 0.12;
        assertThat(Math.sqrt(product)).isCloseTo(input, within(5.1e-5));
        // the ripple of each phase adds D di^2 / 12 to the square
        double ofRipple = count * duty * one * one / 12 / (load * load);
        assertThat(alternating * alternating / (load * load)).isCloseTo(product, within(2 * ofRipple));
    }

    /** Closed form of discontinuous conduction: each phase is the stage alone with its share of the load; table 5.2 of Erickson. */
    @ParameterizedTest
    @CsvSource({"buck, 0.4, 2", "boost, 0.3, 3", "inverting-buck-boost, 0.4, 4"})
    void discontinuousPhases(String name, double duty, int count) {
        Topology topology = Topology.of(name);
        Converter stage = PowerStage.of(topology)
                .input(12)
                .inductor(micro(10))
                .with(new Phases(count))
                .outputCapacitor(1)
                .load(Load.resistor(400.0 / count))
                .drive(Drive.fixedDuty(duty, kilo(100)));
        ConverterSteadyState steady = stage.steadyState();
        double k = 2 * 10e-6 * 100e3 / (400.0 / count);
        assertThat(steady.of(stage.outputVoltage()).mean() / 12)
                .isCloseTo(stage.topology().discontinuousRatio(duty, k), within(1e-5));
        assertThat(stage.topology().discontinuousRatio(duty, k))
                .isEqualTo(topology.discontinuousRatio(duty, k / count));
        assertThat(steady.conduction()).isEqualTo(Conduction.DISCONTINUOUS);
        assertThat(k).isLessThan(stage.topology().criticalK(duty));
        assertThat(steady.idleTime()).isGreaterThan(0);
        assertThat(steady.onTime()).isCloseTo(duty * 1e-5, within(1e-15));
    }

    private static Converter twoInductors(Topology topology, double k, double duty, double coupling, double ohm) {
        double hertz = kilo(100);
        double sideBySide = k * ohm / (2 * hertz);
        // of two alike, L (1 + c) / 2 side by side
        double each = 2 * sideBySide / (1 + coupling);
        PowerStage stage = PowerStage.of(topology)
                .input(12)
                .inductor(each)
                .outputCapacitor(1)
                .load(Load.resistor(ohm));
        PowerStage all = topology.needs().isEmpty()
                ? stage.inductor(sideBySide)
                : stage.with(new SecondInductor(each, 0, coupling)).with(new CouplingCapacitor(1, 0));
        return all.drive(Drive.fixedDuty(duty, hertz));
    }

    /**
     * In discontinuous conduction and at its boundary both inductors act side by side: K = 2 L / (R T) with L = L1 L2 / (L1 + L2), and
     * (L1 L2 - M^2) / (L1 + L2 - 2 M) where they are coupled; critical (1 - D)^2, ratio D / sqrt(K), as of an inverting stage
     * (R. W. Erickson, D. Maksimovic, table 5.2); derived from the charge of the rectifier's triangle.
     */
    @ParameterizedTest
    @CsvSource({
        "sepic, 0",
        "sepic, 0.98",
        "sepic, 0.5",
        "cuk, 0",
        "cuk, 0.98",
        "zeta, 0",
        "zeta, 0.98",
        "four-switch-buck-boost, 0"
    })
    void boundaryAndDiscontinuousRatio(String name, double coupling) {
        Topology topology = Topology.of(name);
        double duty = 0.4;
        double critical = topology.criticalK(duty);
        assertThat(twoInductors(topology, 1.001 * critical, duty, coupling, 20)
                        .steadyState()
                        .conduction())
                .isEqualTo(Conduction.CONTINUOUS);
        assertThat(twoInductors(topology, 0.999 * critical, duty, coupling, 20)
                        .steadyState()
                        .conduction())
                .isEqualTo(Conduction.DISCONTINUOUS);
        Converter light = twoInductors(topology, 0.1, duty, coupling, 20);
        ConverterSteadyState steady = light.steadyState();
        assertThat(steady.of(light.outputVoltage()).mean() / 12)
                .isCloseTo(topology.discontinuousRatio(duty, 0.1), within(1e-4));
        assertThat(steady.conduction()).isEqualTo(Conduction.DISCONTINUOUS);
        assertThat(steady.offTime()).isCloseTo(Math.sqrt(0.1) * 1e-5, within(1e-9)); // D2 = sqrt(K)
        // the duty cycle that the rules of the bound stage give for that output, by 2 L f I_o of the first inductor
        double output = 12 * duty / Math.sqrt(0.1);
        double first = light.circuit().part(topology.needs().isEmpty() || coupling == 0 ? "L1" : "T1")
                        instanceof Part.Inductor coil
                ? coil.inductance()
                : 2 * 0.1 * 20 / (2e5 * (1 + coupling));
        double squared = light.topology().discontinuousDutyCycleSquared(12, output, 0, 2 * first * 1e5 * output / 20);
        assertThat(Math.sqrt(squared)).isCloseTo(duty, within(1e-9));
    }

    /** Windings on one core see the same voltage, so that each has the ripple of (1 + c) L. */
    @ParameterizedTest
    @CsvSource({"sepic", "cuk", "zeta"})
    void coupledWindingsHaveHalfTheRipple(String name) {
        Converter stage = twoInductors(Topology.of(name), 2, 0.4, 0.98, 20);
        ConverterSteadyState steady = stage.steadyState();
        double each = 2 * 2 * 20 / (2e5 * 1.98);
        double ripple = 12 * 0.4 * 1e-5 / (each * 1.98);
        assertThat(of(steady, "inductor_current").peakToPeak()).isCloseTo(ripple, within(1e-4 * ripple));
        assertThat(of(steady, "second_inductor_current").peakToPeak()).isCloseTo(ripple, within(1e-4 * ripple));
        // of a run the final current is that of the winding, whatever its states are
        var run = stage.startUp(2.2e-5);
        assertThat(run.finalInductorCurrent())
                .isCloseTo(run.of(stage.inductorCurrent()).at(2.2e-5 * (1 - 1e-9)), within(1e-6 * ripple));
    }

    /** A value of several parts that are alike moves all of them: its derivative is that of differences of the steady state. */
    @ParameterizedTest
    @CsvSource({"buck, 3", "boost, 2", "four-switch-buck-boost, 1", "sepic, 1"})
    void derivativesMoveAllPartsOfARole(String name, int phases) {
        Topology topology = Topology.of(name);
        PowerStage stage = PowerStage.of(topology)
                .input(12)
                .inductor(micro(10), 0.01)
                .outputCapacitor(micro(100), 0.002)
                .transistor(0.02)
                .rectifier(0.4, 0.01)
                .load(Load.resistor(3));
        for (StagePart part : topology.needs().isEmpty()
                ? phases > 1 ? List.<StagePart>of(new Phases(phases)) : List.<StagePart>of()
                : List.of(new SecondInductor(micro(15), 0.01, 0), new CouplingCapacitor(micro(20), 0))) {
            stage = stage.with(part);
        }
        Converter converter = stage.drive(Drive.fixedDuty(0.4, kilo(300)));
        ConverterSteadyState steady = converter.steadyState();
        StageMeasurement mean = StageMeasurement.of(StageMeasurement.Measure.MEAN, StageSignal.OUTPUT_VOLTAGE);
        for (StageValue value : List.of(
                StageValue.INDUCTOR_RESISTANCE,
                StageValue.ON_RESISTANCE,
                StageValue.FORWARD_DROP,
                StageValue.RECTIFIER_RESISTANCE,
                StageValue.DUTY_CYCLE)) {
            double at = value.in(converter);
            double step = 1e-4 * at;
            double more = mean.in(value.set(converter, at + step).steadyState());
            double less = mean.in(value.set(converter, at - step).steadyState());
            double exact = steady.sensitivities().of(mean).withRespectTo(value);
            assertThat(exact)
                    .as(value.toString())
                    .isCloseTo((more - less) / (2 * step), within(1e-5 * Math.abs(exact)));
        }
    }

    /** A control voltage that may not rise beyond the ramp of the input leg leaves the output where stepping down ends. */
    @Test
    void aFourSwitchStageHeldBelowItsOutputLegIsToldSo() throws DesignException {
        ConverterSteadyState steady =
                DesignFile.parse("stage.toml", "stage", """
                [stage]
                topology = "four-switch-buck-boost"
                [input]
                voltage = "12 V"
                [inductor]
                inductance = "47 µH"
                [output_capacitor]
                capacitance = "100 µF"
                [rectifier]
                forward_drop = "0.4 V"
                [load]
                resistance = "12 Ω"
                [drive]
                kind = "voltage-mode"
                switching_frequency = "300 kHz"
                reference = "1 V"
                divider = 0.08333333333333333
                ramp = { valley = "0 V", peak = "1 V" }
                control_limits = { low = "0 V", high = "1 V" }
                compensator = { kind = "type-1", integrator_gain = 100 }
                """).converter().steadyState();
        OutputRegulation regulation = steady.regulation().orElseThrow();
        assertThat(of(steady, "output_voltage").mean()).isCloseTo(11.6, within(1e-9));
        assertThat(regulation.inRegulation()).isFalse();
        assertThat(regulation.heldBy()).contains(Limiter.CONTROL_LIMIT);
    }
}
