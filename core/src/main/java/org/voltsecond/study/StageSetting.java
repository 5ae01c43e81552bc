package org.voltsecond.study;

import org.voltsecond.converter.Converter;
import org.voltsecond.converter.StageValue;
import org.voltsecond.stage.Load;

/**
 * Sets a value that every stage has. A load resistance takes the place of a sink; a load current keeps the kind of load, and
 * of a resistor is what it draws at an output voltage: {@code outputVoltage}, V, its magnitude, or that of the converter
 * itself where this is not a number.
 */
record StageSetting(StageValue value, double outputVoltage) implements Axis.Setting {
    StageSetting(StageValue value) {
        this(value, Double.NaN);
    }

    @Override
    public Converter set(Converter converter, double to) {
        if (value.equals(StageValue.LOAD_RESISTANCE)) {
            return converter.withLoad(Load.resistor(to));
        }
        return value.equals(StageValue.LOAD_CURRENT)
                ? converter.withLoad(drawing(converter, to))
                : value.set(converter, to);
    }

    /** What changes in a stage that has the kind of load that this setting gives: a resistor draws its current. */
    StageValue changed(Converter stage) {
        return drawsByResistor(stage) ? StageValue.LOAD_RESISTANCE : value;
    }

    /** What that value then is. */
    double changed(Converter stage, double to) {
        return drawsByResistor(stage) ? drawing(stage, to).resistance() : to;
    }

    private boolean drawsByResistor(Converter converter) {
        return value.equals(StageValue.LOAD_CURRENT) && !converter.load().isConstantCurrent();
    }

    private Load drawing(Converter converter, double ampere) {
        if (converter.load().isConstantCurrent()) {
            return Load.current(ampere);
        }
        StageSetting settled = heldAt(converter, outputVoltage);
        return converter.load().drawing(ampere, settled.outputVoltage);
    }

    /** With the output at which a resistor draws its current: the one that is held, else that of a converter as it is. */
    StageSetting heldAt(Converter converter, double held) {
        if (!drawsByResistor(converter)) {
            return this;
        }
        return new StageSetting(
                value,
                held > 0
                        ? held
                        : Math.abs(converter
                                .steadyState()
                                .of(converter.outputVoltage())
                                .mean()));
    }
}
