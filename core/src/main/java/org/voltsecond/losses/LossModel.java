package org.voltsecond.losses;

import org.voltsecond.converter.ConverterSteadyState;

/**
 * A loss that ideal switching leaves out, estimated from its waveforms and data-sheet values. It does not act back on them:
 * the converter is the same with and without it. So it holds while the loss is small beside the power that is converted.
 *
 * <p>Models are immutable and safe for any thread.
 *
 * <pre>{@code
 * List<LossModel> models = List.of(new OverlapLoss(nano(15), nano(20)), new OutputCapacitanceLoss(pico(250)));
 * double extra = models.stream().mapToDouble(model -> model.power(steady)).sum(); // 139.2 mW
 * }</pre>
 */
public interface LossModel {
    /** {@return the part that becomes hot} */
    LossPart part();

    /** {@return what causes the loss, for a table; short} */
    String cause();

    /**
     * Works out the loss.
     *
     * @param steady a periodic steady state
     * @return the mean power over a period, W; 0 or more
     */
    double power(ConverterSteadyState steady);
}
