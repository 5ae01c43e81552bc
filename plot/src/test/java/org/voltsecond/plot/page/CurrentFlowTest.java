package org.voltsecond.plot.page;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.plot.explain.CurrentPaths;
import org.voltsecond.plot.explain.Stages;

/** What the page moves, read back from the page. */
class CurrentFlowTest {
    private static final Pattern PORT = Pattern.compile(
            "\\{\"name\":\"([^\"]*)\",\"plus\":\"([^\"]*)\",\"minus\":\"([^\"]*)\",\"values\":\\[([^]]*)]}");
    private static final Pattern PIECE =
            Pattern.compile("\\{\"line\":\\[([^]]*)],\"ports\":\\[([^]]*)],\"signs\":\\[([^]]*)]}");
    private static final Pattern TIMES = Pattern.compile("\\{\"times\":\\[([^]]*)]");

    private record Read(String name, String plus, String minus, double[] values) {}

    private static double[] numbers(String list) {
        return Arrays.stream(list.split(",", -1))
                .mapToDouble(Double::parseDouble)
                .toArray();
    }

    private static String page(ConverterSteadyState steady) {
        return Page.titled("x")
                .heading("How it works")
                .flow(CurrentPaths.of(steady).flow())
                .html();
    }

    private static List<Read> ports(String page) {
        List<Read> ports = new ArrayList<>();
        for (Matcher at = PORT.matcher(page); at.find(); ) {
            ports.add(new Read(at.group(1), at.group(2), at.group(3), numbers(at.group(4))));
        }
        return ports;
    }

    private static Converter stage(String name) {
        return Objects.requireNonNull(Stages.all().get(name));
    }

    @ParameterizedTest
    @ValueSource(strings = {"light buck", "boost", "SEPIC", "flyback", "full bridge", "phases"})
    void currentsAddUpToZeroAtEachNodeAndEachPointOfTheDrawing(String name) {
        String page = page(stage(name).steadyState());
        List<Read> ports = ports(page);
        assertThat(ports).hasSize(stage(name).circuit().ports().size());
        int pieces = 0;
        for (int instant = 0; instant < ports.get(0).values().length; instant++) {
            Map<String, Double> sums = new HashMap<>();
            double largest = 0;
            for (Read port : ports) {
                double current = port.values()[instant];
                sums.merge("node " + port.plus(), -current, Double::sum);
                sums.merge("node " + port.minus(), current, Double::sum);
                largest = Math.max(largest, Math.abs(current));
            }
            for (Matcher at = PIECE.matcher(page); at.find(); pieces++) {
                double[] line = numbers(at.group(1));
                double[] which = numbers(at.group(2));
                double[] signs = numbers(at.group(3));
                double current = 0;
                for (int k = 0; k < which.length; k++) {
                    current += signs[k] * ports.get((int) which[k]).values()[instant];
                }
                sums.merge(line[0] + " " + line[1], -current, Double::sum);
                sums.merge(line[2] + " " + line[3], current, Double::sum);
            }
            double limit = 1e-11 * largest;
            assertThat(sums)
                    .allSatisfy((point, sum) -> assertThat(sum).as(point).isCloseTo(0, within(limit)));
        }
        assertThat(pieces).isGreaterThan(100 * ports.size());
    }

    @Test
    void theNumbersAreThoseOfTheWaveforms() {
        ConverterSteadyState steady = stage("light buck").steadyState();
        String page = page(steady);
        Matcher found = TIMES.matcher(page);
        assertThat(found.find()).isTrue();
        double[] times = numbers(found.group(1));
        assertThat(times[times.length - 1]).isEqualTo(steady.period());
        var current = steady.of(steady.converter().driven().current("L1"));
        Read inductor = ports(page).stream()
                .filter(port -> port.name().equals("L1"))
                .findFirst()
                .orElseThrow();
        for (int k = 0; k + 1 < times.length; k++) {
            assertThat(inductor.values()[k]).isCloseTo(current.at(times[k]), within(1e-12));
        }
        // the switch carries until it opens, and not from then on
        Read transistor = ports(page).stream()
                .filter(port -> port.name().equals("Q1"))
                .findFirst()
                .orElseThrow();
        int opens = 0;
        while (times[opens] < steady.onTime()) {
            opens++;
        }
        assertThat(times[opens + 1]).isEqualTo(times[opens]);
        assertThat(transistor.values()[opens]).isCloseTo(current.maximum(), within(1e-9));
        assertThat(transistor.values()[opens + 1]).isZero();
    }

    @Test
    void aPageWithoutScriptsOrOnPaperHasThePicturesAlone() {
        String page = page(stage("boost").steadyState());
        assertThat(page).contains("<figure class=\"flow\" hidden>", "  nav, .tools, .flow, ");
    }
}
