package org.voltsecond.study;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.study.MapLine.Spot;
import org.voltsecond.study.MarchingSquares.Edge;

/** Works out a map: first the points, a row at a time, then the corners of the boundary of conduction. */
final class MapStudy {
    private final Converter converter;
    private final Axis across;
    private final Axis up;
    private final List<Figure> figures;

    MapStudy(Converter converter, Axis across, Axis up, List<Figure> figures) {
        this.converter = converter;
        this.across = across;
        this.up = up;
        this.figures = List.copyOf(figures);
    }

    OperatingMap run(Execution execution) {
        List<Integer> indices = IntStream.range(0, up.size()).boxed().toList();
        List<List<Outcome<OperatingPoint>>> rows =
                Study.of(indices, this::row).run(execution).complete().values();
        List<MapLine> boundary = boundary(rows, execution);
        return new OperatingMap(converter, across, up, figures, rows, boundary);
    }

    private List<Outcome<OperatingPoint>> row(int j) {
        List<Outcome<OperatingPoint>> row = new ArrayList<>();
        ConverterSteadyState before = null;
        for (double value : across.values()) {
            try {
                before = solve(value, up.values().get(j), before);
                row.add(new Outcome.Found<>(OperatingPoint.of(before, figures)));
            } catch (RuntimeException e) {
                before = null;
                row.add(new Outcome.Failed<>(e));
            }
        }
        return row;
    }

    private ConverterSteadyState solve(double x, double y, @Nullable ConverterSteadyState near) {
        Converter here = across.set(up.set(converter, y), x);
        return near == null ? here.steadyState() : here.steadyStateNear(near);
    }

    private List<MapLine> boundary(List<List<Outcome<OperatingPoint>>> rows, Execution execution) {
        double[][] margins = new double[across.size()][up.size()];
        for (int i = 0; i < across.size(); i++) {
            for (int j = 0; j < up.size(); j++) {
                margins[i][j] =
                        rows.get(j).get(i).value().map(OperatingPoint::margin).orElse(Double.NaN);
            }
        }
        MarchingSquares squares = new MarchingSquares(margins, 0);
        StudyResults<Edge, Spot> corners = Study.of(squares.edges(), (Edge edge) -> corner(edge, margins))
                .run(execution)
                .complete();
        Map<Edge, Spot> found = new HashMap<>();
        for (int k = 0; k < corners.designs().size(); k++) {
            Edge edge = corners.designs().get(k);
            corners.outcomes().get(k).value().ifPresent(spot -> found.put(edge, spot));
        }
        return squares.lines(found::get);
    }

    private Spot corner(Edge edge, double[][] margins) {
        double x = across.values().get(edge.i());
        double y = up.values().get(edge.j());
        double end =
                edge.upright() ? up.values().get(edge.endJ()) : across.values().get(edge.endI());
        ConductionBoundary search =
                new ConductionBoundary((value, near) -> edge.upright() ? solve(x, value, near) : solve(value, y, near));
        double value = search.between(
                edge.upright() ? y : x, margins[edge.i()][edge.j()], end, margins[edge.endI()][edge.endJ()]);
        return edge.upright() ? new Spot(x, value) : new Spot(value, y);
    }
}
