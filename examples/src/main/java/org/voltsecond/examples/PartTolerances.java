package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.List;
import java.util.Locale;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.converter.StageValue;
import org.voltsecond.figures.Figures;
import org.voltsecond.stage.Load;
import org.voltsecond.study.Execution;
import org.voltsecond.study.Tolerance;
import org.voltsecond.study.Tolerance.Distribution;
import org.voltsecond.study.ToleranceStudy;

/** Example: what the tolerances of the parts do to output, ripple, peak current and efficiency, told in three ways. */
public final class PartTolerances {
    private PartTolerances() {}

    /**
     * Prints the table of the buoy's logic rail.
     *
     * @param arguments not used
     */
    public static void main(String[] arguments) {
        Converter rail = PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.45, kilo(300)));
        List<Tolerance> tolerances = List.of(
                Tolerance.relative(rail, StageValue.INDUCTANCE, 0.2).withDistribution(Distribution.NORMAL),
                Tolerance.relative(rail, StageValue.CAPACITANCE, 0.2),
                Tolerance.relative(rail, StageValue.ON_RESISTANCE, 0.3),
                Tolerance.relative(rail, StageValue.FORWARD_DROP, 0.15),
                Tolerance.relative(rail, StageValue.FREQUENCY, 0.05));
        System.out.print(ToleranceStudy.of(rail, tolerances, Figures.usual())
                .run(10_000, 1, Execution.standard())
                .toText());
        double ohm = rail.steadyState()
                .sensitivities()
                .of(Figures.EFFICIENCY.measurement())
                .withRespectTo(StageValue.ON_RESISTANCE);
        System.out.printf(Locale.ROOT, "each milliohm of on-resistance costs %.4f %% of efficiency%n", -ohm * 0.1);
    }
}
