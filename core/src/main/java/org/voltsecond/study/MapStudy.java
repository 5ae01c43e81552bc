package org.voltsecond.study;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Supplier;
import java.util.stream.IntStream;
import org.voltsecond.study.MapLine.Spot;
import org.voltsecond.study.MarchingSquares.Edge;
import org.voltsecond.units.Result;

/** Works out a map: first the points, a row at a time, then the corners of the boundary of conduction. */
final class MapStudy {
    private final MapRequest plan;
    private final Axis across;
    private final Axis up;
    private final Supplier<MapSolver> solvers;

    MapStudy(MapRequest plan) {
        this.plan = plan;
        across = plan.across();
        up = plan.up();
        solvers = plan.solvers();
    }

    OperatingMap run(Execution execution) {
        List<Integer> indices = IntStream.range(0, up.size()).boxed().toList();
        List<List<Result<OperatingPoint>>> rows = Study.<Integer, List<Result<OperatingPoint>>>withOwnAsker(
                        indices, () -> {
                            MapSolver solver = solvers.get();
                            return j -> row(solver, j);
                        })
                .run(execution)
                .complete()
                .values();
        return new OperatingMap(plan, rows, boundary(rows, execution));
    }

    private List<Result<OperatingPoint>> row(MapSolver solver, int j) {
        List<Result<OperatingPoint>> row = new ArrayList<>(across.size());
        solver.begin();
        for (double value : across.values()) {
            try {
                row.add(Result.of(solver.at(value, up.values().get(j))));
            } catch (RuntimeException e) {
                row.add(Result.failed(e));
            }
        }
        return row;
    }

    private List<MapLine> boundary(List<List<Result<OperatingPoint>>> rows, Execution execution) {
        double[][] margins = new double[across.size()][up.size()];
        for (int i = 0; i < across.size(); i++) {
            for (int j = 0; j < up.size(); j++) {
                margins[i][j] = rows.get(j).get(i).map(OperatingPoint::margin).orElse(Double.NaN);
            }
        }
        MarchingSquares squares = new MarchingSquares(margins, 0);
        StudyResults<Edge, Spot> corners = Study.<Edge, Spot>withOwnAsker(squares.edges(), () -> {
                    MapSolver solver = solvers.get();
                    return edge -> corner(solver, edge, margins);
                })
                .run(execution)
                .complete();
        Map<Edge, Spot> found = new HashMap<>();
        for (int k = 0; k < corners.designs().size(); k++) {
            Edge edge = corners.designs().get(k);
            corners.results().get(k).ifExists(spot -> found.put(edge, spot));
        }
        return squares.lines(found::get);
    }

    private Spot corner(MapSolver solver, Edge edge, double[][] margins) {
        double x = across.values().get(edge.i());
        double y = up.values().get(edge.j());
        double end =
                edge.upright() ? up.values().get(edge.endJ()) : across.values().get(edge.endI());
        MapSolver.Edge span = new MapSolver.Edge(edge.upright(), edge.upright() ? x : y, edge.upright() ? y : x, end);
        double along = solver.boundary(
                span, new MapSolver.NodeMargin(margins[edge.i()][edge.j()], margins[edge.endI()][edge.endJ()]));
        return new Spot(span.across(along), span.up(along));
    }
}
