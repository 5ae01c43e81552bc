package org.voltsecond.plot.explain;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.plot.Picture;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

class BalanceTest {
    private static final double ROUNDING = 1e-12;

    @Test
    void bothAreasAreEqualInEveryStage() {
        Stages.all().forEach((name, converter) -> {
            ConverterSteadyState steady = converter.steadyState();
            converter.roles().inductors().forEach(inductor -> {
                Balance flux = Balance.voltSeconds(steady, inductor);
                assertThat(flux.given()).as(name + " " + inductor).isCloseTo(flux.taken(), relative(flux.taken()));
                Balance energy = Balance.energy(steady, inductor);
                assertThat(energy.given())
                        .as(name + " " + inductor)
                        .isCloseTo(energy.taken(), relative(energy.taken()));
            });
            Balance charge =
                    Balance.charge(steady, converter.roles().outputCapacitor().orElseThrow());
            // what rounds is the inductor current, of which interleaved phases leave little to the capacitor
            double passing = converter.roles().inductors().stream()
                            .mapToDouble(
                                    inductor -> steady.of(converter.driven().current(inductor))
                                            .rms())
                            .sum()
                    * steady.period();
            assertThat(charge.given()).as(name).isCloseTo(charge.taken(), relative(passing));
        });
    }

    private static org.assertj.core.data.Offset<Double> relative(double size) {
        return within(ROUNDING * size);
    }

    /** Closed form of an ideal boost stage: V D T up, (Vout - V) (1 - D) T down, which is why it steps up. */
    @Test
    void voltSecondsOfAnIdealBoostStageAreInputTimesOnTime() {
        ConverterSteadyState steady = idealBoost().steadyState();
        Balance flux = Balance.voltSeconds(steady, "L1");
        assertThat(flux.taken()).isCloseTo(12 * 0.4 * 5e-6, within(1e-12 * 12));
        assertThat(flux.areas()).hasSize(2);
        assertThat(flux.areas().get(0).end()).isCloseTo(2e-6, within(1e-18));
        double up = steady.of(steady.converter().inductorCurrent()).peakToPeak();
        double mean = steady.of(steady.converter().inductorCurrent()).mean();
        assertThat(Balance.energy(steady, "L1").taken()).isCloseTo(22e-6 * mean * up, within(1e-4 * 22e-6 * mean * up));
    }

    private static Converter idealBoost() {
        return PowerStage.boost()
                .input(12)
                .inductor(22e-6)
                .outputCapacitor(1e-3)
                .load(Load.resistor(10))
                .drive(Drive.fixedDuty(0.4, 200e3));
    }

    @Test
    void fluxOfAnInductorThatSaturatesBalancesAsWell() {
        ConverterSteadyState steady = PowerStage.buck()
                .input(12)
                .inductor(22e-6, 30e-3)
                .saturation(new Bend(2, 8e-6))
                .outputCapacitor(100e-6, 5e-3)
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.45, 300e3))
                .steadyState();
        Balance flux = Balance.voltSeconds(steady, "L1");
        assertThat(flux.given()).isCloseTo(flux.taken(), relative(flux.taken()));
    }

    @Test
    void anInductorAtRestHasNoArea() {
        Balance flux = Balance.voltSeconds(Stages.lightBuck().steadyState(), "L1");
        assertThat(flux.areas()).hasSize(2);
        assertThat(flux.areas().get(1).end()).isLessThan(4.9e-6);
    }

    @Test
    void thePictureTellsTheSizes() {
        ConverterSteadyState steady = Stages.boost().steadyState();
        Picture picture = Balance.picture("Boost", steady);
        String size = Quantity.format(Balance.voltSeconds(steady, "L1").taken(), Unit.VOLT_SECOND, 4);
        assertThat(picture.svg()).contains(">" + size + "<", size + " each way", "not a safety approval");
    }

    @Test
    void whatIsNoInductorIsRefused() {
        ConverterSteadyState steady = Stages.buck().steadyState();
        assertThatThrownBy(() -> Balance.voltSeconds(steady, "C1"))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("valid: L1");
    }
}
