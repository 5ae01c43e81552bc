package org.voltsecond.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.voltsecond.review.OperatingCorners;
import org.voltsecond.review.Rating;
import org.voltsecond.review.Rating.Measure;
import org.voltsecond.review.Review;
import org.voltsecond.review.ReviewPlan;
import org.voltsecond.review.StressCheck;
import org.voltsecond.sizing.Span;

/** The tables [ratings] and [corners] of a design file. */
class RatingsTableTest {
    private static final String STAGE = """
            stage = { topology = "buck" }
            input = { voltage = "12 V" }
            inductor = { inductance = "22 µH" }
            output_capacitor = { capacitance = "47 µF" }
            load = { resistance = "2.5 Ω" }
            drive = { kind = "fixed-duty", duty_cycle = 0.45, switching_frequency = "300 kHz" }
            """;

    private static ReviewPlan plan(String text) throws DesignException {
        return Objects.requireNonNull(DesignFile.parse("f", "f", text).studies().review());
    }

    @Test
    void areReadWithTheirShares() throws DesignException {
        ReviewPlan plan = plan(STAGE + """
                [heat]
                ambient = "40 °C"
                parts = { transistor = { thermal_resistance = "60 K/W" } }
                [ratings]
                derating = 0.8
                [ratings.parts]
                transistor = { voltage = "30 V", current = 6, current_derating = 0.5, temperature = "150 °C" }
                L1 = { current = "4.5 A", derating = 0.9, temperature_derating = 0.7 }
                """);
        assertThat(plan.corners()).isNull();
        assertThat(plan.ratings())
                .containsExactly(
                        new Rating("transistor", Measure.VOLTAGE, List.of("Q1"), 30, 0.8),
                        new Rating("transistor", Measure.CURRENT, List.of("Q1"), 6, 0.5),
                        new Rating("transistor", Measure.TEMPERATURE, List.of("Q1"), 150, 1),
                        new Rating("L1", Measure.CURRENT, List.of("L1"), 4.5, 0.9));
        assertThat(plan.heat()).isNotNull();
    }

    @Test
    void aRangeIsReadFromEitherTable() throws DesignException {
        String range = "input = { from = \"9 V\", to = \"15 V\" }\nload = { from = \"0.2 A\", to = \"2 A\" }\n";
        assertThat(plan(STAGE + "[corners]\n" + range).corners())
                .isEqualTo(OperatingCorners.between(new Span(9, 15), new Span(0.2, 2)));
        assertThat(plan(STAGE + "[corners]\noutput_voltage = 5\n" + range).corners())
                .isEqualTo(new OperatingCorners(new Span(9, 15), new Span(0.2, 2), 5));
        String sizing = "[sizing]\noutput_voltage = 5\ninductor_ripple = 0.3\noutput_ripple = \"50 mV\"\n" + range;
        assertThat(plan(STAGE + sizing).corners())
                .isEqualTo(new OperatingCorners(new Span(9, 15), new Span(0.2, 2), 5));
        assertThat(Refused.only(STAGE + sizing + "[corners]\n" + range))
                .contains("corners: stands beside [sizing], which has the ranges");
        assertThat(DesignFile.parse("f", "f", STAGE).studies().review()).isNull();
    }

    @Test
    void badOnesAreAllToldAtOnce() {
        List<String> faults = Refused.faults(STAGE + """
                [corners]
                input = { from = "15 V", to = "9 V" }
                load = { from = "2 V", to = "2 A" }
                outptu_voltage = 5
                [ratings]
                derating = 1.5
                [ratings.parts]
                transistor = { voltage = "30 A", curent = "6 A" }
                Q7 = { voltage = "30 V" }
                D1 = { temperature = "125 °C", mean_derating = 0 }
                C1 = {}
                """);
        assertThat(faults)
                .anyMatch(fault -> fault.startsWith("rail.toml:9: corners.load.from: ") && fault.contains("2 V"))
                .anyMatch(fault -> fault.startsWith("rail.toml:10: corners.outptu_voltage: unknown key"))
                .anyMatch(fault -> fault.startsWith("rail.toml:12: ratings.derating: out of range: 1.5"))
                .anyMatch(fault -> fault.startsWith("rail.toml:14: ratings.parts.transistor.voltage: "))
                .anyMatch(fault -> fault.contains("ratings.parts.transistor.curent: unknown key"))
                .anyMatch(fault -> fault.startsWith("rail.toml:17: ratings.parts.C1: has no rating; valid: voltage"));
        List<String> others = Refused.faults(STAGE + """
                [corners]
                input = { from = "15 V", to = "9 V" }
                load = { from = "1 A", to = "2 A" }
                [ratings.parts]
                Q7 = { voltage = "30 V" }
                D1 = { temperature = "125 °C" }
                """);
        assertThat(others)
                .hasSize(3)
                .anyMatch(fault -> fault.startsWith("rail.toml:7: corners: input voltage must go up")
                        && fault.contains("15.0 to 9.0 V"))
                .anyMatch(fault -> fault.contains("ratings.parts.Q7: there is no such part") && fault.contains("Q1"))
                .anyMatch(fault -> fault.contains("ratings.parts.D1.temperature: is not known of D1"));
    }

    @Test
    void whatARegulatorHoldsIsNotHeldTwice() {
        String regulated = STAGE.replace(
                "kind = \"fixed-duty\", duty_cycle = 0.45,",
                "kind = \"voltage-mode\", reference = 1, divider = 0.2, ramp = { valley = 0, peak = 1 }, compensator = { kind ="
                        + " \"type-2\", integrator_gain = 1500, zero = \"4557 Hz\", pole = \"100 kHz\" },");
        assertThat(Refused.only(regulated + """
                [corners]
                input = { from = "9 V", to = "15 V" }
                load = { from = "1 A", to = "2 A" }
                output_voltage = 5
                """)).contains("corners.output_voltage: is held by the regulator already");
    }

    /**
     * A forward stage blocks twice its input while its core is reset by as many turns, V (1 + N1/N3), and a flyback stage the input and the
     * output as seen from the primary, V / (1 - D).
     */
    @Test
    void isolatedStagesBlockMoreThanTheirInput() throws DesignException {
        String corners = """
                [corners]
                input = { from = "40 V", to = "60 V" }
                load = { from = "1.28 A", to = "1.28 A" }
                [ratings.parts]
                transistor = { voltage = "150 V" }
                """;
        // D. W. Hart, Power Electronics, example 7-4, from memory: 48 V, D 0.4, 12.8 V into 10 ohm, current to 1.55 A
        String forward = """
                stage = { topology = "forward" }
                transformer = { turns = { primary = 1.5, secondary = 1, reset = 1.5 }, magnetizing_inductance = "5 mH" }
                input = { voltage = "48 V" }
                inductor = { inductance = "0.4 mH" }
                output_capacitor = { capacitance = "100 µF" }
                load = { resistance = "10 Ω" }
                drive = { kind = "fixed-duty", duty_cycle = 0.4, switching_frequency = "35 kHz" }
                """;
        assertThat(worst(forward + corners)).isCloseTo(120, within(1e-6));
        assertThat(worst(forward + "[ratings.parts]\ninductor = { current = 3 }\n"))
                .isCloseTo(1.55, within(0.005));
        String flyback = """
                stage = { topology = "flyback" }
                transformer = { turns = { primary = 3, secondary = 1 }, magnetizing_inductance = "500 µH" }
                input = { voltage = "48 V" }
                output_capacitor = { capacitance = "1 F" }
                load = { resistance = "5 Ω" }
                drive = { kind = "fixed-duty", duty_cycle = 0.4, switching_frequency = "100 kHz" }
                """;
        assertThat(worst(flyback + corners)).isCloseTo(100, within(1e-4));
    }

    private static double worst(String text) throws DesignException {
        Review review = Review.of(plan(text), DesignFile.parse("f", "f", text).converter(), null);
        StressCheck only = review.stresses().get(0);
        return only.check().value().get();
    }

    @Test
    void partsOfACustomCircuitAreRatedByName() throws DesignException {
        ReviewPlan plan = plan("""
                [[part]]
                name = "V1"
                kind = "voltage-source"
                between = ["in", "ground"]
                voltage = "9 V"
                [[part]]
                name = "T1"
                kind = "coupled-inductors"
                windings = [ { between = ["in", "drain"], inductance = "90 µH" }, { between = ["ground", "middle"], inductance = "90 µH" } ]
                coupling = 0.97
                [[part]]
                name = "Q1"
                kind = "switch"
                between = ["drain", "ground"]
                [[part]]
                name = "C2"
                kind = "capacitor"
                capacitance = "10 µF"
                resistance = "10 mΩ"
                between = ["drain", "middle"]
                [[part]]
                name = "D1"
                kind = "rectifier"
                between = ["middle", "out"]
                [[part]]
                name = "C1"
                kind = "capacitor"
                capacitance = "100 µF"
                resistance = "10 mΩ"
                between = ["out", "ground"]
                [[part]]
                name = "R1"
                kind = "resistor"
                resistance = "10 Ω"
                between = ["out", "ground"]
                [[gate]]
                switch = "Q1"
                duty_cycle = 0.4
                switching_frequency = "100 kHz"
                [output]
                between = ["out", "ground"]
                [ratings.parts]
                T1 = { current = "3 A" }
                "T1.2" = { rms = "2 A" }
                C2 = { voltage = "16 V", rms = "1 A" }
                """);
        assertThat(plan.ratings().stream().map(Rating::parts))
                .containsExactly(List.of("T1.1", "T1.2"), List.of("T1.2"), List.of("C2"), List.of("C2"));
    }

    /** The table goes over into the design that is proposed, whose range is that of the rail. */
    @Test
    void aProposedRailKeepsItsRatings() throws DesignException {
        String rail = """
                [rail]
                input = { from = "9 V", to = "15 V" }
                output_voltage = "5 V"
                load = { from = "0.2 A", to = "2 A" }
                switching_frequency = "300 kHz"
                inductor_ripple = 0.3
                output_ripple = "50 mV"
                [ratings]
                derating = 0.7
                parts = { transistor = { voltage = "30 V" } }
                """;
        ReviewPlan plan = plan(DesignFile.completed("f", "f", rail));
        assertThat(plan.ratings()).containsExactly(new Rating("transistor", Measure.VOLTAGE, List.of("Q1"), 30, 0.7));
        assertThat(Objects.requireNonNull(plan.corners()).input()).isEqualTo(new Span(9, 15));
        assertThatThrownBy(() -> DesignFile.completed("f", "f", rail.replace("30 V", "30 A")))
                .hasMessageContaining("f:10: ratings.parts.transistor.voltage");
    }
}
