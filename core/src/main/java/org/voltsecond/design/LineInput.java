package org.voltsecond.design;

/**
 * The source.
 *
 * @param voltage V; more than 0
 * @param ripple the ripple on it; of amplitude 0 for none
 */
public record LineInput(double voltage, LineRipple ripple) {
    /**
     * A source without ripple.
     *
     * @param voltage V; more than 0
     * @return the source
     */
    public static LineInput of(double voltage) {
        return new LineInput(voltage, LineRipple.NONE);
    }
}
