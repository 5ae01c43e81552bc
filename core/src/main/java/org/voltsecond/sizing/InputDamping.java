package org.voltsecond.sizing;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.circuit.Part;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.SourceInteraction;
import org.voltsecond.stage.StageWiring;
import org.voltsecond.units.PreferredSeries;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/**
 * A branch of resistance and capacitance in series, across the input of a stage, that damps what lies before it: chosen by formula, in
 * preferred values, and checked by a simulation of the converter that has it.
 *
 * <p>Source of the formulas: R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, 2nd ed., Kluwer 2001, sec. 10.4.1 (Rf-Cb
 * parallel damping), from memory: of all resistances that of {@link #optimalResistance} makes the peak of the impedance lowest, namely
 * {@link #lowestPeak}.
 *
 * <pre>{@code
 * double ohm = InputDamping.optimalResistance(micro(47), micro(4.7), micro(22)); // 1.780 Ω
 * double peak = InputDamping.lowestPeak(micro(47), micro(4.7), micro(22)); // 2.469 Ω
 * }</pre>
 *
 * @param capacitance of the branch, F, of the series E6
 * @param resistance of the branch, Ω, of the series E24
 * @param steady the steady state with the branch
 * @param interaction how the impedances stand to each other with the branch
 */
public record InputDamping(
        double capacitance, double resistance, ConverterSteadyState steady, SourceInteraction interaction) {
    /** More than so many times the capacitance that is damped is not proposed. A choice. */
    private static final double MOST = 50;

    /** How far about the resonance the converter's impedance is looked at first. A choice: the simulation has the last word. */
    private static final double ABOUT = 3;

    /**
     * Returns the resistance of the branch that makes the peak of the impedance lowest.
     *
     * @param inductance of the filter, H
     * @param capacitance of the filter, F
     * @param branch capacitance of the branch, F
     * @return R0 sqrt((2 + n)(4 + 3 n) / (2 n^2 (4 + n))), with R0 = sqrt(L / C) and n the ratio of the capacitances, Ω
     */
    public static double optimalResistance(double inductance, double capacitance, double branch) {
        double n = branch / capacitance;
        return Math.sqrt(inductance / capacitance * (2 + n) * (4 + 3 * n) / (2 * n * n * (4 + n)));
    }

    /**
     * Returns the peak of the filter's output impedance with the best resistance.
     *
     * @param inductance of the filter, H
     * @param capacitance of the filter, F
     * @param branch capacitance of the branch, F
     * @return R0 sqrt(2 (2 + n)) / n, Ω
     */
    public static double lowestPeak(double inductance, double capacitance, double branch) {
        double n = branch / capacitance;
        return Math.sqrt(inductance / capacitance * 2 * (2 + n)) / n;
    }

    /** The ratio n at which the lowest peak is a given multiple of R0: the formula solved for n. */
    private static double ratioFor(double multiple) {
        double square = multiple * multiple;
        return (1 + Math.sqrt(1 + 4 * square)) / square;
    }

    /**
     * Proposes a branch, in place of one that is there.
     *
     * @param steady a steady state of the converter without it
     * @param found its impedances
     * @return the smallest branch of those tried with which the separations are met and the converter is stable, or why there is none
     */
    public static Result<InputDamping> of(ConverterSteadyState steady, SourceInteraction found) {
        double inductance = 0;
        double capacitance = 0;
        for (Part part : found.parts()) {
            if (part instanceof Part.Inductor inductor) {
                inductance += inductor.inductance();
            } else if (part instanceof Part.Capacitor capacitor && !part.name().equals(StageWiring.DAMPING)) {
                capacitance += capacitor.capacitance();
            }
        }
        if (inductance == 0 || capacitance == 0) {
            return Result.missing(
                    "only a network with an inductance and a capacitance rings; this one does not have both");
        }
        double first =
                ratioFor(allowed(found, inductance, capacitance) / Math.sqrt(inductance / capacitance)) * capacitance;
        List<Double> branches = first < MOST * capacitance
                ? PreferredSeries.E6.between(
                        PreferredSeries.E6.atLeast(first), PreferredSeries.E6.atLeast(MOST * capacitance))
                : List.of();
        for (double branch : branches) {
            double ohm = PreferredSeries.E24.nearest(optimalResistance(inductance, capacitance, branch));
            Optional<InputDamping> tried = tried(steady, found, branch, ohm);
            if (tried.isPresent()) {
                return Result.of(tried.get());
            }
        }
        return Result.missing(
                "no branch of up to " + (int) MOST + " times the " + Quantity.brief(capacitance, Unit.FARAD)
                        + " that ring with the " + Quantity.brief(inductance, Unit.HENRY)
                        + " is enough; less inductance or more capacitance lowers the impedance");
    }

    private static double allowed(SourceInteraction found, double inductance, double capacitance) {
        double resonance = 1 / (2 * Math.PI * Math.sqrt(inductance * capacitance));
        double least = Double.POSITIVE_INFINITY;
        for (FrequencyResponse input : Stream.concat(Stream.of(found.openLoop()), found.closedLoop().stream())
                .toList()) {
            double nearest = Double.POSITIVE_INFINITY;
            for (int i = 0; i < input.size(); i++) {
                double apart = Math.abs(Math.log(input.frequency(i) / resonance));
                boolean about = apart < Math.log(ABOUT);
                least = about ? Math.min(least, input.magnitude(i)) : least;
                nearest = Math.min(nearest, apart);
            }
            // a resonance outside the frequencies asked for is looked at on its own
            least = nearest < Math.log(ABOUT)
                    ? least
                    : Math.min(least, input.at(resonance).magnitude());
        }
        return least * Math.pow(10, -SourceInteraction.LEAST_SEPARATION / 20);
    }

    private static Optional<InputDamping> tried(
            ConverterSteadyState steady, SourceInteraction found, double branch, double ohm) {
        try {
            ConverterSteadyState damped = steady.converter()
                    .withAcrossInput(StageWiring.DAMPING, branch, ohm)
                    .steadyState();
            Result<SourceInteraction> after =
                    SourceInteraction.of(damped, found.sourceImpedance().frequencies());
            return after.exists() && after.get().isMet() && damped.periodic().isStable()
                    ? Optional.of(new InputDamping(branch, ohm, damped, after.get()))
                    : Optional.empty();
        } catch (NoSteadyStateException e) {
            return Optional.empty(); // a larger branch may have one
        }
    }

    @Override
    public String toString() {
        return Quantity.format(capacitance, Unit.FARAD, 3) + " in series with "
                + Quantity.format(resistance, Unit.OHM, 3);
    }
}
