package org.voltsecond.study;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.StageMeasurement;
import org.voltsecond.converter.StageSampler;
import org.voltsecond.converter.StageValue;
import org.voltsecond.figures.Figure;
import org.voltsecond.figures.StageFigure;
import org.voltsecond.numeric.RootSearch;

/** Solves stages whose axes are values that every stage has: no place needs the engine whose devices do as those before. */
final class SampledPoints implements MapSolver {
    /** The number that is searched for a root has the size of a current over its peak. */
    private static final double CLOSE_ENOUGH = 1e-15;

    /** Far from the rounding of a margin, near beside the step of a map. */
    private static final double NEAR = 1e-6;

    private final MapRequest plan;
    private final StageSampler sampler;
    private final double[] values;
    private final double[] found;
    private final Converter stage;
    private final StageSetting across;
    private final StageSetting up;

    SampledPoints(MapRequest plan, List<StageMeasurement> figures, StageSetting across, StageSetting up) {
        this.plan = plan;
        stage = plan.first();
        // where both are the same value, that across counts
        List<StageValue> varied = List.of(up.changed(stage), across.changed(stage));
        sampler = plan.holdsOutput()
                ? StageSampler.holding(stage, plan.heldOutput(), varied, figures)
                : StageSampler.of(stage, varied, figures);
        values = sampler.nominal();
        found = new double[figures.size()];
        this.across = across;
        this.up = up;
    }

    /** Whether places are likely to be solved without the engine. */
    boolean isQuick() {
        return sampler.isQuick();
    }

    @Override
    public void begin() {
        sampler.beginPath();
    }

    @Override
    public OperatingPoint at(double x, double y) {
        set(x, y);
        sampler.measure(values, found);
        double margin = sampler.margin();
        double dutyCycle = found[found.length - 1];
        return new OperatingPoint(sampler.conduction(), margin, dutyCycle, figures(dutyCycle));
    }

    /** Those that the sampler does not know take the steady state itself. */
    private List<Double> figures(double dutyCycle) {
        List<Double> figures = new ArrayList<>();
        ConverterSteadyState steady = null;
        for (Figure<ConverterSteadyState> figure : plan.figures()) {
            if (figure instanceof StageFigure) {
                figures.add(found[figures.size()]);
            } else {
                steady = steady == null ? sampler.steadyState(values, dutyCycle) : steady;
                figures.add(figure.in(steady));
            }
        }
        return figures;
    }

    private void set(double x, double y) {
        values[0] = up.changed(stage, y);
        values[1] = across.changed(stage, x);
    }

    private void set(Edge edge, double along) {
        set(edge.across(along), edge.up(along));
    }

    @Override
    public double boundary(Edge edge, NodeMargin margin) {
        try {
            double continuous = margin.atFrom() > 0 ? edge.from() : edge.to();
            set(edge, continuous);
            sampler.beginPath();
            sampler.measure(values, found);
            double root =
                    RootSearch.between(along -> smoothMargin(edge, along), edge.from(), edge.to(), 0, CLOSE_ENOUGH);
            // what was continued beyond the boundary must be what is there just before it
            set(edge, root + NEAR * (continuous - root));
            long before = sampler.leftToEngine();
            sampler.measure(values, found);
            if (sampler.leftToEngine() == before) {
                return root;
            }
        } catch (IllegalArgumentException | IllegalStateException | NoSteadyStateException e) {
            // an order of events that is not the usual one, and no sign to go by
        }
        return new EnginePoints(plan).boundary(edge, margin);
    }

    private double smoothMargin(Edge edge, double along) {
        set(edge, along);
        double margin = sampler.smoothMargin(values);
        if (Double.isNaN(margin)) {
            throw new IllegalStateException("not the usual order of events");
        }
        return margin;
    }
}
