package org.voltsecond.plot.parts;

import static org.assertj.core.api.Assertions.assertThat;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;
import static org.voltsecond.units.Si.pico;

import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.emission.EmissionEstimate;
import org.voltsecond.emission.EmissionLimits;
import org.voltsecond.emission.EmissionLimits.Band;
import org.voltsecond.emission.Emissions;
import org.voltsecond.stage.InputCapacitor;
import org.voltsecond.stage.Load;

class EmissionPictureTest {
    private static final Converter RAIL = PowerStage.buck()
            .input(12)
            .with(new InputCapacitor(micro(10), milli(5)))
            .inductor(micro(22), milli(30))
            .outputCapacitor(micro(47), milli(5))
            .load(Load.resistor(2.5))
            .rectifier(0.4, 0)
            .drive(Drive.fixedDuty(0.45, kilo(300)));

    @Test
    void limitsAndTheWorstHarmonicAreNamed() {
        Emissions found =
                EmissionEstimate.of(RAIL).limits(EmissionLimits.CLASS_B).measure();
        String svg = EmissionPicture.of("Logic rail", "12 V in", found).svg();
        assertThat(svg)
                .contains("Logic rail: emissions into the supply, pre-compliance estimate")
                .contains("CISPR 32 class B, average")
                .contains("CISPR 32 class B, quasi-peak")
                .contains(String.format(
                        Locale.ROOT,
                        "300 kHz: %.1f dB above the limit",
                        -found.worst().get().margin()))
                .contains("(dBµV)")
                .contains("a measurement shows compliance"); // the line breaks before
        assertThat(circles(svg)).isEqualTo(100 + 2); // one on each stem, two make the mark
    }

    @Test
    void whatIsNotGivenIsNotDrawn() {
        String svg = EmissionPicture.of("Rail", "", EmissionEstimate.of(RAIL).measure())
                .svg();
        assertThat(svg).contains("plus line").doesNotContain("average").doesNotContain("common mode");
        EmissionLimits apart =
                EmissionLimits.of(Band.level(150e3, 1e6, 60), Band.level(800e3, 2e6, 50), Band.level(5e6, 30e6, 40));
        Emissions found = EmissionEstimate.of(RAIL)
                .limits(apart)
                .earthCapacitance(pico(5))
                .measure();
        Emissions filtered =
                EmissionEstimate.of(RAIL.withAcrossInput("CI", milli(10), 0)).measure();
        assertThat(EmissionPicture.of("Rail", "", found, filtered).svg())
                .contains("common mode")
                .contains("with the proposed filter")
                .contains("own limits, average")
                .doesNotContain("quasi-peak");
    }

    private static int circles(String svg) {
        return svg.split("<circle|<ellipse", -1).length - 1;
    }
}
