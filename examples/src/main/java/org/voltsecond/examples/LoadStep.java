package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.Locale;
import java.util.OptionalDouble;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Waveform;

/** Example: what does the rail do when a processor wakes up and draws 2 A instead of 0.5 A? */
public final class LoadStep {
    private LoadStep() {}

    /**
     * Prints droop and settling time.
     *
     * @param arguments not used
     */
    public static void main(String[] arguments) {
        Converter asleep = PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(60))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .synchronousRectifier(milli(80))
                .load(Load.current(0.5))
                .drive(Drive.fixedDuty(0.45, kilo(300)));
        Converter awake = asleep.withLoad(Load.current(2));
        ConverterTransient step =
                asleep.transientFromSteadyState(milli(3), Change.at(milli(1)).load(awake.load()));
        double before = asleep.steadyState().of(asleep.outputVoltage()).mean();
        double after = awake.steadyState().of(awake.outputVoltage()).mean();
        Waveform output = step.of(asleep.outputVoltage()).between(milli(1), milli(3));
        OptionalDouble settled = output.settlingTime(after, 0.02 * after);
        System.out.printf(Locale.ROOT, "before the step %.4f V, after it %.4f V%n", before, after);
        System.out.printf(Locale.ROOT, "droop           %.1f mV%n", output.droopBelow(before) * 1e3);
        System.out.printf(Locale.ROOT, "within 2 %%      after %.1f us%n", settled.orElse(Double.NaN) * 1e6);
    }
}
