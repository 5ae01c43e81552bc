package org.voltsecond.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.StageValue;
import org.voltsecond.engine.Piece;
import org.voltsecond.figures.Figures;
import org.voltsecond.losses.CoreLoss;
import org.voltsecond.losses.EfficiencyCurve;
import org.voltsecond.losses.LossBudget;
import org.voltsecond.losses.LossEntry;
import org.voltsecond.sizing.CornerRequirements;
import org.voltsecond.sizing.PartsCheck;
import org.voltsecond.study.Execution;
import org.voltsecond.study.MonteCarlo;
import org.voltsecond.study.OperatingMap;
import org.voltsecond.study.Tolerance;
import org.voltsecond.study.ToleranceStudy;
import org.voltsecond.study.ToleranceTable;

/** Tolerances, losses, maps, corners and captures stand beside a custom circuit as beside a ready-made stage. */
class StudiesOfOwnCircuitsTest {
    private static final Map<String, String> CIRCUITS = Map.of(
            "flyback", """
            part = [
                { name = "V1", kind = "voltage-source", between = ["in", "ground"], voltage = "12 V" },
                { name = "T1", kind = "coupled-inductors", coupling = 0.98, windings = [
                    { between = ["in", "drain"], inductance = "50 µH", resistance = "50 mΩ" },
                    { between = ["ground", "anode"], inductance = "50 µH", resistance = "50 mΩ" } ] },
                { name = "Q1", kind = "switch", between = ["drain", "ground"], on_resistance = "30 mΩ" },
                { name = "D2", kind = "rectifier", between = ["drain", "clamp"], forward_drop = "0.7 V" },
                { name = "V2", kind = "voltage-source", between = ["clamp", "in"], voltage = "30 V" },
                { name = "D1", kind = "rectifier", between = ["anode", "out"], forward_drop = "0.4 V", resistance = "10 mΩ" },
                { name = "C1", kind = "capacitor", between = ["out", "ground"], capacitance = "100 µF", resistance = "10 mΩ" },
                { name = "R1", kind = "resistor", between = ["out", "ground"], resistance = "10 Ω" },
            ]
            gate = [ { switch = "Q1", duty_cycle = 0.4, switching_frequency = "100 kHz" } ]
            output = { between = ["out", "ground"] }
            roles = { input = "V1", rectifiers = ["D1"] }
            """,
            "sepic", """
            part = [
                { name = "V1", kind = "voltage-source", between = ["in", "ground"], voltage = "9 V" },
                { name = "T1", kind = "coupled-inductors", coupling = 0.97, windings = [
                    { between = ["in", "drain"], inductance = "90 µH", resistance = "40 mΩ" },
                    { between = ["ground", "middle"], inductance = "90 µH", resistance = "40 mΩ" } ] },
                { name = "Q1", kind = "switch", between = ["drain", "ground"], on_resistance = "50 mΩ" },
                { name = "C2", kind = "capacitor", between = ["drain", "middle"], capacitance = "20 µF", resistance = "20 mΩ" },
                { name = "D1", kind = "rectifier", between = ["middle", "out"], forward_drop = "0.4 V" },
                { name = "C1", kind = "capacitor", between = ["out", "ground"], capacitance = "100 µF", resistance = "10 mΩ" },
                { name = "R1", kind = "resistor", between = ["out", "ground"], resistance = "6 Ω" },
            ]
            gate = [ { switch = "Q1", duty_cycle = 0.4, switching_frequency = "100 kHz" } ]
            output = { between = ["out", "ground"] }
            """,
            "phases", """
            part = [
                { name = "V1", kind = "voltage-source", between = ["in", "ground"], voltage = "12 V" },
                { name = "Q1", kind = "switch", between = ["in", "a"], on_resistance = "30 mΩ" },
                { name = "Q2", kind = "switch", between = ["b", "in"], on_resistance = "60 mΩ" },
                { name = "D1", kind = "rectifier", between = ["ground", "a"], forward_drop = "0.4 V", resistance = "10 mΩ" },
                { name = "D2", kind = "rectifier", between = ["ground", "b"], forward_drop = "0.5 V", resistance = "10 mΩ" },
                { name = "L1", kind = "inductor", between = ["a", "out"], inductance = "22 µH", resistance = "20 mΩ" },
                { name = "L2", kind = "inductor", between = ["b", "out"], inductance = "22 µH", resistance = "30 mΩ" },
                { name = "C1", kind = "capacitor", between = ["out", "ground"], capacitance = "47 µF", resistance = "5 mΩ" },
                { name = "R1", kind = "resistor", between = ["out", "ground"], resistance = "2 Ω" },
            ]
            gate = [
                { switch = "Q1", duty_cycle = 0.4, switching_frequency = "200 kHz" },
                { switch = "Q2", duty_cycle = 0.4, switching_frequency = "200 kHz", delay = 0.5 },
            ]
            output = { between = ["out", "ground"] }
            """,
            "half bridge", """
            part = [
                { name = "V1", kind = "voltage-source", between = ["high", "ground"], voltage = "24 V" },
                { name = "V2", kind = "voltage-source", between = ["ground", "low"], voltage = "24 V" },
                { name = "Q1", kind = "switch", between = ["high", "sw"], on_resistance = "0.1 Ω" },
                { name = "Q2", kind = "switch", between = ["sw", "low"], on_resistance = "0.1 Ω" },
                { name = "T1", kind = "ideal-transformer", windings = [
                    { between = ["sw", "ground"], turns = 3, resistance = "50 mΩ" },
                    { between = ["x", "ground"], turns = 1 },
                    { between = ["ground", "y"], turns = 1 } ] },
                { name = "L2", kind = "inductor", between = ["sw", "ground"], inductance = "1 mH", resistance = "0.1 Ω" },
                { name = "D1", kind = "rectifier", between = ["x", "z"], forward_drop = "0.5 V", resistance = "10 mΩ" },
                { name = "D2", kind = "rectifier", between = ["y", "z"], forward_drop = "0.5 V", resistance = "10 mΩ" },
                { name = "L1", kind = "inductor", between = ["z", "out"], inductance = "22 µH", resistance = "20 mΩ" },
                { name = "C1", kind = "capacitor", between = ["out", "ground"], capacitance = "47 µF", resistance = "5 mΩ" },
                { name = "R1", kind = "resistor", between = ["out", "ground"], resistance = "1 Ω" },
            ]
            gate = [
                { switch = "Q1", duty_cycle = 0.35, switching_frequency = "100 kHz" },
                { switch = "Q2", duty_cycle = 0.35, switching_frequency = "100 kHz", delay = 0.5 },
            ]
            output = { between = ["out", "ground"] }
            roles = { input = "V1", rectifiers = ["D1", "D2"] }
            [drive.unused]
            """.replace("[drive.unused]\n", ""));

    private static String circuit(String name) {
        return Objects.requireNonNull(CIRCUITS.get(name), name);
    }

    private static Design design(String circuit, String more) throws DesignException {
        return DesignFile.parse("own.toml", circuit, circuit(circuit) + more);
    }

    /** What the sources deliver is the output and what the parts turn into heat or take up, each of them told. */
    @ParameterizedTest
    @ValueSource(strings = {"flyback", "sepic", "phases", "half bridge"})
    void lossesOfPartsAndOutputAddUpToTheInput(String circuit) throws DesignException {
        ConverterSteadyState steady = design(circuit, "").converter().steadyState();
        double input = steady.inputPower();
        assertThat(steady.outputPower() + steady.heat().total()).isCloseTo(input, within(1e-9 * input));
        assertThat(steady.losses().total()).isCloseTo(steady.heat().total(), within(1e-9 * input));
        LossBudget budget = LossBudget.of(steady, List.of());
        assertThat(budget.efficiency()).isCloseTo(steady.efficiency().orElseThrow(), within(1e-9));
        assertThat(budget.entries()).extracting(LossEntry::part).contains("Q1", "D1", "C1");
    }

    /** The source of a clamp takes up what the leakage gives it; a second supply feeds. */
    @Test
    void furtherSourcesTakePowerUpOrFeed() throws DesignException {
        ConverterSteadyState flyback = design("flyback", "").converter().steadyState();
        double taken =
                30 * flyback.of(flyback.converter().driven().current("V2")).mean();
        assertThat(flyback.heat().groups().get("V2"))
                .isCloseTo(taken, within(1e-12))
                .isPositive();
        ConverterSteadyState bridge = design("half bridge", "").converter().steadyState();
        double first =
                24 * -bridge.of(bridge.converter().driven().current("V1")).mean();
        double second =
                24 * -bridge.of(bridge.converter().driven().current("V2")).mean();
        assertThat(bridge.inputPower()).isCloseTo(first + second, within(1e-9 * first));
        assertThat(second).isPositive();
    }

    private static final String LOSSES = """
            [losses]
            turn_on_time = "15 ns"
            turn_off_time = "20 ns"
            recovered_charge = "20 nC"
            load = { from = "0.2 A", to = "1 A" }
            points = 3
            [losses.parts.Q2]
            turn_on_time = "30 ns"
            turn_off_time = "40 ns"
            gate_charge = "9 nC"
            gate_voltage = "5 V"
            [losses.parts.L2.core]
            k = 0.25
            alpha = 1.6
            beta = 2.5
            cross_section = 40e-6
            volume = 2e-6
            turns = 12
            """;

    /**
     * Two phases alike but for the second one's transistor, which stands the other way round in the file: with twice the times
     * it has about twice the overlap loss.
     */
    @Test
    void eachSwitchHasItsOwnData() throws DesignException {
        String alike = circuit("phases")
                .replace("60 mΩ", "30 mΩ")
                .replace("0.5 V", "0.4 V")
                .replace("30 mΩ\" },\n    { name = \"C1", "20 mΩ\" },\n    { name = \"C1");
        Design design = DesignFile.parse("own.toml", "own", alike + LOSSES);
        ConverterSteadyState steady = design.converter().steadyState();
        LossBudget budget = LossBudget.of(
                steady, Objects.requireNonNull(design.studies().losses()).models());
        double first = of(budget, "Q1", "overlap");
        assertThat(of(budget, "Q2", "overlap"))
                .isCloseTo(2 * first, within(1e-6 * first))
                .isPositive();
        assertThat(of(budget, "Q2", "reverse recovery"))
                .isCloseTo(of(budget, "Q1", "reverse recovery"), within(1e-9))
                .isPositive();
        assertThat(of(budget, "gate drive", "gate charge")).isCloseTo(9e-9 * 5 * 200e3, within(1e-15));
        assertThat(of(budget, "L2", "core")).isPositive();
        assertThat(budget.entries())
                .noneMatch(entry -> entry.part().equals("L1") && entry.cause().equals("core"));
        assertThat(budget.total() - steady.heat().total())
                .isCloseTo(
                        budget.entries().stream()
                                .filter(entry -> !entry.cause().equals(LossEntry.CONDUCTION))
                                .mapToDouble(LossEntry::power)
                                .sum(),
                        within(1e-12));
    }

    /** A core that saturates swings by the volt-seconds over turns and section, as one that does not. */
    @Test
    void aCoreThatSaturatesSwingsByItsVoltSeconds() throws DesignException {
        String core = """
                [losses.parts.L1.core]
                k = 0.25
                alpha = 1.6
                beta = 2.5
                cross_section = 40e-6
                volume = 2e-6
                turns = 12
                """;
        String ideal = circuit("phases").replaceAll("resistance = \"[0-9]+ mΩ\"", "resistance = 0");
        for (String inductance :
                List.of("\"22 µH\"", "\"22 µH\", saturation = [ { above = \"1.2 A\", inductance = \"12 µH\" } ]")) {
            Design design = DesignFile.parse("own.toml", "own", ideal.replaceFirst("\"22 µH\"", inductance) + core);
            ConverterSteadyState steady = design.converter().steadyState();
            CoreLoss loss = (CoreLoss)
                    Objects.requireNonNull(design.studies().losses()).models().get(0);
            List<Piece> flux = loss.core().fluxDensity(steady);
            double end = flux.get(flux.size() - 1).valueAt(1);
            for (Piece piece : flux) {
                assertThat(piece.valueAt(0)).isCloseTo(end, within(1e-12));
                end = piece.valueAt(1);
            }
            double high = flux.stream()
                    .mapToDouble(piece -> Math.max(piece.valueAt(0), piece.valueAt(1)))
                    .max()
                    .orElseThrow();
            double low = flux.stream()
                    .mapToDouble(piece -> Math.min(piece.valueAt(0), piece.valueAt(1)))
                    .min()
                    .orElseThrow();
            double volt = 12 - steady.of(design.converter().outputVoltage()).mean();
            assertThat(high - low).isCloseTo(volt * 0.4 / 200e3 / (12 * 40e-6), within(2e-3 * (high - low)));
            assertThat(loss.powers(steady)).containsOnlyKeys("L1");
        }
    }

    private static double of(LossBudget budget, String part, String cause) {
        return budget.entries().stream()
                .filter(entry -> entry.part().equals(part) && entry.cause().equals(cause))
                .mapToDouble(LossEntry::power)
                .sum();
    }

    /** Recovered charge behind a transformer of 3 to 1 counts a third of it at the switch, which blocks the supply. */
    @Test
    void recoveredChargeCountsAsTheSwitchSeesIt() throws DesignException {
        String ideal = circuit("half bridge")
                .replaceAll("(on_)?resistance = \"[0-9.]+ m?Ω\"( })", "$1resistance = 0$2")
                .replaceAll(", resistance = \"[0-9.]+ mΩ\"", "")
                .replace("resistance = 0 },\n]", "resistance = \"1 Ω\" },\n]")
                .replace("forward_drop = \"0.5 V\"", "forward_drop = 0");
        Design design = DesignFile.parse("own.toml", "own", ideal + "[losses]\nrecovered_charge = \"30 nC\"\n");
        ConverterSteadyState steady = design.converter().steadyState();
        double power = Objects.requireNonNull(design.studies().losses())
                .models()
                .get(0)
                .power(steady);
        // at each closing the other rectifier carries half and gives it up: seen at the primary 2/3 of the charge, at
        // 24 V
        assertThat(power).isCloseTo(2 * 100e3 * 24 * 30e-9 * 2 / 3, within(2e-2 * power));
    }

    /** The output is held over the loads of an efficiency curve by the duty cycles of all switches together. */
    @ParameterizedTest
    @ValueSource(strings = {"flyback", "sepic", "phases", "half bridge"})
    void efficiencyCurveHoldsTheOutput(String circuit) throws DesignException {
        Converter converter = design(circuit, "").converter();
        EfficiencyCurve curve = EfficiencyCurve.of(converter, 4.5, List.of(), 0.5, 1);
        assertThat(curve.failures()).isEmpty();
        for (EfficiencyCurve.Point point : curve.points()) {
            assertThat(point.budget().outputPower() / point.loadCurrent()).isCloseTo(4.5, within(0.01));
            assertThat(point.budget().efficiency()).isBetween(0.5, 1.0);
        }
    }

    /** What a bridge cannot give is told, and nothing that overlapping switches would give. */
    @Test
    void outOfReachIsTold() throws DesignException {
        EfficiencyCurve curve = EfficiencyCurve.of(design("half bridge", "").converter(), 30, List.of(), 1);
        assertThat(curve.points()).isEmpty();
        assertThat(curve.failures().get(1.0))
                .contains("no duty cycle gives 30 V")
                .contains("at most");
    }

    private static final String TOLERANCE = """
            [tolerance]
            designs = 16
            [tolerance.values]
            input_voltage = 0.05
            "C1.resistance" = 0.3
            "D1.forward_drop" = { half_width = "50 mV", distribution = "normal" }
            """;

    @ParameterizedTest
    @ValueSource(strings = {"flyback", "sepic", "phases", "half bridge"})
    void worstCaseHoldsEveryDesignDrawn(String circuit) throws DesignException {
        String own = circuit.equals("phases")
                ? "\"L2.inductance\" = 0.2\n"
                : circuit.equals("half bridge") ? "\"T1.1.turns\" = 0.05\n" : "\"T1.coupling\" = 0.01\n";
        Design design = design(circuit, TOLERANCE + own);
        TolerancePlan plan = Objects.requireNonNull(design.studies().tolerance());
        assertThat(plan.tolerances()).hasSize(4);
        ToleranceTable table = ToleranceStudy.of(design.converter(), plan.tolerances(), Figures.usual())
                .run(plan.designs(), plan.seed(), Execution.onThreads(1));
        assertThat(table.failures()).isEmpty();
        for (ToleranceTable.Row row : table.rows()) {
            assertThat(row.worstCase().lowest())
                    .as("%s", row.figure())
                    .isLessThanOrEqualTo(row.drawn().minimum());
            assertThat(row.worstCase().highest())
                    .as("%s", row.figure())
                    .isGreaterThanOrEqualTo(row.drawn().maximum());
        }
        // the output goes nearly in straight lines with each of them
        ToleranceTable.Row output = table.rows().get(0);
        assertThat(output.worstCase().farthestFrom(output.nominal()))
                .isCloseTo(output.firstOrder(), within(0.2 * output.firstOrder()));
    }

    /** The ideal flyback gives V D / (1 - D) n2 / n1, so that turns of 2 % to either side move it by 2 %. */
    @Test
    void theToleranceOfAnIdealRatioIsThatOfItsTurns() throws DesignException {
        Design design = DesignFile.parse("own.toml", "own", """
                part = [
                    { name = "V1", kind = "voltage-source", between = ["in", "ground"], voltage = "12 V" },
                    { name = "L1", kind = "inductor", between = ["in", "drain"], inductance = "1 mH" },
                    { name = "T1", kind = "ideal-transformer", windings = [
                        { between = ["in", "drain"], turns = 3 }, { between = ["ground", "anode"], turns = 1 } ] },
                    { name = "Q1", kind = "switch", between = ["drain", "ground"] },
                    { name = "D1", kind = "rectifier", between = ["anode", "out"] },
                    { name = "C1", kind = "capacitor", between = ["out", "ground"], capacitance = "10 mF" },
                    { name = "R1", kind = "resistor", between = ["out", "ground"], resistance = "0.5 Ω" },
                ]
                gate = [ { switch = "Q1", duty_cycle = 0.5, switching_frequency = "100 kHz" } ]
                output = { between = ["out", "ground"] }
                [tolerance]
                designs = 20
                values = { "T1.2.turns" = 0.02, "L1.inductance" = 0.2, duty_cycle = 0.01 }
                """);
        TolerancePlan plan = Objects.requireNonNull(design.studies().tolerance());
        ToleranceTable.Row output = ToleranceStudy.of(
                        design.converter(), plan.tolerances(), List.of(Figures.OUTPUT_VOLTAGE))
                .run(plan.designs(), plan.seed(), Execution.onThreads(1))
                .rows()
                .get(0);
        assertThat(output.nominal()).isCloseTo(4, within(1e-3));
        // in the order of the tolerances: the duty cycle has a name of its own and comes first, by 1 / (D (1 - D)) dD
        assertThat(output.shares().get(0)).isCloseTo(4 * 0.005 / 0.25, within(1e-3));
        assertThat(Math.abs(output.shares().get(1)) + Math.abs(output.shares().get(2)))
                .isCloseTo(4 * 0.02, within(1e-4));
        assertThat(output.worstCase().highest()).isCloseTo(4 * 1.02 * 0.505 / 0.495, within(2e-3));
    }

    @Test
    void aMapGoesOverACouplingAndHoldsTheOutput() throws DesignException {
        Design design = design("sepic", """
                [map]
                across = { quantity = "T1.coupling", from = 0.9, to = 0.99, points = 3 }
                up = { quantity = "load_current", from = "0.5 A", to = "2 A", points = 2 }
                output_voltage = "6 V"
                figures = ["output_voltage", "efficiency", "duty_cycle"]
                """);
        MapPlan plan = Objects.requireNonNull(design.studies().map());
        assertThat(plan.across().value()).contains(StageValue.of(design.converter(), "T1.coupling"));
        OperatingMap map = OperatingMap.holding(
                design.converter(),
                plan.outputVoltage(),
                plan.across(),
                plan.up(),
                List.copyOf(plan.figures().values()),
                Execution.onThreads(1));
        assertThat(map.failures()).isZero();
        assertThat(map.least(0)).isCloseTo(6, within(1e-6));
        assertThat(map.most(0)).isCloseTo(6, within(1e-6));
        assertThat(map.value(2, 0, 0)).isLessThan(map.value(2, 0, 1));
    }

    /** The corners are reached by simulation alone; where a limit is given it is held against each. */
    @Test
    void cornersOfOwnPartsAreChecked() throws DesignException {
        Design design = design("phases", """
                [sizing]
                input = { from = "9 V", to = "15 V" }
                load = { from = "1 A", to = "4 A" }
                output_voltage = "5 V"
                output_ripple = "20 mV"
                maximum_duty_cycle = 0.5
                """);
        CornerRequirements wanted = Objects.requireNonNull(design.studies().corners());
        assertThat(design.studies().sizing()).isNull();
        PartsCheck check = PartsCheck.of(design.converter(), wanted);
        assertThat(check.failures()).isEmpty();
        assertThat(check.results()).hasSize(4);
        // at 9 V both phases overlap, so that their duty cycle passes one half
        assertThat(check.passes()).isFalse();
        assertThat(check.binding().orElseThrow().corner().inputVoltage()).isEqualTo(9);
        assertThat(check.results().get(3).dutyCycle()).isBetween(5.0 / 15, 0.4);
        assertThat(check.results()).allMatch(result -> result.outputRipple() < 0.02);
    }

    @Test
    void aCaptureIsThatOfAPart(@TempDir Path folder) throws Exception {
        Files.writeString(folder.resolve("capture.csv"), "time (s),current (A)\n0,0.1\n1e-6,0.2\n2e-6,0.1\n");
        String bench = "[bench]\nfile = \"capture.csv\"\nsignal = \"T1.1.current\"\n";
        Path file = folder.resolve("own.toml");
        Files.writeString(file, circuit("flyback") + bench);
        assertThat(Objects.requireNonNull(DesignFile.read(file).bench()).signal())
                .isEqualTo("T1.1.current");
        assertThat(Refused.faults(circuit("flyback") + bench.replace("T1.1.current", "T1.3.current")))
                .singleElement()
                .asString()
                .contains("bench.signal: no signal of a part or node: \"T1.3.current\"");
    }

    @Test
    void eachFaultIsTold() {
        assertThat(Refused.faults(circuit("flyback") + """
                [tolerance]
                values = { "T1.colour" = 0.1, "T1.coupling" = 0.1 }
                [losses.parts.D1]
                turn_on_time = "1 ns"
                [losses.parts.Q9]
                recovered_charge = "1 nC"
                """))
                .anyMatch(fault -> fault.contains("the circuit has no value 'T1.colour'"))
                .anyMatch(fault -> fault.contains("tolerance.values.T1.coupling: reaches 1.078"))
                .anyMatch(fault -> fault.contains("losses.parts.D1.turn_on_time: is of a switch, which D1 is not"))
                .anyMatch(fault -> fault.contains("losses.parts.Q9.recovered_charge: is of a rectifier"));
    }

    /** The same in Java: a design follows from its seed and its number. */
    @Test
    void drawsOfOwnValuesInJava() throws DesignException {
        Converter sepic = design("sepic", "").converter();
        List<Tolerance> tolerances = List.of(
                Tolerance.relative(sepic, StageValue.of(sepic, "T1.coupling"), 0.01),
                Tolerance.relative(sepic, StageValue.DUTY_CYCLE, 0.02));
        MonteCarlo plan = MonteCarlo.of(sepic, tolerances, List.of(Figures.OUTPUT_VOLTAGE), 3);
        double drawn = plan.run(4, Execution.onThreads(1)).of(Figures.OUTPUT_VOLTAGE)[3];
        Converter same = StageValue.DUTY_CYCLE.set(sepic.with("T1.coupling", plan.value(3, 0)), plan.value(3, 1));
        assertThat(same.steadyState().of(same.outputVoltage()).mean()).isCloseTo(drawn, within(1e-10));
    }
}
