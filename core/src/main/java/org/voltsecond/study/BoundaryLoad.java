package org.voltsecond.study;

import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.analysis.OutputRegulation;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.DutyCycleSearch;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Result;

/**
 * The load at which the inductor current just runs dry: with less conduction is discontinuous, with more continuous. A fixed duty
 * cycle stays; a regulated output is held, as its regulator does, by the duty cycle that gives it. Each trial is an exact
 * steady state.
 *
 * <pre>{@code
 * double current = BoundaryLoad.of(rail.steadyState()).get().current(); // 232.3 mA
 * }</pre>
 *
 * @param current mean load current at the boundary, A
 * @param resistance output voltage over that current, Ω
 */
public record BoundaryLoad(double current, double resistance) {
    /** So far the load is halved or doubled: with less or more than that nobody asks. */
    private static final int MOST_HALVINGS = 14;

    /** With more intervals, as under a line ripple, each of some ten searches takes too long for one figure. */
    private static final int MOST_INTERVALS = 60;

    /** An output moves the duty cycle within these bounds. */
    private static final double LEAST_DUTY = 0.01;

    private static final double MOST_DUTY = 0.99;

    /**
     * Finds the load.
     *
     * @param steady a steady state on either side of the boundary
     * @return the load, or why there is none
     */
    public static Result<BoundaryLoad> of(ConverterSteadyState steady) {
        double margin = steady.conductionMargin();
        double output = Math.abs(steady.of(steady.converter().outputVoltage()).mean());
        double drawn = steady.of(steady.converter().loadCurrent()).mean();
        if (Double.isNaN(margin)) {
            return Result.missing("the inductor current never ends by itself");
        }
        if (!(drawn > 0 && output > 0)) {
            return Result.missing("the load draws nothing");
        }
        if (!steady.converter().driven().isClocked()
                || steady.periodic().trajectory().size() > MOST_INTERVALS) {
            return Result.missing("the steady state does not repeat with a clock");
        }
        boolean held = steady.regulation().map(OutputRegulation::inRegulation).orElse(false);
        if (steady.converter().isRegulated() && !held) {
            return Result.missing("the output is not held");
        }
        try {
            return search(steady, margin, drawn, output, held);
        } catch (NoSteadyStateException | SwitchingException e) {
            return Result.missing("there is no steady state on the way to it");
        }
    }

    private static Result<BoundaryLoad> search(
            ConverterSteadyState steady, double margin, double drawn, double output, boolean held) {
        Load load = steady.converter().load();
        ConductionBoundary.Solver solver = (current, near) -> {
            Load there = load.drawing(current, output);
            if (!held) {
                return steady.converter().withLoad(there).steadyStateNear(near == null ? steady : near);
            }
            double duty = Math.min(MOST_DUTY, Math.max(LEAST_DUTY, steady.dutyCycle()));
            Converter open = steady.converter().withDrive(Drive.fixedDuty(duty, 1 / steady.period()));
            return near == null
                    ? DutyCycleSearch.steadyStateFor(open.withLoad(there), output)
                    : DutyCycleSearch.steadyStateFor(open.withLoad(there), output, near);
        };
        @Nullable ConverterSteadyState near = null;
        double last = drawn;
        double atLast = margin;
        for (int k = 0; k < MOST_HALVINGS; k++) {
            double next = margin > 0 ? last / 2 : 2 * last;
            near = solver.at(next, near);
            double atNext = near.conductionMargin();
            if (atLast * atNext <= 0) {
                double found = margin > 0
                        ? new ConductionBoundary(solver, true).between(next, atNext, last, atLast)
                        : new ConductionBoundary(solver, true).between(last, atLast, next, atNext);
                return Result.of(told(solver.at(found, near)));
            }
            last = next;
            atLast = atNext;
        }
        return Result.missing(
                margin > 0 ? "conduction is continuous at any load" : "conduction is discontinuous at any load");
    }

    private static BoundaryLoad told(ConverterSteadyState boundary) {
        double current = boundary.of(boundary.converter().loadCurrent()).mean();
        double output =
                Math.abs(boundary.of(boundary.converter().outputVoltage()).mean());
        return new BoundaryLoad(current, output / current);
    }
}
