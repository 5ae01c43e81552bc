package org.voltsecond.plot.explain;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Port;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Phase;
import org.voltsecond.plot.Panel;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.plot.RowBuilder;
import org.voltsecond.plot.RowBuilder.Sketch;
import org.voltsecond.plot.TimeBand;
import org.voltsecond.plot.page.CurrentDrawing;
import org.voltsecond.plot.page.CurrentFlow;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/**
 * Where the current flows in each interval of the steady state: from one change of switches and rectifiers to the next. The currents
 * are exact means over the interval, so that those at a node add up to zero. Immutable.
 *
 * <pre>{@code
 * CurrentPaths paths = CurrentPaths.of(steady);
 * CurrentPaths.Slice on = paths.slices().get(0);
 * double through = on.currents().get("Q1"); // 2.010 A
 * double across = on.voltages().get("L1"); // 6.815 V
 * paths.picture("Logic rail: where the current flows").orElseThrow().writePng(folder.resolve("current-paths.png"));
 * }</pre>
 *
 * @param steady the steady state
 * @param slices the intervals, in order of time
 */
public record CurrentPaths(ConverterSteadyState steady, List<Slice> slices) {
    /** A shorter part of the period is a change of several devices one after the other. */
    private static final double SHORTEST = 1e-9;

    /** More rows nobody reads; the longest are drawn. */
    private static final int MOST_ROWS = 6;

    private static final int DIGITS = 3;
    private static final double WEIGHT = 0.5;

    /**
     * One interval.
     *
     * @param kind on, off or idle time of the transistors that drive the inductor
     * @param start start, s
     * @param end end, s
     * @param conducting the switches that are closed and the rectifiers that conduct
     * @param currents by the names of ports, mean over the interval, A, from the first terminal to the second
     * @param voltages by the names of inductors and windings, mean over the interval, V, of the first terminal against the second
     */
    public record Slice(
            TimeBand.Kind kind,
            double start,
            double end,
            List<String> conducting,
            Map<String, Double> currents,
            Map<String, Double> voltages) {
        /**
         * Makes list and maps unmodifiable.
         *
         * @param kind on, off or idle
         * @param start start, s
         * @param end end, s
         * @param conducting what conducts
         * @param currents by the names of ports
         * @param voltages by the names of inductors
         */
        public Slice {
            conducting = List.copyOf(conducting);
            currents = Collections.unmodifiableMap(new LinkedHashMap<>(currents));
            voltages = Collections.unmodifiableMap(new LinkedHashMap<>(voltages));
        }

        double duration() {
            return end - start;
        }
    }

    /**
     * Makes the list unmodifiable.
     *
     * @param steady the steady state
     * @param slices the intervals
     */
    public CurrentPaths {
        slices = List.copyOf(slices);
    }

    /** A stretch of time in which nothing switches. */
    private record Stretch(TimeBand.Kind kind, double start, double end, List<String> conducting) {}

    /**
     * Finds the currents.
     *
     * @param steady the steady state
     * @return the currents in each interval
     */
    public static CurrentPaths of(ConverterSteadyState steady) {
        DrivenCircuit driven = steady.converter().driven();
        Map<String, Waveform> currents = new LinkedHashMap<>();
        Map<String, Waveform> voltages = new LinkedHashMap<>();
        for (Port port : driven.circuit().ports()) {
            currents.put(port.name(), steady.of(driven.current(port.name())));
            if (driven.circuit().part(port.part()) instanceof Part.Inductor) {
                voltages.put(port.name(), steady.of(driven.voltageAcross(port.name())));
            }
        }
        List<Slice> slices = stretches(steady).stream()
                .filter(stretch -> stretch.end - stretch.start > SHORTEST * steady.period())
                .map(stretch -> new Slice(
                        stretch.kind,
                        stretch.start,
                        stretch.end,
                        stretch.conducting,
                        means(currents, stretch),
                        means(voltages, stretch)))
                .toList();
        return new CurrentPaths(steady, slices);
    }

    private static Map<String, Double> means(Map<String, Waveform> waveforms, Stretch during) {
        Map<String, Double> means = new LinkedHashMap<>();
        waveforms.forEach((name, waveform) ->
                means.put(name, waveform.between(during.start, during.end).mean()));
        return means;
    }

    private static List<Stretch> stretches(ConverterSteadyState steady) {
        DrivenCircuit driven = steady.converter().driven();
        List<String> devices = driven.circuit().parts().stream()
                .filter(part -> part instanceof Part.Switch || part instanceof Part.Rectifier)
                .map(Part::name)
                .toList();
        Function<Phase, TimeBand.Kind> kinds = TimeBand.kinds(steady);
        List<Stretch> stretches = new ArrayList<>();
        for (Interval interval : steady.periodic().trajectory().intervals()) {
            Phase phase = interval.phase();
            TimeBand.Kind kind = kinds.apply(phase);
            List<String> conducting = devices.stream()
                    .filter(device -> driven.conducts(phase, device))
                    .toList();
            int last = stretches.size() - 1;
            if (last >= 0
                    && stretches.get(last).kind == kind
                    && stretches.get(last).conducting.equals(conducting)) {
                stretches.set(last, new Stretch(kind, stretches.get(last).start, interval.end(), conducting));
            } else if (interval.end() > interval.start()) {
                stretches.add(new Stretch(kind, interval.start(), interval.end(), conducting));
            }
        }
        return stretches;
    }

    /**
     * Draws the schematic of each interval with its currents, beside it inductor voltage and current with the interval shaded. Of more than
     * six intervals the longest are drawn.
     *
     * @param title in bold at the top
     * @return the picture; empty if the circuit has too many parts for a schematic that can be followed
     */
    public Optional<Picture> picture(String title) {
        Circuit circuit = steady.converter().circuit();
        List<Slice> shown = slices.stream()
                .sorted(Comparator.comparingDouble(Slice::duration).reversed())
                .limit(MOST_ROWS)
                .sorted(Comparator.comparingDouble(Slice::start))
                .toList();
        RowBuilder rows = new RowBuilder(title)
                .subtitle("mean currents over each interval; bold: carries current; + and −: voltage across an inductor"
                        + (shown.size() < slices.size()
                                ? "; the " + shown.size() + " longest of " + slices.size() + " intervals"
                                : ""));
        Optional<CurrentDrawing.Plan> plan = CurrentDrawing.plan(circuit);
        if (plan.isEmpty()) {
            return Optional.empty();
        }
        for (Slice slice : shown) {
            Sketch sketch = plan.get().with(slice.currents, slice.voltages);
            var waves = Pictures.stack().bands(List.of(new TimeBand(slice.start, slice.end, slice.kind)));
            panels().forEach(waves::panel);
            rows.row(heading(slice), sketch, waves);
        }
        return Optional.of(rows.build());
    }

    /**
     * Returns the same over the whole period, instant by instant, for a page.
     *
     * @return what flows
     */
    public CurrentFlow flow() {
        DrivenCircuit driven = steady.converter().driven();
        Map<String, Waveform> currents = new LinkedHashMap<>();
        driven.circuit().ports().forEach(port -> currents.put(port.name(), steady.of(driven.current(port.name()))));
        return new CurrentFlow(
                driven.circuit(),
                slices.stream()
                        .map(slice -> new CurrentFlow.Step(
                                slice.kind.name().toLowerCase(Locale.ROOT), heading(slice), slice.start, slice.end))
                        .toList(),
                currents,
                panels().stream().map(panel -> panel.waveforms().get(0)).toList());
    }

    private List<Panel> panels() {
        DrivenCircuit driven = steady.converter().driven();
        List<Panel> panels = new ArrayList<>();
        steady.converter().roles().inductor().ifPresent(name -> {
            panels.add(Panel.of(steady.of(driven.voltageAcross(name)).named("inductor voltage, " + name)));
            panels.add(Panel.of(steady.of(driven.current(name)).named("inductor current, " + name)));
        });
        if (panels.isEmpty()) {
            panels.add(Panel.of(steady.of(steady.converter().outputVoltage())));
        }
        return panels.stream().map(panel -> panel.weighted(WEIGHT)).toList();
    }

    private static String heading(Slice slice) {
        String devices = slice.conducting.isEmpty()
                ? "nothing conducts"
                : slice.conducting.stream().collect(Collectors.joining(", "))
                        + (slice.conducting.size() == 1 ? " conducts" : " conduct");
        return slice.kind.name().toLowerCase(Locale.ROOT) + ", "
                + Quantity.format(slice.duration(), Unit.SECOND, DIGITS) + ": " + devices;
    }
}
