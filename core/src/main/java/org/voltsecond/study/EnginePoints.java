package org.voltsecond.study;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.DutyCycleSearch;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.figures.Figure;

/** Solves any converter by the engine; each search starts from the steady state found last. */
final class EnginePoints implements MapSolver {
    private final MapRequest plan;
    private final List<Figure<ConverterSteadyState>> figures;
    private final @Nullable ConverterSteadyState guide;
    private @Nullable ConverterSteadyState before;

    EnginePoints(MapRequest plan) {
        this.plan = plan;
        figures = plan.figures();
        guide = plan.holdsOutput() ? null : guide(plan.converter());
    }

    /** A regulated stage is far from its steady state at rest, and with a light load takes long to come there. */
    private static @Nullable ConverterSteadyState guide(Converter converter) {
        if (!converter.isRegulated()) {
            return null;
        }
        try {
            return converter.steadyState();
        } catch (NoSteadyStateException | SwitchingException e) {
            return null;
        }
    }

    @Override
    public void begin() {
        before = guide;
    }

    @Override
    public OperatingPoint at(double across, double up) {
        ConverterSteadyState near = before;
        before = null;
        before = solve(across, up, near);
        return OperatingPoint.of(before, figures);
    }

    private ConverterSteadyState solve(double across, double up, @Nullable ConverterSteadyState near) {
        Converter here = plan.converterAt(across, up);
        if (plan.holdsOutput()) {
            return near == null
                    ? DutyCycleSearch.steadyStateFor(here, plan.heldOutput())
                    : DutyCycleSearch.steadyStateFor(here, plan.heldOutput(), near);
        }
        return near == null ? here.steadyState() : here.steadyStateNear(near);
    }

    @Override
    public double boundary(Edge edge, NodeMargin margin) {
        ConductionBoundary search = new ConductionBoundary(
                (along, near) -> solve(edge.across(along), edge.up(along), near == null ? guide : near),
                ConductionBoundary.isLoadCurrent(edge.upright() ? plan.up() : plan.across()));
        return search.between(edge.from(), margin.atFrom(), edge.to(), margin.atTo());
    }
}
