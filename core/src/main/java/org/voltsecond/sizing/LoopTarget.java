package org.voltsecond.sizing;

import java.util.ArrayList;
import java.util.List;

/**
 * What the loop of a voltage-mode regulator is to do.
 *
 * <pre>{@code
 * LoopTarget target = LoopTarget.of(kilo(20), 60); // crossover, Hz, and phase margin, degrees
 * LoopTarget other = target.withReference(0.8).withRamp(1.5); // V, V
 * }</pre>
 *
 * @param crossover where the loop gain is to fall through one, Hz; more than 0
 * @param phaseMargin phase of the loop gain there above -180 degrees; more than 0 and less than 90 degrees
 * @param reference V; more than 0
 * @param ramp height of the ramp that the control voltage is compared with, from 0 V, V; more than 0
 */
public record LoopTarget(double crossover, double phaseMargin, double reference, double ramp) {
    /**
     * Checks the values.
     *
     * @param crossover Hz; more than 0
     * @param phaseMargin degrees; more than 0 and less than 90
     * @param reference V; more than 0
     * @param ramp V; more than 0
     * @throws SizingException if a value is out of its range; tells all faults at once
     */
    public LoopTarget {
        List<String> faults = new ArrayList<>();
        Specification.positive(faults, "crossover", crossover, "Hz");
        if (!(phaseMargin > 0 && phaseMargin < 90)) {
            faults.add("phase margin must be more than 0 and less than 90 degrees but was " + phaseMargin
                    + "; usual are 45 to 70");
        }
        Specification.positive(faults, "reference", reference, "V");
        Specification.positive(faults, "ramp", ramp, "V");
        if (!faults.isEmpty()) {
            throw new SizingException(faults);
        }
    }

    /**
     * Returns a target with a reference and a ramp of 1 V each.
     *
     * @param crossover Hz; more than 0
     * @param phaseMargin degrees; more than 0 and less than 90
     * @return the target
     * @throws SizingException if a value is out of its range
     */
    public static LoopTarget of(double crossover, double phaseMargin) {
        return new LoopTarget(crossover, phaseMargin, 1, 1);
    }

    /**
     * Returns the target with another reference.
     *
     * @param volt V; more than 0
     * @return a new target
     * @throws SizingException if the value is out of its range
     */
    public LoopTarget withReference(double volt) {
        return new LoopTarget(crossover, phaseMargin, volt, ramp);
    }

    /**
     * Returns the target with another ramp.
     *
     * @param volt its height, V; more than 0
     * @return a new target
     * @throws SizingException if the value is out of its range
     */
    public LoopTarget withRamp(double volt) {
        return new LoopTarget(crossover, phaseMargin, reference, volt);
    }
}
