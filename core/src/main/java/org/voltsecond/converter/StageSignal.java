package org.voltsecond.converter;

import org.voltsecond.waveform.Signal;

/**
 * What can be looked at in every power stage, before there is one.
 *
 * <pre>{@code
 * for (StageSignal signal : StageSignal.values()) {
 *     System.out.println(signal + ": " + steady.of(signal.of(rail)).rms());
 * }
 * }</pre>
 */
public enum StageSignal {
    /** See {@link Converter#inductorCurrent()}. */
    INDUCTOR_CURRENT("inductor current"),
    /** See {@link Converter#outputVoltage()}. */
    OUTPUT_VOLTAGE("output voltage"),
    /** See {@link Converter#switchNode()}. */
    SWITCH_NODE("switch node"),
    /** See {@link Converter#transistorCurrent()}. */
    TRANSISTOR_CURRENT("transistor current"),
    /** See {@link Converter#rectifierCurrent()}. */
    RECTIFIER_CURRENT("rectifier current"),
    /** See {@link Converter#outputCapacitorCurrent()}. */
    CAPACITOR_CURRENT("output capacitor current"),
    /** See {@link Converter#inputCurrent()}. */
    INPUT_CURRENT("input current"),
    /** See {@link Converter#loadCurrent()}. */
    LOAD_CURRENT("load current");

    private final String words;

    StageSignal(String words) {
        this.words = words;
    }

    /**
     * Returns the signal of one converter.
     *
     * @param converter the converter
     * @return the signal
     */
    public Signal of(Converter converter) {
        return switch (this) {
            case INDUCTOR_CURRENT -> converter.inductorCurrent();
            case OUTPUT_VOLTAGE -> converter.outputVoltage();
            case SWITCH_NODE -> converter.switchNode();
            case TRANSISTOR_CURRENT -> converter.transistorCurrent();
            case RECTIFIER_CURRENT -> converter.rectifierCurrent();
            case CAPACITOR_CURRENT -> converter.outputCapacitorCurrent();
            case INPUT_CURRENT -> converter.inputCurrent();
            case LOAD_CURRENT -> converter.loadCurrent();
        };
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
