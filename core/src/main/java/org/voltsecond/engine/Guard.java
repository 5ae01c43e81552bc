package org.voltsecond.engine;

/**
 * A condition under which a configuration stays valid: its form is not negative. The instant at which it falls through
 * zero ends the interval.
 *
 * <pre>{@code
 * Guard aboveFloor = new Guard("height", AffineForm.of(new double[] {1, 0}, 0));
 * double margin = aboveFloor.form().valueAt(new double[] {1.5, -3}, 0); // 1.5
 * }</pre>
 *
 * @param name what the condition means, for error messages; for example "current of D1"
 * @param form the affine form that must not be negative
 * @param beginsAtZero whether the configuration is usually entered with the form at zero, from where it rises, since it is the end of
 *     the one before
 */
public record Guard(String name, AffineForm form, boolean beginsAtZero) {
    /**
     * A guard that is usually clear of zero when its configuration is entered.
     *
     * @param name what the condition means, for error messages
     * @param form the affine form that must not be negative
     */
    public Guard(String name, AffineForm form) {
        this(name, form, false);
    }
}
