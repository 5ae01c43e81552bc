package org.voltsecond.plot.page;

import static org.assertj.core.api.Assertions.assertThat;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.Arrays;
import java.util.Base64;
import java.util.List;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Waveform;
import org.voltsecond.waveform.WaveformSource;

/** The data of a figure hold the exact extremes of its waveforms, to the last bit, however long the run. */
class WaveformFigureTest {
    private static final Converter RAIL = PowerStage.buck()
            .input(12)
            .inductor(micro(22), milli(30))
            .outputCapacitor(micro(47), milli(5))
            .transistor(milli(80))
            .rectifier(0.4, milli(20))
            .load(Load.resistor(2.5))
            .drive(Drive.fixedDuty(0.45, kilo(300)));

    private static List<Waveform> waveforms(WaveformSource source) {
        return List.of(
                source.of(RAIL.switchNode()),
                source.of(RAIL.inductorCurrent()),
                source.of(RAIL.outputVoltage()),
                source.of(RAIL.outputCapacitorCurrent()));
    }

    private static String json(List<Waveform> waveforms, double from, double to) {
        WaveformFigure figure = WaveformFigure.over("figure", from, to);
        waveforms.forEach(figure::panel);
        return figure.toJson();
    }

    private static List<double[]> arrays(String json, String key) {
        return Pattern.compile("\"" + key + "\":\"([^\"]*)\"")
                .matcher(json)
                .results()
                .map(WaveformFigureTest::numbers)
                .toList();
    }

    private static double[] numbers(MatchResult found) {
        ByteBuffer bytes =
                ByteBuffer.wrap(Base64.getDecoder().decode(found.group(1))).order(ByteOrder.LITTLE_ENDIAN);
        double[] numbers = new double[bytes.remaining() / Double.BYTES];
        bytes.asDoubleBuffer().get(numbers);
        return numbers;
    }

    private static double lowest(double[] values) {
        return Arrays.stream(values).min().orElseThrow();
    }

    private static double highest(double[] values) {
        return Arrays.stream(values).max().orElseThrow();
    }

    @Test
    void tenThousandPeriodsLoseNoPeak() {
        List<Waveform> waveforms = waveforms(RAIL.startUp(10_000 / kilo(300)));
        String json = json(waveforms, 0, waveforms.get(0).endTime());
        List<double[]> lows = arrays(json, "low");
        List<double[]> highs = arrays(json, "high");
        assertThat(json).contains("\"kind\":\"columns\"").hasSizeLessThan(300_000);
        assertThat(lows).hasSameSizeAs(waveforms);
        for (int i = 0; i < waveforms.size(); i++) {
            assertThat(lowest(lows.get(i))).isEqualTo(waveforms.get(i).minimum());
            assertThat(highest(highs.get(i))).isEqualTo(waveforms.get(i).maximum());
            assertThat(lows.get(i)).hasSameSizeAs(arrays(json, "time").get(0));
        }
    }

    @Test
    void twoPeriodsHoldEveryExtremeAndBothSidesOfAJump() {
        ConverterSteadyState steady = RAIL.steadyState();
        List<Waveform> waveforms =
                waveforms(steady).stream().map(one -> one.repeated(2)).toList();
        String json =
                json(waveforms, waveforms.get(0).startTime(), waveforms.get(0).endTime());
        List<double[]> values = arrays(json, "value");
        assertThat(json).contains("\"kind\":\"rows\"");
        for (int i = 0; i < waveforms.size(); i++) {
            assertThat(lowest(values.get(i))).isEqualTo(waveforms.get(i).minimum());
            assertThat(highest(values.get(i))).isEqualTo(waveforms.get(i).maximum());
        }
        double[] time = arrays(json, "time").get(0);
        assertThat(time).isSorted().hasSizeGreaterThan(600);
        assertThat(Arrays.stream(time).distinct().count()).isLessThan(time.length);
    }

    @Test
    void aPartOfARunHoldsItsOwnExtremes() {
        List<Waveform> waveforms = waveforms(RAIL.startUp(milli(1)));
        String json = json(waveforms, micro(11), micro(303.3));
        for (int i = 0; i < waveforms.size(); i++) {
            Waveform part = waveforms.get(i).between(micro(11), micro(303.3));
            assertThat(lowest(arrays(json, "value").get(i))).isEqualTo(part.minimum());
            assertThat(highest(arrays(json, "value").get(i))).isEqualTo(part.maximum());
        }
    }

    @Test
    void whatIsAddedLaterIsToldAsWell() {
        Waveform output = RAIL.steadyState().of(RAIL.outputVoltage());
        WaveformFigure figure = WaveformFigure.over("grows", 0, output.endTime());
        String empty = figure.toJson();
        String filled = figure.panel(output).toJson();
        assertThat(filled).isEqualTo(figure.toJson()).contains(output.name());
        assertThat(empty).doesNotContain(output.name());
        assertThat(figure.mark(output.endTime() / 2, "half of it").toJson()).contains("half of it");
    }
}
