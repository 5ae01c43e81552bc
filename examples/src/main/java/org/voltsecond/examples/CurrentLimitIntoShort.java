package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.Locale;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Protection;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Waveform;

/** Example: what does a cycle-by-cycle current limit do when the output is shorted, and what does hiccup add? */
public final class CurrentLimitIntoShort {
    private static final double LIMIT = 4;

    private CurrentLimitIntoShort() {}

    /**
     * Prints the current into a short circuit from 1 ms to 5 ms, and the output after its release.
     *
     * @param arguments not used
     */
    public static void main(String[] arguments) {
        Protection limit = Protection.none().withCurrentLimit(LIMIT, 100e-9);
        System.out.println("protection     highest  mean in short  output after it");
        print("current limit", limit);
        print("with hiccup  ", limit.withHiccup(8, milli(2)));
    }

    private static void print(String label, Protection protection) {
        Converter rail = PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .bodyDiode(0.8, milli(20))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5))
                .drive(VoltageMode.of(kilo(300), 1, 0.2, Compensator.type2(1500, 4557, kilo(100)))
                        .withControlLimits(0, 1)
                        .withSoftStart(milli(1))
                        .withProtection(protection));
        ConverterTransient run = rail.transientFromSteadyState(
                milli(12),
                Change.at(milli(1)).shortCircuit(milli(10)),
                Change.at(milli(5)).load(Load.resistor(2.5)));
        Waveform current = run.of(rail.inductorCurrent());
        double mean = current.between(milli(1), milli(5)).mean();
        double after = run.of(rail.outputVoltage()).at(milli(12));
        System.out.printf(Locale.ROOT, "%s  %.3f A  %.3f A        %.2f V%n", label, current.maximum(), mean, after);
    }
}
