package org.voltsecond.plot.explain;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.StageValue;
import org.voltsecond.figures.Figures;
import org.voltsecond.losses.EfficiencyCurve;
import org.voltsecond.study.Tolerance;

/** Linear beside switching, and tolerances. */
class ComparisonsTest {
    @Test
    void heatAndLifeBesideALinearRegulator() {
        EfficiencyCurve curve = EfficiencyCurve.of(Stages.buck(), 5, List.of(), 0.1, 1);
        LinearBeside beside = LinearBeside.of(curve, 60);
        LinearBeside.At full = beside.loads().get(1);
        assertThat(full.linearHeat()).isCloseTo(7, within(1e-12));
        assertThat(full.linearHours()).isCloseTo(60, within(1e-9)); // 1 A from 60 A h
        double power = 5 + full.switchingHeat();
        assertThat(full.switchingHours()).isCloseTo(60 * 12 / power, within(1e-3));
        assertThat(full.switchingHours()).isGreaterThan(2 * full.linearHours());
        assertThat(beside.heat("Heat").svg()).contains("7.00 W", "linear", "switching", "at 1.00 A");
        assertThat(beside.life("Life").svg()).contains("Days", "60.0 A·h");
    }

    @Test
    void noLinearRegulatorStandsBesideABoostStage() {
        EfficiencyCurve curve = EfficiencyCurve.of(Stages.boost(), 18, List.of(), 1);
        assertThatThrownBy(() -> LinearBeside.of(curve, 60))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("below the input");
    }

    @Test
    void contributionsAreDerivativeTimesHalfWidth() {
        Converter rail = Stages.buck();
        List<Tolerance> tolerances = List.of(
                Tolerance.relative(rail, StageValue.DUTY_CYCLE, 0.01),
                Tolerance.relative(rail, StageValue.INPUT_VOLTAGE, 0.05),
                Tolerance.relative(rail, StageValue.FORWARD_DROP, 0.2));
        ToleranceSpread spread = ToleranceSpread.of(rail, tolerances, Figures.OUTPUT_VOLTAGE, 4.4, 4.65, 500, 3);
        // of ideal parts with that drop: D * 0.6 V, (V + Vf) * 0.004, (1 - D) * 0.08 V, which are 0.24 V, 49.6 mV, 48
        // mV
        assertThat(spread.contributions())
                .extracting(ToleranceSpread.Contribution::value)
                .containsExactly("input voltage", "duty cycle", "forward drop");
        for (ToleranceSpread.Contribution each : spread.contributions()) {
            StageValue value = tolerances.stream()
                    .map(Tolerance::value)
                    .filter(known -> known.toString().equals(each.value()))
                    .findFirst()
                    .orElseThrow();
            double nominal = value.in(rail);
            double step = 1e-4 * nominal;
            double slope =
                    (output(value.set(rail, nominal + step)) - output(value.set(rail, nominal - step))) / (2 * step);
            assertThat(each.change()).isCloseTo(slope * each.halfWidth(), within(1e-5 * Math.abs(each.change())));
        }
        assertThat(spread.bins().stream().mapToInt(ToleranceSpread.Bin::designs).sum())
                .isEqualTo(500);
        int middle = spread.bins().stream()
                .filter(bin -> bin.from() >= 4.4 && bin.to() <= 4.65)
                .mapToInt(ToleranceSpread.Bin::designs)
                .sum();
        assertThat(1 - spread.outside()).isBetween(middle / 500.0, middle / 500.0 + 0.15);
        assertThat(spread.histogram("Histogram").svg())
                .contains("nominal, ", "limit below, 4.400 V", "% beyond a limit");
        assertThat(spread.bars("Bars").svg()).contains("input voltage", "(forward drop)");
    }

    private static double output(Converter converter) {
        return converter.steadyState().of(converter.outputVoltage()).mean();
    }

    @Test
    void designsThatAreAllAlikeHaveNoHistogram() {
        Converter rail = Stages.buck();
        List<Tolerance> none = List.of(Tolerance.relative(rail, StageValue.INDUCTANCE, 0.2));
        assertThatThrownBy(() -> ToleranceSpread.of(rail, none, Figures.OUTPUT_VOLTAGE, 4, 5, 1, 1))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("at least two designs");
    }
}
