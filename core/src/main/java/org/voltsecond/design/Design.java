package org.voltsecond.design;

import java.util.Collections;
import java.util.Map;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.Load;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.converter.Topology;

/**
 * What a design file says, in SI units. Immutable.
 *
 * @param name what the user calls it; any text
 * @param topology the arrangement of the parts
 * @param input the source, with the ripple on it
 * @param inductor the inductor
 * @param outputCapacitor the output capacitor with its ESR
 * @param transistor the transistor
 * @param rectifier the rectifier
 * @param load the load at the start
 * @param drive what drives the transistor
 * @param transientPlan the transient, or null if none is asked for
 * @param frequencyPlan the frequency response, or null if none is asked for
 * @param limits what it is held to; empty for nothing
 * @param bench a capture to compare with, or null if there is none
 * @param studies what it asks beyond one operating point
 */
public record Design(
        String name,
        Topology topology,
        LineInput input,
        SeriesPart inductor,
        SeriesPart outputCapacitor,
        TransistorPart transistor,
        RectifierPart rectifier,
        Load load,
        DrivePlan drive,
        @Nullable TransientPlan transientPlan,
        @Nullable FrequencyPlan frequencyPlan,
        Map<Limit, Double> limits,
        @Nullable BenchPlan bench,
        StudyPlans studies) {
    /**
     * Copies the limits, in the order of their kinds.
     *
     * @param name what the user calls it; any text
     * @param topology the arrangement of the parts
     * @param input the source, with the ripple on it
     * @param inductor the inductor
     * @param outputCapacitor the output capacitor with its ESR
     * @param transistor the transistor
     * @param rectifier the rectifier
     * @param load the load at the start
     * @param drive what drives the transistor
     * @param transientPlan the transient, or null if none is asked for
     * @param frequencyPlan the frequency response, or null if none is asked for
     * @param limits what it is held to; empty for nothing
     * @param bench a capture to compare with, or null if there is none
     * @param studies what it asks beyond one operating point
     */
    public Design {
        limits = Collections.unmodifiableMap(new TreeMap<>(limits));
    }

    Design withStudies(StudyPlans asked) {
        return new Design(
                name,
                topology,
                input,
                inductor,
                outputCapacitor,
                transistor,
                rectifier,
                load,
                drive,
                transientPlan,
                frequencyPlan,
                limits,
                bench,
                asked);
    }

    /**
     * Returns the input voltage.
     *
     * @return V, without the ripple on it
     */
    public double inputVoltage() {
        return input.voltage();
    }

    /**
     * Puts the converter together.
     *
     * @return the converter
     */
    public Converter converter() {
        PowerStage stage = PowerStage.of(topology)
                .input(input.voltage())
                .inputRipple(input.ripple().amplitude(), input.ripple().frequency())
                .inductor(inductor.value(), inductor.resistance())
                .outputCapacitor(outputCapacitor.value(), outputCapacitor.resistance())
                .transistor(transistor.onResistance())
                .load(load);
        RectifierPart body = transistor.bodyDiode();
        stage = body == null ? stage : stage.bodyDiode(body.forwardDrop(), body.resistance());
        PowerStage rectified = rectified(stage);
        return drive.drive(rectified);
    }

    private PowerStage rectified(PowerStage stage) {
        if (!rectifier.synchronous()) {
            return stage.rectifier(rectifier.forwardDrop(), rectifier.resistance());
        }
        RectifierPart body = rectifier.bodyDiode();
        return body == null
                ? stage.synchronousRectifier(rectifier.resistance())
                : stage.synchronousRectifier(rectifier.resistance(), body.forwardDrop(), body.resistance());
    }
}
