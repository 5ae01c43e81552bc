package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.converter.StageMeasurement;
import org.voltsecond.converter.StageMeasurement.Measure;
import org.voltsecond.converter.StageSampler;
import org.voltsecond.converter.StageSignal;
import org.voltsecond.converter.StageValue;
import org.voltsecond.stage.Load;
import org.voltsecond.study.Study;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Example: the smallest inductor among ten thousand combinations of inductor, capacitor and switching frequency that keeps
 * ripple and peak current, each at the duty cycle that holds the output. The steady states are those of
 * {@link Converter#steadyState()}, found by a {@link StageSampler} in a small part of the time.
 */
public final class TenThousandCandidates {
    private static final List<StageValue> VARIED =
            List.of(StageValue.INDUCTANCE, StageValue.CAPACITANCE, StageValue.FREQUENCY);

    private static final List<StageMeasurement> ASKED = List.of(
            StageMeasurement.of(Measure.PEAK_TO_PEAK, StageSignal.OUTPUT_VOLTAGE),
            StageMeasurement.of(Measure.MAXIMUM, StageSignal.INDUCTOR_CURRENT));

    private record Candidate(double henry, double farad, double hertz) {}

    private TenThousandCandidates() {}

    /**
     * Prints the candidate.
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
        // 40 inductors x 25 capacitors x 10 frequencies
        List<Candidate> candidates = new ArrayList<>();
        for (double henry = micro(1); candidates.size() < 10_000; henry += micro(1)) {
            for (int farad = 4; farad <= 100; farad += 4) {
                for (int hertz = 100; hertz <= 1000; hertz += 100) {
                    candidates.add(new Candidate(henry, micro(farad), kilo(hertz)));
                }
            }
        }
        List<double[]> found = Study.<Candidate, double[]>withOwnAsker(candidates, () -> {
                    StageSampler sampler = StageSampler.holding(rail, 5, VARIED, ASKED); // one for each thread
                    return candidate -> measured(sampler, candidate);
                })
                .run()
                .values();
        for (int i = 0; i < candidates.size(); i++) {
            if (found.get(i)[0] <= milli(10) && found.get(i)[1] <= 2.6) {
                show(candidates.get(i), found.get(i));
                return;
            }
        }
    }

    private static double[] measured(StageSampler sampler, Candidate candidate) {
        double[] values = {candidate.henry, candidate.farad, candidate.hertz};
        double[] figures = new double[ASKED.size()];
        sampler.measure(values, figures);
        return figures;
    }

    private static void show(Candidate candidate, double[] figures) {
        System.out.printf(
                Locale.ROOT,
                "%s with %s at %s: ripple %s, peak current %s%n",
                Quantity.format(candidate.henry, Unit.HENRY),
                Quantity.format(candidate.farad, Unit.FARAD),
                Quantity.format(candidate.hertz, Unit.HERTZ),
                Quantity.format(figures[0], Unit.VOLT, 4),
                Quantity.format(figures[1], Unit.AMPERE, 4));
    }
}
