package org.voltsecond.study;

import org.voltsecond.converter.Converter;
import org.voltsecond.converter.Load;
import org.voltsecond.converter.StageValue;

/** Sets a value that every stage has; a load takes the place of one of the other kind. */
record StageSetting(StageValue value) implements Axis.Setting {
    @Override
    public Converter set(Converter converter, double to) {
        return switch (value) {
            case INPUT_VOLTAGE -> converter.withInput(to);
            case LOAD_RESISTANCE -> converter.withLoad(Load.resistor(to));
            case LOAD_CURRENT -> converter.withLoad(Load.current(to));
            default -> value.set(converter, to);
        };
    }
}
