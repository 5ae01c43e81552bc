package org.voltsecond.design;

import org.jspecify.annotations.Nullable;
import org.voltsecond.sizing.Specification;

/**
 * What a design file asks beyond one operating point; null for what it does not ask. Immutable.
 *
 * <pre>{@code
 * boolean map = design.studies().map() != null; // true
 * boolean losses = StudyPlans.NONE.losses() != null; // false
 * }</pre>
 *
 * @param losses losses beyond conduction, and the efficiency over load
 * @param map figures over two quantities
 * @param tolerance what the tolerances of the parts do
 * @param sizing what the stage is to do, for a proposal of its parts
 */
public record StudyPlans(
        @Nullable LossPlan losses,
        @Nullable MapPlan map,
        @Nullable TolerancePlan tolerance,
        @Nullable Specification sizing) {
    /** Nothing asked for. */
    public static final StudyPlans NONE = new StudyPlans(null, null, null, null);

    /**
     * Reads the four tables.
     *
     * @param root the whole file
     * @param parts what was read so far; null if there is not enough for a design
     */
    static StudyPlans read(Section root, @Nullable Design parts) {
        boolean sound = root.faultCount() == 0;
        return new StudyPlans(
                LossPlan.Reader.read(root, parts),
                MapPlan.Reader.read(root, parts),
                TolerancePlan.Reader.read(root, sound ? parts : null),
                SizingReader.read(root, sound ? parts : null));
    }
}
