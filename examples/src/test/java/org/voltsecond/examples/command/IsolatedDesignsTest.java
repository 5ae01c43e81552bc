package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.examples.Json.at;
import static org.voltsecond.examples.Json.number;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Stages with a transformer through a design file: published cases (D. W. Hart, Power Electronics, McGraw-Hill 2011, examples 7-1, 7-4
 * and 7-6, parameters from memory) to the digits of their exact periodic orbits, which were worked out elsewhere.
 */
class IsolatedDesignsTest {
    private static final String FLYBACK = """
            [stage]
            topology = "flyback"
            [input]
            voltage = "24 V"
            [transformer]
            turns = { primary = 3, secondary = 1 }
            magnetizing_inductance = "500 µH"
            [output_capacitor]
            capacitance = "200 µF"
            [load]
            resistance = "5 Ω"
            [drive]
            kind = "fixed-duty"
            duty_cycle = 0.38461538461538464
            switching_frequency = "40 kHz"
            """;

    private static final String FORWARD = """
            [stage]
            topology = "forward"
            [input]
            voltage = "48 V"
            [transformer]
            turns = { primary = 3, secondary = 2, reset = 3 }
            magnetizing_inductance = "5 mH"
            [inductor]
            inductance = "0.4 mH"
            [output_capacitor]
            capacitance = "100 µF"
            [load]
            resistance = "10 Ω"
            [drive]
            kind = "fixed-duty"
            duty_cycle = 0.4
            switching_frequency = "35 kHz"
            """;

    private static final String PUSH_PULL = """
            [stage]
            topology = "push-pull"
            [input]
            voltage = "30 V"
            [transformer]
            turns = { primary = 2, secondary = 1 }
            magnetizing_inductance = "5 mH"
            [inductor]
            inductance = "0.5 mH"
            [output_capacitor]
            capacitance = "50 µF"
            [load]
            resistance = "6 Ω"
            [drive]
            kind = "fixed-duty"
            duty_cycle = 0.3
            switching_frequency = "10 kHz"
            """;

    @TempDir
    Path folder;

    private Map<String, Object> figures(String design) throws IOException {
        return CommandRun.figures(folder, design, "--no-pictures");
    }

    private List<String> refused(String design) throws IOException {
        CommandRun run = CommandRun.of(Designs.write(folder, "rail.toml", design), "--into", folder.resolve("out"));
        assertThat(run.exitCode()).isEqualTo(2);
        return run.err();
    }

    private static double signal(Map<String, Object> figures, String path) {
        return number(figures, "steady_state.signals." + path);
    }

    @Test
    void publishedFlyback() throws IOException {
        Map<String, Object> figures = figures(FLYBACK + "[transient]\nduration = \"1 ms\"\n");
        assertThat(signal(figures, "output_voltage.mean")).isCloseTo(4.99655, within(5e-6));
        assertThat(signal(figures, "output_voltage.peak_to_peak")).isCloseTo(48.14e-3, within(5e-6));
        assertThat(signal(figures, "inductor_current.mean")).isCloseTo(0.54115, within(5e-6));
        assertThat(signal(figures, "inductor_current.maximum")).isCloseTo(0.77169, within(5e-6));
        assertThat(signal(figures, "inductor_current.minimum")).isCloseTo(0.31015, within(5e-6));
        assertThat(signal(figures, "rectifier_voltage.minimum")).isCloseTo(-13, within(0.05));
        assertThat(at(figures, "steady_state.conduction")).isEqualTo("continuous");
        number(figures, "transient.final_state.inductor_current");
    }

    @Test
    void publishedForward() throws IOException {
        Map<String, Object> figures = figures(FORWARD);
        assertThat(signal(figures, "output_voltage.mean")).isCloseTo(12.8, within(1e-9));
        assertThat(signal(figures, "inductor_current.peak_to_peak")).isCloseTo(0.54880, within(5e-6));
        assertThat(signal(figures, "inductor_current.maximum")).isCloseTo(1.55440, within(5e-6));
        assertThat(signal(figures, "output_voltage.peak_to_peak")).isCloseTo(19.602e-3, within(5e-7));
        assertThat(signal(figures, "magnetizing_current.maximum")).isCloseTo(0.1097142857, within(1e-9));
        assertThat(signal(figures, "transistor_voltage.maximum")).isCloseTo(96, within(1e-9));
    }

    @Test
    void publishedPushPull() throws IOException {
        Map<String, Object> figures = figures(PUSH_PULL);
        assertThat(signal(figures, "output_voltage.mean")).isCloseTo(9, within(1e-9));
        assertThat(signal(figures, "inductor_current.peak_to_peak")).isCloseTo(0.36072, within(5e-6));
        assertThat(signal(figures, "inductor_current.maximum")).isCloseTo(1.68036, within(5e-6));
        assertThat(signal(figures, "magnetizing_current.mean")).isCloseTo(0, within(1e-12));
        assertThat(signal(figures, "magnetizing_current.maximum")).isCloseTo(0.09, within(1e-9));
        assertThat(number(figures, "steady_state.duty_cycle")).isCloseTo(0.3, within(1e-12));
    }

    /** The other stages of the family give the same behind their rectifiers, from the input that gives the same pulses. */
    @Test
    void theFamilyIsAlikeBehindItsRectifiers() throws IOException {
        for (String other : new String[] {"half-bridge", "full-bridge"}) {
            String input = other.equals("half-bridge") ? "60 V" : "30 V";
            Map<String, Object> figures =
                    figures(PUSH_PULL.replace("push-pull", other).replace("30 V", input));
            assertThat(signal(figures, "inductor_current.maximum")).as(other).isCloseTo(1.68036, within(5e-6));
        }
        Map<String, Object> figures =
                figures(FORWARD.replace("\"forward\"", "\"two-switch-forward\"").replace(", reset = 3", ""));
        assertThat(signal(figures, "inductor_current.maximum")).isCloseTo(1.55440, within(5e-6));
        assertThat(signal(figures, "transistor_voltage.maximum")).isCloseTo(48, within(1e-9));
    }

    /** Clamp and snubber have losses of their own, and with them the input is all accounted for. */
    @Test
    void clampAndSnubberAreTold() throws IOException {
        Map<String, Object> figures =
                figures(FLYBACK.replace("\"500 µH\"", "\"500 µH\"\nleakage_inductance = \"5 µH\"") + """
                [clamp]
                voltage = "60 V"
                [snubber]
                across = "rectifier"
                resistance = "22 Ω"
                capacitance = "1 nF"
                """);
        double clamp = number(figures, "steady_state.power.losses.clamp");
        double snubber = number(figures, "steady_state.power.losses.snubber");
        assertThat(clamp).isGreaterThan(0.05);
        // charged by some 13 V by way of its resistor, which takes C V^2 / 2, and discharged by the current of the
        // leakage
        assertThat(snubber).isBetween(0.5 * 1e-9 * 13 * 13 * 40e3, 2 * 1e-9 * 13 * 13 * 40e3);
        double lost = number(figures, "steady_state.power.input") - number(figures, "steady_state.power.output");
        assertThat(clamp + snubber).isCloseTo(lost, within(1e-9));
        assertThat(signal(figures, "transistor_voltage.maximum")).isCloseTo(84, within(1e-9));
        assertThat(number(figures, "steady_state.power.audit_residual")).isLessThan(1e-10);
    }

    @Test
    void whatIsWrongIsToldWithItsLine() throws IOException {
        assertThat(refused(FORWARD.replace(", reset = 3", "")))
                .anyMatch(line -> line.contains("turns of the reset winding are missing"));
        assertThat(refused(PUSH_PULL.replace("duty_cycle = 0.3", "duty_cycle = 0.6")))
                .anyMatch(line -> line.contains("at most 0.5"));
        assertThat(refused(FLYBACK + "[inductor]\ninductance = \"1 µH\"\n"))
                .anyMatch(line -> line.contains("a flyback stage has none"));
    }

    /** An isolated rail: the stage for its power, with turns in small whole numbers, and all that other rails have. */
    @Test
    void anIsolatedRailIsProposedAndRun() throws IOException {
        Map<String, Object> figures = figures("""
                [rail]
                input = { from = "18 V", to = "32 V", typical = "24 V" }
                output_voltage = "5 V"
                load = { from = "0.2 A", to = "2 A" }
                switching_frequency = "150 kHz"
                inductor_ripple = 0.4
                output_ripple = "50 mV"
                isolated = true
                """);
        // the duty cycle is written with a few digits
        assertThat(signal(figures, "output_voltage.mean")).isCloseTo(5, within(1e-4));
        assertThat(Files.readString(folder.resolve("out/rail/design.toml")))
                .contains("topology = \"flyback\"")
                .contains("turns = { primary = 5, secondary = 2 }");
    }
}
