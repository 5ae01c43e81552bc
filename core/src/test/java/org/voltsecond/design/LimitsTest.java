package org.voltsecond.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.util.Map;
import org.junit.jupiter.api.Test;
import org.voltsecond.design.DesignException.Fault;
import org.voltsecond.figures.Limit;

/** The table [limits] of a design file. */
class LimitsTest {
    private static final String STAGE = """
            stage = { topology = "buck" }
            input = { voltage = "12 V" }
            inductor = { inductance = "22 µH" }
            output_capacitor = { capacitance = "47 µF" }
            load = { resistance = "2.5 Ω" }
            drive = { kind = "fixed-duty", duty_cycle = 0.45, switching_frequency = "300 kHz" }
            [limits]
            """;

    @Test
    void areReadInSiUnits() throws DesignException {
        Design design = DesignFile.parse("f", "f", STAGE + "output_ripple = \"20 mV\"\nefficiency = 0.9\n");
        assertThat(design.limits()).isEqualTo(Map.of(Limit.OUTPUT_RIPPLE, 0.02, Limit.EFFICIENCY, 0.9));
    }

    @Test
    void badOnesAreAllToldAtOnce() {
        DesignException wrong = catchThrowableOfType(
                DesignException.class,
                () -> DesignFile.parse(
                        "f",
                        "f",
                        STAGE
                                + "droop = \"-1 V\"\nefficiency = 90\npeak_inductor_current = \"3 V\"\noutput_rippel = 1\n"
                                + "lowest_output_voltage = 5\nhighest_output_voltage = 4\n"));
        assertThat(wrong.faults().stream().map(Fault::toString))
                .hasSize(5)
                .anyMatch(fault -> fault.startsWith("f:8: limits.droop: out of range"))
                .anyMatch(fault -> fault.startsWith("f:9: limits.efficiency: out of range"))
                .anyMatch(fault -> fault.startsWith("f:10: limits.peak_inductor_current: "))
                .anyMatch(
                        fault -> fault.contains("limits.output_rippel: unknown key; nearest known key: output_ripple"))
                .anyMatch(
                        fault -> fault.contains("limits.lowest_output_voltage: must be below highest_output_voltage"));
    }
}
