package org.voltsecond.converter;

import java.util.function.Function;
import org.voltsecond.waveform.Signal;

/** What can be looked at in every power stage, before there is one. */
public enum StageSignal {
    /** See {@link Converter#inductorCurrent()}. */
    INDUCTOR_CURRENT("inductor current", Converter::inductorCurrent),
    /** See {@link Converter#outputVoltage()}. */
    OUTPUT_VOLTAGE("output voltage", Converter::outputVoltage),
    /** See {@link Converter#switchNode()}. */
    SWITCH_NODE("switch node", Converter::switchNode),
    /** See {@link Converter#transistorCurrent()}. */
    TRANSISTOR_CURRENT("transistor current", Converter::transistorCurrent),
    /** See {@link Converter#rectifierCurrent()}. */
    RECTIFIER_CURRENT("rectifier current", Converter::rectifierCurrent),
    /** See {@link Converter#outputCapacitorCurrent()}. */
    CAPACITOR_CURRENT("output capacitor current", Converter::outputCapacitorCurrent),
    /** See {@link Converter#inputCurrent()}. */
    INPUT_CURRENT("input current", Converter::inputCurrent),
    /** See {@link Converter#loadCurrent()}. */
    LOAD_CURRENT("load current", Converter::loadCurrent);

    private final String words;
    private final Function<Converter, Signal> reader;

    StageSignal(String words, Function<Converter, Signal> reader) {
        this.words = words;
        this.reader = reader;
    }

    /**
     * Returns the signal of one converter.
     *
     * @param converter the converter
     * @return the signal
     */
    public Signal of(Converter converter) {
        return reader.apply(converter);
    }

    /**
     * Returns the name as the trade writes it.
     *
     * @return for example "inductor current"
     */
    @Override
    public String toString() {
        return words;
    }
}
