package org.voltsecond.emission;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.emission.EmissionLimits.Band;

class EmissionLimitsTest {
    /** Impedance of the ideal networks of CISPR 16-1-2, as tables of the standard and a computation by hand give it. */
    @ParameterizedTest
    @CsvSource({
        "0.15, 34.29, 46.70", "0.2, 39.12, 38.51", "0.3, 44.17, 27.95", "0.5, 47.64, 17.66",
        "1, 49.38, 9.04", "2, 49.84, 4.55", "5, 49.97, 1.82", "30, 50.00, 0.30"
    })
    void networkOfFiftyMicrohenry(double megahertz, double ohm, double degrees) {
        var impedance = ArtificialNetwork.FIFTY_MICROHENRY.impedance(megahertz * 1e6);
        assertThat(impedance.magnitude()).isCloseTo(ohm, within(0.01));
        assertThat(Math.toDegrees(impedance.argument())).isCloseTo(degrees, within(0.01));
    }

    /** At 100 MHz the 1 ohm in the lead of the published network of 5 µH no longer shows. */
    @Test
    void networkOfFiveMicrohenry() {
        var impedance = ArtificialNetwork.FIVE_MICROHENRY.impedance(100e6);
        assertThat(impedance.magnitude()).isCloseTo(49.99, within(0.01));
        assertThat(Math.toDegrees(impedance.argument())).isCloseTo(0.91, within(0.01));
    }

    /** CISPR 32, class B, average and quasi-peak, worked out by hand from the ends of the sloping band. */
    @ParameterizedTest
    @CsvSource({
        "0.15, 56, 66", "0.2, 53.61, 63.61", "0.25, 51.76, 61.76", "0.3, 50.24, 60.24", "0.4, 47.85, 57.85",
        "0.5, 46, 56", "1, 46, 56", "5, 46, 56", "5.1, 50, 60", "30, 50, 60"
    })
    void classB(double megahertz, double average, double quasiPeak) {
        assertThat(EmissionLimits.CLASS_B.average(megahertz * 1e6).orElseThrow())
                .isCloseTo(average, within(0.005));
        assertThat(EmissionLimits.CLASS_B.quasiPeak(megahertz * 1e6).orElseThrow())
                .isCloseTo(quasiPeak, within(0.005));
    }

    @ParameterizedTest
    @CsvSource({"0.15, 66, 79", "0.49, 66, 79", "0.5, 60, 73", "5, 60, 73", "30, 60, 73"})
    void classA(double megahertz, double average, double quasiPeak) {
        assertThat(EmissionLimits.CLASS_A.average(megahertz * 1e6).orElseThrow())
                .isEqualTo(average);
        assertThat(EmissionLimits.CLASS_A.quasiPeak(megahertz * 1e6).orElseThrow())
                .isEqualTo(quasiPeak);
    }

    @Test
    void nothingIsLimitedOutsideTheBands() {
        assertThat(EmissionLimits.CLASS_A.average(149e3)).isEmpty();
        assertThat(EmissionLimits.CLASS_B.quasiPeak(30.1e6)).isEmpty();
        EmissionLimits own = EmissionLimits.of(Band.level(1e6, 2e6, 40), Band.level(1.5e6, 3e6, 30));
        assertThat(own.average(1.7e6)).hasValue(30);
        assertThat(own.quasiPeak(1.7e6)).isEmpty();
    }

    @Test
    void bandsAndNetworksAreChecked() {
        assertThatThrownBy(() -> Band.level(2e6, 1e6, 40)).hasMessageContaining("2000000.0 Hz to 1000000.0 Hz");
        assertThatThrownBy(() -> Band.level(1e6, 2e6, Double.NaN)).hasMessageContaining("dBµV");
        assertThatThrownBy(EmissionLimits::of).hasMessageContaining("at least one band");
        assertThatThrownBy(() -> new ArtificialNetwork(0, 50)).hasMessageContaining("inductance must be more than 0 H");
        assertThatThrownBy(() -> new ArtificialNetwork(50e-6, -1))
                .hasMessageContaining("resistance must be more than 0");
    }
}
