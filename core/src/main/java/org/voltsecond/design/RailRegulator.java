package org.voltsecond.design;

import org.jspecify.annotations.Nullable;

/**
 * What the regulator of a rail is to do.
 *
 * @param crossover Hz; not a number for one that suits the stage
 * @param phaseMargin degrees
 * @param reference V
 * @param ramp height of the ramp, V
 * @param softStart s; not a number for one that suits the stage
 */
record RailRegulator(double crossover, double phaseMargin, double reference, double ramp, double softStart) {
    /** Null if the file does not ask for one. */
    static @Nullable RailRegulator read(Section rail) {
        Section table = rail.table("regulator");
        if (table == null) {
            return null;
        }
        RailRegulator read = new RailRegulator(
                table.quantity("crossover", Kind.CORNER, Double.NaN),
                table.quantity("phase_margin", Kind.PHASE_MARGIN, 60),
                table.quantity("reference", Kind.REFERENCE, 1),
                table.quantity("ramp", Kind.REFERENCE, 1),
                table.quantity("soft_start", Kind.SOFT_START, Double.NaN));
        table.finish();
        return read;
    }
}
