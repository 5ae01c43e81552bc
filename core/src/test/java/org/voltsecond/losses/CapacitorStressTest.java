package org.voltsecond.losses;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.List;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;

/** The current of a capacitor by its frequencies against the Fourier series of a triangle, and what a data sheet makes of it. */
class CapacitorStressTest {
    private static final double DUTY = 0.3;
    private static final double FREQUENCY = kilo(5);

    /** The capacitor is so large that its voltage rests: it carries a triangle of current. */
    private static ConverterSteadyState triangle() {
        return PowerStage.buck()
                .input(10)
                .inductor(milli(2.1), 0)
                .outputCapacitor(100, milli(20))
                .transistor(0)
                .rectifier(0, 0)
                .load(Load.current(2))
                .drive(Drive.fixedDuty(DUTY, FREQUENCY))
                .steadyState();
    }

    /** Peak to peak of the triangle: (V_in - V_out) D T / L. */
    private static final double SWING = (10 - 3) * DUTY / FREQUENCY / milli(2.1);

    /** The sum of the mean squares of harmonics, each with its weight: amplitude swing |sin(k pi D)| / (pi² k² D (1 - D)). */
    private static double series(int from, int to, DoubleUnaryOperator weight) {
        double sum = 0;
        for (int k = to; k >= from; k--) {
            double amplitude =
                    SWING * Math.abs(Math.sin(k * Math.PI * DUTY)) / (Math.PI * Math.PI * k * k * DUTY * (1 - DUTY));
            sum += 0.5 * amplitude * amplitude * weight.applyAsDouble(k * FREQUENCY);
        }
        return sum;
    }

    @Test
    void bandsOfATriangleAreThoseOfItsSeries() {
        RippleCurrent current = RippleCurrent.of(triangle(), "C1", 0);
        assertThat(current.rms()).isCloseTo(SWING / Math.sqrt(12), within(1e-6 * SWING));
        List<RippleCurrent.Band> bands = current.bands();
        assertThat(bands).hasSize(4);
        int[] ends = {0, 1, 19, 199, 200_000
        }; // of 5 kHz: up to 10 kHz, 100 kHz, 1 MHz, without the edge, and what is above
        for (int k = 0; k < 4; k++) {
            double expected = Math.sqrt(series(ends[k] + 1, ends[k + 1], frequency -> 1));
            assertThat(bands.get(k).rms()).isCloseTo(expected, within(2e-6 * expected + 1e-12));
        }
        double sum = bands.stream().mapToDouble(band -> band.rms() * band.rms()).sum();
        assertThat(sum).isCloseTo(current.rms() * current.rms(), within(1e-14));
        assertThat(bands.get(0).from()).isEqualTo(1e3);
        assertThat(bands.get(3).to()).isInfinite();
    }

    @Test
    void multipliersSeriesResistanceAndLifeAreReckonedByHand() {
        FrequencyTable factors = FrequencyTable.of(kilo(1), 0.5, kilo(100), 1);
        FrequencyTable ohm = FrequencyTable.of(kilo(5), 0.2, kilo(50), 0.1);
        CapacitorRating rating = CapacitorRating.of("C1", 0.4)
                .withFactors(factors)
                .withDerating(0.8)
                .withHeat(30, ohm)
                .withLife(2000, 105);
        CapacitorStress stress = stress(HeatModel.at(70).with(rating));
        DoubleUnaryOperator factor = f -> f >= kilo(100) ? 1 : 0.5 + 0.25 * Math.log10(f / kilo(1));
        double equivalent = Math.sqrt(series(1, 100_000, f -> Math.pow(factor.applyAsDouble(f), -2)));
        assertThat(stress.equivalent().get()).isCloseTo(equivalent, within(1e-5 * equivalent));
        assertThat(stress.share().get()).isCloseTo(equivalent / 0.32, within(1e-5));
        double heat = series(1, 100_000, f -> f >= kilo(50) ? 0.1 : 0.2 - 0.1 * Math.log10(f / kilo(5)));
        assertThat(stress.hotSpot().get()).isCloseTo(70 + 30 * heat, within(1e-5));
        double hours = 2000 * Math.pow(2, (105 - 70 - 30 * heat) / 10);
        assertThat(stress.hours().get()).isCloseTo(hours, within(1e-5 * hours));
    }

    /** The rise at the rated current goes with its square; a capacitor that is a heated body has the temperature of that. */
    @Test
    void aHotSpotComesFromWhatIsKnown() {
        CapacitorRating rise = CapacitorRating.of("C1", 0.5).withRise(8);
        double share = SWING / Math.sqrt(12) / 0.5;
        assertThat(stress(HeatModel.at(50).with(rise)).hotSpot().get()).isCloseTo(50 + 8 * share * share, within(1e-5));
        double loss = milli(20) * SWING * SWING / 12;
        HeatModel body = HeatModel.at(50, HeatedBody.of("C1", 100)).with(rise);
        assertThat(stress(body).hotSpot().get()).isCloseTo(50 + 100 * loss, within(1e-6));
        CapacitorStress nothing = stress(HeatModel.at(50));
        assertThat(nothing.hotSpot().reason()).contains("nothing is known");
        assertThat(nothing.share().reason()).contains("no rated ripple current");
        assertThat(stress(HeatModel.at(50).with(CapacitorRating.of("C1", 1)))
                        .hours()
                        .reason())
                .contains("no rated life");
    }

    private static CapacitorStress stress(HeatModel model) {
        return model.balance(triangle()).get().capacitors().get(0);
    }

    @Test
    void faultsAreToldAtOnce() {
        assertThatThrownBy(() -> CapacitorRating.of("C1", -1)).hasMessageContaining("more than 0 A but was -1.0 A");
        assertThatThrownBy(() -> CapacitorRating.of("C1", 1).withFactors(FrequencyTable.of(1, 0)))
                .hasMessageContaining("factor at 1.0 Hz");
        assertThatThrownBy(() -> FrequencyTable.of(10, 1, 5, -1))
                .hasMessageContaining("5.0 Hz follows 10.0 Hz")
                .hasMessageContaining("at 5.0 Hz must be 0 or more but was -1.0");
        assertThatThrownBy(() -> stress(HeatModel.at(50).with(CapacitorRating.of("L1", 1))))
                .hasMessageContaining("L1 is none");
    }

    /** With a ripple of 100 Hz on the line, that and the switching frequency lie in bands of their own. */
    @Test
    void aRippleOfTheLineLiesInItsOwnBand() {
        ConverterSteadyState steady = PowerStage.buck()
                .input(12)
                .inputRipple(0.5, 100)
                .inductor(micro(220), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.45, kilo(20)))
                .steadyState();
        List<RippleCurrent.Band> bands = RippleCurrent.of(steady, "C1", 0).bands();
        assertThat(bands.get(0).to()).isEqualTo(1e3);
        // the output follows the line: C dv/dt of 0.45 times its ripple
        double slow = micro(47) * 2 * Math.PI * 100 * 0.45 * 0.5 / Math.sqrt(2) * 2.5 / (2.5 + 0.03);
        assertThat(bands.get(0).rms()).isCloseTo(slow, within(0.02 * slow));
        assertThat(bands.get(1).rms()).isLessThan(1e-3 * bands.get(2).rms());
    }
}
