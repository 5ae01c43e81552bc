package org.voltsecond.losses;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Part;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.units.Result;

/**
 * What a capacitor carries, held against its rating.
 *
 * <p>A current of several frequencies counts as the current at the rated frequency that heats alike: the root of the sum of (I_k / m_k)²,
 * m_k being the factor that the data sheet has at the frequency of I_k. The rise goes with its square. Life doubles with every 10 K
 * less at the hot spot. All three are common practice (no source), and hold for electrolytic capacitors.
 *
 * <pre>{@code
 * CapacitorRating rating = CapacitorRating.of("C1", 0.5).withRise(10).withLife(2000, 105);
 * CapacitorStress stress = HeatModel.at(60).with(rating).balance(steady).get().capacitors().get(0);
 * double share = stress.share().get(); // 0.2654
 * double hot = stress.hotSpot().get(); // 60.70 °C
 * double hours = stress.hours().get(); // 4.310e4
 * }</pre>
 *
 * @param part reference designator
 * @param current by its frequencies
 * @param rating what it is held against; null if nothing is known
 * @param hotSpot °C, or why it is not known
 */
public record CapacitorStress(
        String part, RippleCurrent current, @Nullable CapacitorRating rating, Result<Double> hotSpot) {
    /** Kelvin by which the hot spot must be colder for twice the life; common practice, no source. */
    private static final double DOUBLING = 10;

    /** Of every capacitor of the circuit. */
    static List<CapacitorStress> of(HeatModel model, ConverterSteadyState steady, Map<String, Double> temperatures) {
        List<CapacitorStress> all = new ArrayList<>();
        for (Part part : steady.converter().circuit().parts()) {
            CapacitorRating rating = model.capacitors().stream()
                    .filter(each -> each.part().equals(part.name()))
                    .findFirst()
                    .orElse(null);
            if (part instanceof Part.Capacitor) {
                all.add(of(model, steady, temperatures, part.name(), rating));
            } else if (rating != null) {
                throw new IllegalArgumentException("rating of a capacitor: " + part.name() + " is none");
            }
        }
        return all;
    }

    private static CapacitorStress of(
            HeatModel model,
            ConverterSteadyState steady,
            Map<String, Double> temperatures,
            String part,
            @Nullable CapacitorRating rating) {
        double last = 0;
        if (rating != null) {
            FrequencyTable ohm = rating.seriesResistance();
            last = Math.max(rating.factors().last(), ohm == null ? 0 : ohm.last());
        }
        RippleCurrent current = RippleCurrent.of(steady, part, last);
        Double ofBody = temperatures.get(part);
        Result<Double> hot = ofBody != null
                ? Result.of(ofBody)
                : rating == null
                        ? Result.missing("nothing is known of its heat")
                        : hotSpot(
                                model.ambient(),
                                current,
                                rating,
                                steady.lossesByPart().getOrDefault(part, 0.0));
        return new CapacitorStress(part, current, rating, hot);
    }

    private static Result<Double> hotSpot(double ambient, RippleCurrent current, CapacitorRating rating, double loss) {
        if (rating.thermalResistance() > 0) {
            FrequencyTable ohm = rating.seriesResistance();
            double heat = ohm == null ? loss : current.weighted(ohm::at);
            return Result.of(ambient + rating.thermalResistance() * heat);
        }
        if (rating.rise() > 0 && rating.current() > 0) {
            double share = equivalent(current, rating) / rating.current();
            return Result.of(ambient + rating.rise() * share * share);
        }
        return Result.missing("neither a thermal resistance nor the rise at the rated current is known");
    }

    private static double equivalent(RippleCurrent current, CapacitorRating rating) {
        return Math.sqrt(current.weighted(frequency -> {
            double factor = rating.factors().at(frequency);
            return 1 / (factor * factor);
        }));
    }

    /** {@return the current at the rated frequency that heats alike, A RMS, or why it is not known} */
    public Result<Double> equivalent() {
        return rating == null || !(rating.current() > 0)
                ? Result.missing("no rated ripple current is given")
                : Result.of(equivalent(current, rating));
    }

    /** {@return the equivalent current over what the rating permits after derating; met up to 1} */
    public Result<Double> share() {
        return equivalent().map(found -> found / (Objects.requireNonNull(rating).current() * rating.derating()));
    }

    /** {@return the life to be expected at the hot spot, hours, or why it is not known} */
    public Result<Double> hours() {
        return rating == null || !(rating.hours() > 0) || Double.isNaN(rating.ratedTemperature())
                ? Result.missing("no rated life is given")
                : hotSpot.map(hot -> rating.hours() * StrictMath.pow(2, (rating.ratedTemperature() - hot) / DOUBLING));
    }
}
