package org.voltsecond.control;

import java.util.List;
import java.util.stream.DoubleStream;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Digital control: once a period the error is sampled, and a difference equation makes the duty cycle of it,
 *
 * <pre>{@code y[n] = b0 e[n] + b1 e[n-1] + ... - a1 y[n-1] - a2 y[n-2] - ...,  d[n] = bias + y[n]}</pre>
 *
 * <p>which is held for a pulse that begins with the clock. The duty cycle is limited to 0 and the maximum; where the
 * equation looks back at its own results it finds the limited ones, so that it does not wind up; quantisation is only that
 * of the pulse, not of the results (G. F. Franklin, J. D. Powell, M. L. Workman, Digital Control of Dynamic Systems, 3rd
 * ed., 1998, from memory). Immutable; every {@code with} returns a new one.
 *
 * <pre>{@code
 * SampledControl regulator = SampledControl.of(kilo(300), 1, 0.2, 0.3, -0.295) // b0, b1: 1/V
 *         .withDenominator(-1) // an integrator
 *         .withSampling(0.8, nano(500)) // late in the period; the converter takes 500 ns
 *         .withQuantisedDutyCycle(1024)
 *         .withSoftStart(milli(1));
 * double output = stage.drive(regulator).startUp(milli(4)).finalCapacitorVoltage(); // 5.00 V
 * }</pre>
 */
public final class SampledControl extends ComposedRegulator<SampledModulator, SampledControl> {
    private SampledControl(Parts<SampledModulator> parts) {
        super(parts);
    }

    /**
     * Returns a regulator that samples on the clock and uses the result at once, without memory, bias, limit below 1 or
     * quantisation.
     *
     * @param switchingFrequency Hz; more than 0
     * @param reference V; more than 0
     * @param divider sensed voltage over output voltage; more than 0, at most 1
     * @param numerator b0, b1, ...: duty cycle per volt of the error just sampled, of the one before, and so on, 1/V
     * @return the regulator
     */
    public static SampledControl of(double switchingFrequency, double reference, double divider, double... numerator) {
        return new SampledControl(Parts.of(
                ControlLoop.of(reference, divider, Compensator.proportional(1)),
                new SampledModulator(1 / switchingFrequency, listOf(numerator), List.of(), 0, 0, 0, 1, 0)));
    }

    private static List<Double> listOf(double[] values) {
        return DoubleStream.of(values).boxed().toList();
    }

    /**
     * Returns this regulator with results of the difference equation fed back into it.
     *
     * @param denominator a1, a2, ...: by these factors earlier results are subtracted; -1 alone makes an integrator
     * @return a new regulator
     */
    public SampledControl withDenominator(double... denominator) {
        return with(modulator().withEquation(listOf(denominator), modulator().bias()));
    }

    /**
     * Returns this regulator with a duty cycle at zero error, which also holds until the first result can be used.
     *
     * @param dutyCycle finite
     * @return a new regulator
     */
    public SampledControl withBias(double dutyCycle) {
        return with(modulator().withEquation(modulator().denominator(), dutyCycle));
    }

    /**
     * Returns this regulator with another instant of sampling, and a time that the result takes. A pulse has the duty
     * cycle of the latest result that is ready on the clock edge on which it begins.
     *
     * @param instant as a fraction of the period; 0 or more, below 1
     * @param delay from the sample until its result can be used, s; 0 or more, at most 16 periods
     * @return a new regulator
     */
    public SampledControl withSampling(double instant, double delay) {
        return with(modulator().withSampling(instant, delay));
    }

    /**
     * Returns this regulator with a limit of the duty cycle.
     *
     * @param maximumDutyCycle more than 0, at most 1
     * @return a new regulator
     */
    public SampledControl withMaximumDutyCycle(double maximumDutyCycle) {
        return with(modulator().withPulses(maximumDutyCycle, modulator().steps()));
    }

    /**
     * Returns this regulator with a duty cycle that comes in whole steps, to the nearest.
     *
     * @param steps of the duty cycle in one period; 0 for no quantisation
     * @return a new regulator
     */
    public SampledControl withQuantisedDutyCycle(int steps) {
        return with(modulator().withPulses(modulator().maximumDutyCycle(), steps));
    }

    @Override
    SampledControl of(Parts<SampledModulator> others) {
        return new SampledControl(others);
    }

    @Override
    public String toString() {
        return "sampled control at " + Quantity.format(1 / clockPeriod(), Unit.HERTZ, 4);
    }
}
