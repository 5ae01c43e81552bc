package org.voltsecond.study;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Supplier;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.StageMeasurement;
import org.voltsecond.figures.Figure;
import org.voltsecond.figures.Figures;
import org.voltsecond.figures.StageFigure;

/** What a map is to show; {@code heldOutput} is not a number where the drive stays as it is. */
record MapRequest(
        Converter converter, Axis across, Axis up, List<Figure<ConverterSteadyState>> figures, double heldOutput) {
    MapRequest {
        figures = List.copyOf(figures);
        across = across.heldAt(converter, heldOutput);
        up = up.heldAt(converter, heldOutput);
        if (!Double.isNaN(heldOutput) && converter.isRegulated()) {
            throw new IllegalArgumentException(
                    "a map that holds the output needs a converter of fixed duty cycle, whose"
                            + " duty cycle it can set, but a regulator drives " + converter
                            + "; its regulator holds the output already");
        }
    }

    boolean holdsOutput() {
        return !Double.isNaN(heldOutput);
    }

    Converter converterAt(double x, double y) {
        return across.set(up.set(converter, y), x);
    }

    /** The converter at the first place, which has loads of the kind that the axes have. */
    Converter first() {
        return converterAt(across.values().get(0), up.values().get(0));
    }

    /** Makes a solver for each thread: the quick one wherever it serves. */
    Supplier<MapSolver> solvers() {
        List<StageMeasurement> usual = new ArrayList<>();
        for (Figure<ConverterSteadyState> figure : figures) {
            usual.add((figure instanceof StageFigure own ? own : Figures.DUTY_CYCLE).measurement());
        }
        usual.add(Figures.DUTY_CYCLE.measurement());
        if (first().load().curve().isEmpty()
                && across.change() instanceof StageSetting x
                && up.change() instanceof StageSetting y
                && new SampledPoints(this, usual, x, y).isQuick()) {
            return () -> new SampledPoints(this, usual, x, y);
        }
        return () -> new EnginePoints(this);
    }
}
