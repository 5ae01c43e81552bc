package org.voltsecond.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.Objects;
import org.junit.jupiter.api.Test;
import org.voltsecond.emission.ArtificialNetwork;
import org.voltsecond.emission.EmissionEstimate;
import org.voltsecond.emission.EmissionLimits;
import org.voltsecond.emission.Emissions;

/** The table [emissions] of a design file, and the limit that goes with it. */
class EmissionsTableTest {
    /** Seven lines. */
    private static final String STAGE = """
            stage = { topology = "buck" }
            input = { voltage = "12 V" }
            inductor = { inductance = "22 µH", resistance = "30 mΩ" }
            output_capacitor = { capacitance = "47 µF" }
            rectifier = { forward_drop = "0.4 V" }
            load = { resistance = "2.5 Ω" }
            drive = { kind = "fixed-duty", duty_cycle = 0.45, switching_frequency = "300 kHz" }
            """;

    private static EmissionEstimate read(String text) throws DesignException {
        return Objects.requireNonNull(
                DesignFile.parse("f", "f", STAGE + text).studies().emissions());
    }

    @Test
    void tableIsRead() throws DesignException {
        EmissionEstimate estimate = read("""
                input_capacitor = { capacitance = "10 µF" }
                [emissions]
                network = "5 uH"
                limits = "class-a"
                to = "108 MHz"
                rise_time = "20 ns"
                fall_time = "30 ns"
                earth_capacitance = "10 pF"
                """);
        assertThat(estimate.network()).isEqualTo(ArtificialNetwork.FIVE_MICROHENRY);
        assertThat(estimate.limits()).isSameAs(EmissionLimits.CLASS_A);
        assertThat(estimate.highest()).isEqualTo(108e6);
        assertThat(estimate.hasCommonMode()).isTrue();
        Emissions found = estimate.measure();
        assertThat(found.size()).isEqualTo(360);
        assertThat(found.level(101)).isLessThan(estimate.edges(0, 0).measure().level(101) - 3);
    }

    @Test
    void mostMayBeLeftOut() throws DesignException {
        EmissionEstimate estimate = read("[emissions]\n");
        assertThat(estimate.network()).isEqualTo(ArtificialNetwork.FIFTY_MICROHENRY);
        assertThat(estimate.limits()).isNull();
        assertThat(estimate.highest()).isEqualTo(30e6);
        assertThat(estimate.hasCommonMode()).isFalse();
        assertThat(read("emissions = { network = 50e-6, limits = \"class-b\" }\n")
                        .limits())
                .isSameAs(EmissionLimits.CLASS_B);
    }

    @Test
    void limitsOfOnesOwn() throws DesignException {
        EmissionLimits limits = Objects.requireNonNull(read("""
                [emissions]
                network = "50 µH"
                limits = [ { from = "150 kHz", to = "500 kHz", level = 46 }, { from = "500 kHz", to = 30e6, level = "50 dBµV", level_at_end = 40 } ]
                to = "30 MHz"
                """).limits());
        assertThat(limits.average(200e3)).hasValue(46);
        assertThat(limits.average(500e3)).hasValue(46);
        assertThat(limits.average(30e6)).hasValue(40);
        assertThat(limits.average(100e3)).isEmpty();
        assertThat(limits.quasiPeak()).isEmpty();
    }

    @Test
    void allFaultsAreToldAtOnceEachWithItsLine() {
        assertThat(Refused.faults(STAGE + """
                [emissions]
                network = "50 µF"
                limits = "class-c"
                to = "20 kHz"
                rise_time = "-1 ns"
                earth_capacitance = "10 nH"
                colour = "red"
                """))
                .anySatisfy(fault -> assertThat(fault).contains("rail.toml:9: emissions.network", "capacitance"))
                .anySatisfy(fault -> assertThat(fault).contains("rail.toml:10: emissions.limits", "class-a, class-b"))
                .anySatisfy(fault -> assertThat(fault)
                        .contains("rail.toml:11: emissions.to", "switching frequency, 300 kHz, but is 20 kHz"))
                .anySatisfy(fault -> assertThat(fault).contains("rail.toml:12: emissions.rise_time", "0 or more s"))
                .anySatisfy(
                        fault -> assertThat(fault).contains("rail.toml:13: emissions.earth_capacitance", "inductance"))
                .anySatisfy(fault -> assertThat(fault).contains("rail.toml:14: emissions.colour", "unknown key"))
                .hasSize(6);
    }

    @Test
    void onlyTheTwoNetworksOfTheStandardAreTaken() {
        assertThat(Refused.only(STAGE + "emissions = { network = \"10 µH\" }\n"))
                .contains("rail.toml:8: emissions.network: there is no artificial network of 10 µH")
                .contains("valid: \"50 µH\" or \"5 µH\"");
    }

    @Test
    void faultsOfOwnLimits() {
        assertThat(Refused.faults(STAGE + """
                [emissions]
                limits = [ { from = "1 MHz", to = "500 kHz", level = 46 }, { from = "1 V", to = "2 MHz", level = "46 V" }, { to = "3 MHz" } ]
                """))
                .anySatisfy(fault -> assertThat(fault).contains("emissions.limits[1].to", "above from = 1 MHz"))
                .anySatisfy(fault -> assertThat(fault).contains("emissions.limits[2].from", "voltage"))
                .anySatisfy(fault -> assertThat(fault).contains("emissions.limits[2].level", "voltage"))
                .anySatisfy(fault -> assertThat(fault).contains("emissions.limits[3].from", "missing"))
                .anySatisfy(fault -> assertThat(fault).contains("emissions.limits[3].level", "missing"));
        assertThat(Refused.only(STAGE + "emissions = { limits = [] }\n")).contains("an array without a band");
        assertThat(Refused.only(STAGE + "emissions = { limits = 5 }\n")).contains("class-a, class-b");
    }

    @Test
    void aMarginIsOfEmissionsWithLimits() {
        String margin = "limits = { emission_margin = \"6 dB\" }\n";
        assertThat(Refused.only(STAGE + margin)).contains("limits.emission_margin", "[emissions] with limits");
        assertThat(Refused.only(STAGE + margin + "[emissions]\nto = \"30 MHz\"\n"))
                .contains("limits.emission_margin");
        assertThat(Refused.faults(STAGE + "limits = { emission_margin = \"6 V\" }\n"))
                .anySatisfy(fault -> assertThat(fault).contains("limits.emission_margin", "voltage"));
    }

    /** A rail whose parts are proposed carries the table over into its design; faults are told where they stand. */
    @Test
    void aProposedRailKeepsTheTable() throws DesignException {
        String rail = """
                [rail]
                input = { from = "9 V", to = "15 V" }
                output_voltage = "5 V"
                load = { from = "50 mA", to = "2 A" }
                switching_frequency = "300 kHz"
                inductor_ripple = 0.3
                output_ripple = "50 mV"
                [limits]
                emission_margin = "3 dB"
                [emissions]
                limits = [ { from = "150 kHz", to = "30 MHz", level = 46 } ]
                to = "10 MHz"
                """;
        String text = DesignFile.completed("f", "f", rail);
        EmissionEstimate estimate = Objects.requireNonNull(
                DesignFile.parse("f", "f", text).studies().emissions());
        assertThat(estimate.highest()).isEqualTo(10e6);
        assertThat(Objects.requireNonNull(estimate.limits()).average(1e6)).hasValue(46);
        assertThatThrownBy(() -> DesignFile.completed("f", "f", rail.replace("10 MHz", "10 mH")))
                .hasMessageContaining("f:12: emissions.to");
    }
}
