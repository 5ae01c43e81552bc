package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.SwitchPattern.Timing;
import org.voltsecond.waveform.Signal;

/**
 * The ripple of N phases together over that of one, N/(D (1 - D)) (D - m/N)((m + 1)/N - D) with m = floor(N D): a standard closed
 * form, with small resistances in the circuit; the same as equation 6 of Texas Instruments' user's guide SLUU195 (2004), whose four phases at D = 0.107 give 0.572 over V/(L f), that is over 1 - D
 * times the ripple of one.
 */
class RippleCancellationTest {
    private static final double FREQUENCY = 400e3;

    @ParameterizedTest
    @CsvSource({
        "2, 0.1, 0.8889",
        "3, 0.1, 0.7778",
        "4, 0.1, 0.6667",
        "6, 0.1, 0.4444",
        "4, 0.107, 0.6405",
        "4, 0.25, 0",
        "2, 0.3, 0.5714",
        "3, 0.4, 0.2222",
        "6, 0.4, 0.1667",
        "2, 0.5, 0",
        "3, 0.5, 0.3333",
        "4, 0.85, 0.4706"
    })
    void theRippleOfPhasesCancels(int phases, double duty, double published) {
        Circuit.Builder parts = Circuit.builder().voltageSource("V1", "in", "ground", 12);
        List<String> high = new ArrayList<>();
        List<String> low = new ArrayList<>();
        for (int k = 1; k <= phases; k++) {
            high.add("Q" + k);
            low.add("S" + k);
            parts.switchPart("Q" + k, "in", "sw" + k, 0)
                    .switchPart("S" + k, "ground", "sw" + k, 0)
                    .inductor("L" + k, "sw" + k, "out", 600e-9, 1e-5);
        }
        Circuit circuit = parts.capacitor("C1", "out", "ground", 0.1)
                .resistor("R1", "out", "ground", 0.1)
                .build();
        SwitchPattern pattern = SwitchPattern.of(Timing.INTERLEAVED, high, low);
        DrivenCircuitBuilder builder = DrivenCircuit.builder(circuit);
        Map<String, Drive> drives = pattern.drives(Drive.fixedDuty(duty, FREQUENCY), 0);
        drives.forEach(builder::gate);
        DrivenCircuit driven = builder.build();
        SteadyState steady = SteadyState.of(driven);
        Signal sum = driven.current("L1");
        for (int k = 2; k <= phases; k++) {
            sum = sum.plus(driven.current("L" + k));
        }
        double one = steady.of(driven.current("L1")).peakToPeak();
        int m = (int) Math.floor(phases * duty);
        double expected = phases / (duty * (1 - duty)) * (duty - (double) m / phases) * ((m + 1.0) / phases - duty);
        assertThat(one).isCloseTo(12 * duty * (1 - duty) / FREQUENCY / 600e-9, within(2e-3));
        assertThat(steady.of(sum).peakToPeak() / one)
                .isCloseTo(expected, within(1e-4))
                .isCloseTo(published, within(1.5e-4));
    }
}
