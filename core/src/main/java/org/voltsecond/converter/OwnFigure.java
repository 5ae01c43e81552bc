package org.voltsecond.converter;

import java.util.function.ToDoubleFunction;
import org.voltsecond.units.Unit;

/** A figure that a user of the library defines. */
record OwnFigure(String name, Unit unit, ToDoubleFunction<ConverterSteadyState> measure) implements Figure {
    @Override
    public double in(ConverterSteadyState steady) {
        return measure.applyAsDouble(steady);
    }
}
