package org.voltsecond.design;

import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ErrorAmplifier;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.design.Design.LineInput;
import org.voltsecond.design.Design.RectifierPart;
import org.voltsecond.design.Design.SeriesPart;
import org.voltsecond.design.Design.TransistorPart;
import org.voltsecond.design.DrivePlan.FixedDuty;
import org.voltsecond.design.DrivePlan.Regulated;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;

/**
 * The parts of a ready-made stage.
 *
 * <pre>{@code
 * StagePlan stage = design.stage().orElseThrow();
 * double henry = stage.inductor().value(); // 22 µH
 * }</pre>
 *
 * @param topology the arrangement of the parts
 * @param input the source, with the ripple on it
 * @param inductor the inductor
 * @param outputCapacitor the output capacitor with its ESR
 * @param transistor the transistor
 * @param rectifier the rectifier
 * @param load the load at the start
 */
public record StagePlan(
        Topology topology,
        LineInput input,
        SeriesPart inductor,
        SeriesPart outputCapacitor,
        TransistorPart transistor,
        RectifierPart rectifier,
        Load load)
        implements PowerPlan {
    @Override
    public Converter drivenBy(DrivePlan drive) {
        PowerStage stage = parts();
        if (drive instanceof Regulated regulated) {
            @Nullable ErrorAmplifier amplifier = regulated.amplifier();
            return amplifier == null
                    ? stage.drive(regulated.regulator())
                    : stage.drive(regulated.regulator(), amplifier);
        }
        if (drive instanceof FixedDuty fixed) {
            return stage.drive(fixed.drive());
        }
        throw new IllegalStateException(
                "gates drive the switches of a circuit of one's own, not a " + topology + " stage");
    }

    private PowerStage parts() {
        PowerStage stage = PowerStage.of(topology)
                .input(input.voltage())
                .inputRipple(input.ripple().amplitude(), input.ripple().frequency())
                .inductor(inductor.value(), inductor.resistance())
                .outputCapacitor(outputCapacitor.value(), outputCapacitor.resistance())
                .transistor(transistor.onResistance(), transistor.forwardDrop())
                .load(load);
        RectifierPart body = transistor.bodyDiode();
        return rectified(body == null ? stage : stage.bodyDiode(body.forwardDrop(), body.resistance()));
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
