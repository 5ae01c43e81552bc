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
        return switch (value) {
            case INPUT_VOLTAGE -> converter.withInput(to);
            case LOAD_RESISTANCE -> converter.withLoad(Load.resistor(to));
            case LOAD_CURRENT -> converter.withLoad(drawing(converter, to));
            default -> value.set(converter, to);
        };
    }

    /** The same among the values of a sampler, whose stage has the kind of load that this setting gives. */
    void put(double to, Converter stage, double[] values) {
        if (value == StageValue.LOAD_CURRENT && !stage.load().isConstantCurrent()) {
            values[StageValue.LOAD_RESISTANCE.index()] = drawing(stage, to).resistance();
        } else {
            values[value.index()] = to;
        }
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
        if (value != StageValue.LOAD_CURRENT || converter.load().isConstantCurrent()) {
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
