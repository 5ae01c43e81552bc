package org.voltsecond.design;

import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.Drive;
import org.voltsecond.control.SwitchPattern;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ErrorAmplifier;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.design.Design.LineInput;
import org.voltsecond.design.DrivePlan.FixedDuty;
import org.voltsecond.design.DrivePlan.Regulated;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.StageParts;
import org.voltsecond.stage.Topology;

/**
 * A ready-made stage with the values of its parts.
 *
 * <pre>{@code
 * StagePlan stage = design.stage().orElseThrow();
 * double henry = stage.parts().inductor().value(); // 22 µH
 * }</pre>
 *
 * @param topology the arrangement of the parts
 * @param input the source, with the ripple on it
 * @param parts the values of its parts
 */
public record StagePlan(Topology topology, LineInput input, StageParts parts) implements PowerPlan {
    /** {@return the load at the start} */
    @Override
    public Load load() {
        return parts.requiredLoad();
    }

    @Override
    public Converter drivenBy(DrivePlan drive) {
        PowerStage stage = PowerStage.of(topology).with(parts);
        if (drive instanceof Regulated regulated) {
            @Nullable ErrorAmplifier amplifier = regulated.amplifier();
            return amplifier == null
                    ? stage.drive(regulated.regulator())
                    : stage.drive(regulated.regulator(), amplifier);
        }
        if (drive instanceof FixedDuty fixed) {
            Converter converter = stage.drive(fixed.drive());
            return fixed.isApart() ? apart(converter, fixed) : converter;
        }
        throw new IllegalStateException("gates drive the switches of a custom circuit, not a " + topology + " stage");
    }

    private static Converter apart(Converter converter, FixedDuty fixed) {
        List<SwitchPattern.Leg> legs = converter.roles().pattern().legs();
        return converter.withDrives(Map.of(
                legs.get(0).switches().get(0), fixed.drive(),
                legs.get(1).switches().get(0), Drive.fixedDuty(fixed.outputLeg(), fixed.switchingFrequency())));
    }
}
