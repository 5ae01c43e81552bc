package org.voltsecond.plot.page;

import java.awt.geom.Line2D;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Port;
import org.voltsecond.plot.page.SchematicLayout.Terminal;
import org.voltsecond.units.JsonText;
import org.voltsecond.waveform.Side;
import org.voltsecond.waveform.Waveform;

/**
 * Where the current flows over one period, as something that moves in a page: dashes run along the lines of the schematic as fast as the
 * current is large, beside the waveforms with a cursor at the instant. The page shows it only where scripts run, and never on paper.
 *
 * <pre>{@code
 * Map<String, Waveform> currents = new LinkedHashMap<>();
 * rail.circuit().ports().forEach(port -> currents.put(port.name(), steady.of(rail.driven().current(port.name()))));
 * CurrentFlow flow = new CurrentFlow(
 *         rail.circuit(),
 *         List.of(new CurrentFlow.Step("on", "on: Q1 conducts", 0, steady.onTime())),
 *         currents,
 *         List.of(steady.of(rail.inductorCurrent())));
 * Page page = Page.titled("logic rail").heading("How it works").flow(flow);
 * }</pre>
 *
 * @param circuit the circuit
 * @param steps the intervals of the period, in order of time
 * @param currents by the names of ports, A, from the first to the second terminal
 * @param beside waveforms that are shown beside, over the same time
 */
public record CurrentFlow(Circuit circuit, List<Step> steps, Map<String, Waveform> currents, List<Waveform> beside) {
    /** Between two instants nothing bends that an eye would see. */
    private static final int SAMPLES = 96;

    /** An interval has at least so many, so that one that is short is seen as well. */
    private static final int LEAST = 6;

    /**
     * An interval.
     *
     * @param kind one word: on, off or idle
     * @param words what happens in it
     * @param start begin, s
     * @param end end, s
     */
    public record Step(String kind, String words, double start, double end) {}

    /**
     * Makes lists and map unmodifiable.
     *
     * @param circuit the circuit
     * @param steps the intervals
     * @param currents by the names of ports
     * @param beside waveforms that are shown beside
     */
    public CurrentFlow {
        steps = List.copyOf(steps);
        currents = java.util.Collections.unmodifiableMap(new LinkedHashMap<>(currents));
        beside = List.copyOf(beside);
    }

    /** An instant, seen from within the interval that it ends or begins. */
    private record Instant(double time, Side side) {}

    /** A line with the ports whose currents flow in it, and whether along it or against it. */
    private record Piece(Line2D line, Map<Integer, Integer> ports) {}

    /** Empty where the circuit has too many parts for a drawing that can be followed. */
    Optional<String> html() {
        return Schematic.svg(circuit).map(drawing -> {
            int end = drawing.lastIndexOf("</svg>");
            return "<figure class=\"flow\" hidden>\n<figcaption>Where the current flows, over one period</figcaption>\n"
                    + "<div class=\"tools\"><button type=\"button\" aria-pressed=\"false\">Play</button>"
                    + "<label>Instant <input type=\"range\" min=\"0\" max=\"1000\" value=\"0\"></label>"
                    + "<output aria-live=\"off\"></output></div>\n"
                    + Markup.scrolling("div", "class=\"wide schematic\"", "schematic with the currents")
                    + drawing.substring(0, end) + "<g class=\"carry\"></g>" + drawing.substring(end) + "</div>\n"
                    + "<div class=\"slices\"></div>\n<script class=\"flowing\" type=\"application/json\">" + json()
                    + "</script>\n</figure>\n";
        });
    }

    private String json() {
        List<Instant> instants = instants();
        List<String> names = List.copyOf(currents.keySet());
        return "{\"times\":" + numbers(instants.stream().map(Instant::time).toList()) + ",\"steps\":"
                + steps.stream().map(CurrentFlow::json).collect(array()) + ",\"ports\":"
                + names.stream().map(name -> port(name, instants)).collect(array()) + ",\"pieces\":"
                + pieces(names).stream().map(CurrentFlow::json).collect(array()) + ",\"beside\":"
                + beside.stream().map(waveform -> trace(waveform, instants)).collect(array()) + "}";
    }

    private static java.util.stream.Collector<CharSequence, ?, String> array() {
        return Collectors.joining(",", "[", "]");
    }

    private static String numbers(List<Double> values) {
        return values.stream().map(JsonText::number).collect(array());
    }

    private static String json(Step step) {
        return "{\"kind\":" + Markup.quoted(step.kind) + ",\"words\":" + Markup.quoted(step.words) + ",\"start\":"
                + JsonText.number(step.start) + ",\"end\":" + JsonText.number(step.end) + "}";
    }

    private static String trace(Waveform waveform, List<Instant> instants) {
        return "{\"name\":" + Markup.quoted(waveform.name()) + ",\"unit\":"
                + Markup.quoted(waveform.unit().symbol()) + ",\"values\":" + values(waveform, instants) + "}";
    }

    private static String values(Waveform waveform, List<Instant> instants) {
        return numbers(instants.stream()
                .map(instant -> waveform.at(instant.time, instant.side))
                .toList());
    }

    private String port(String name, List<Instant> instants) {
        Port port = portOf(name);
        Waveform waveform =
                currents.getOrDefault(name, currents.values().iterator().next());
        return "{\"name\":" + Markup.quoted(name) + ",\"plus\":" + Markup.quoted(port.plus()) + ",\"minus\":"
                + Markup.quoted(port.minus()) + ",\"values\":" + values(waveform, instants) + "}";
    }

    private Port portOf(String name) {
        return circuit.ports().stream()
                .filter(port -> port.name().equals(name))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("the circuit has no port " + name));
    }

    private List<Instant> instants() {
        double length =
                steps.stream().mapToDouble(step -> step.end - step.start).sum();
        List<Instant> instants = new ArrayList<>();
        for (Step step : steps) {
            int count = Math.max(LEAST, (int) Math.round(SAMPLES * (step.end - step.start) / length));
            for (int k = 0; k <= count; k++) {
                double time = k == count ? step.end : step.start + (step.end - step.start) * k / count;
                instants.add(new Instant(time, k == count ? Side.BEFORE : Side.AFTER));
            }
        }
        return instants;
    }

    /** Currents add up, so that what flows in a piece follows from each port alone. */
    private List<Piece> pieces(List<String> names) {
        SchematicLayout layout = SchematicLayout.of(circuit);
        Map<String, Piece> pieces = new LinkedHashMap<>();
        for (int k = 0; k < names.size(); k++) {
            int index = k;
            Port port = portOf(names.get(k));
            String symbol = SchematicItem.symbolOf(port, circuit);
            List<Terminal> ends = layout.terminals.stream()
                    .filter(terminal -> terminal.part().equals(symbol))
                    .toList();
            Map<Terminal, Double> into = new LinkedHashMap<>();
            layout.terminals.forEach(terminal -> into.put(terminal, 0.0));
            ends.forEach(terminal -> into.put(terminal, port.plus().equals(terminal.node()) ? -1.0 : 1.0));
            WireCurrents.of(layout.wires, into).each((line, current) -> {
                if (current != 0) {
                    add(pieces, line, index, (int) Math.rint(current));
                }
            });
            if (ends.size() == 2) {
                int sign = port.plus().equals(ends.get(0).node()) ? 1 : -1;
                Line2D through = new Line2D.Double(
                        ends.get(0).x(),
                        ends.get(0).y(),
                        ends.get(1).x(),
                        ends.get(1).y());
                add(pieces, through, index, sign);
            }
        }
        return List.copyOf(pieces.values());
    }

    private static void add(Map<String, Piece> pieces, Line2D line, int port, int sign) {
        pieces.computeIfAbsent(place(line), at -> new Piece(line, new LinkedHashMap<>()))
                .ports
                .put(port, sign);
    }

    private static String place(Line2D line) {
        return String.format(
                Locale.ROOT, "%.0f,%.0f,%.0f,%.0f", line.getX1(), line.getY1(), line.getX2(), line.getY2());
    }

    private static String json(Piece piece) {
        String ports = piece.ports.keySet().stream().map(String::valueOf).collect(array());
        String signs = piece.ports.values().stream().map(String::valueOf).collect(array());
        return "{\"line\":[" + place(piece.line) + "],\"ports\":" + ports + ",\"signs\":" + signs + "}";
    }
}
