package org.voltsecond.design;

import java.util.List;
import org.voltsecond.losses.LossModel;

/**
 * Losses that the design file adds to those of conduction, and over which loads it wants the efficiency.
 *
 * @param models the losses
 * @param outputVoltage magnitude of the output voltage that is held over the loads, V; not a number for that of the design
 * @param lowestLoad A; not a number for a hundredth of the design's load
 * @param highestLoad A; not a number for the design's load
 * @param points how many loads, 2 or more
 */
public record LossPlan(
        List<LossModel> models, double outputVoltage, double lowestLoad, double highestLoad, int points) {
    /**
     * Copies the list.
     *
     * @param models the losses
     * @param outputVoltage magnitude of the output voltage that is held, V, or not a number
     * @param lowestLoad A, or not a number
     * @param highestLoad A, or not a number
     * @param points how many loads
     */
    public LossPlan {
        models = List.copyOf(models);
    }
}
