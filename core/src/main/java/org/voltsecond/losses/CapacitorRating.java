package org.voltsecond.losses;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What the data sheet of a capacitor says of its ripple current: the rated current, by which factor more or less of it is permitted at
 * other frequencies, how hot it makes the capacitor, and how long that lives. What is not given is not a number.
 *
 * <pre>{@code
 * CapacitorRating electrolytic = CapacitorRating.of("C1", 1.2) // A RMS, at the frequency whose factor is 1
 *         .withFactors(FrequencyTable.of(120, 0.5, kilo(10), 0.9, kilo(100), 1))
 *         .withRise(5) // K at the rated current
 *         .withLife(5000, 105); // hours at 105 °C
 * }</pre>
 *
 * @param part reference designator of the capacitor
 * @param current rated ripple current, A RMS; more than 0
 * @param factors permitted current over the rated one, over the frequency
 * @param derating share of the rated current that one wants to use; more than 0, at most 1
 * @param rise of the hot spot over the ambient at the rated current, K; more than 0
 * @param seriesResistance Ω over the frequency, for the hot spot; null for that of the circuit
 * @param thermalResistance from the hot spot to the ambient, K/W; more than 0
 * @param maximum highest temperature of the hot spot, °C
 * @param hours rated life, hours; more than 0
 * @param ratedTemperature the temperature of the hot spot at which it holds, °C
 */
public record CapacitorRating(
        String part,
        double current,
        FrequencyTable factors,
        double derating,
        double rise,
        @Nullable FrequencyTable seriesResistance,
        double thermalResistance,
        double maximum,
        double hours,
        double ratedTemperature) {
    /**
     * Checks the values.
     *
     * @param part reference designator of the capacitor
     * @param current rated ripple current, A RMS
     * @param factors permitted current over the rated one, over the frequency
     * @param derating share of the rated current that one wants to use
     * @param rise of the hot spot over the ambient at the rated current, K
     * @param seriesResistance Ω over the frequency; null for that of the circuit
     * @param thermalResistance from the hot spot to the ambient, K/W
     * @param maximum highest temperature of the hot spot, °C
     * @param hours rated life, hours
     * @param ratedTemperature where it holds, °C
     * @throws IllegalArgumentException telling every fault, if a value is out of its range
     */
    public CapacitorRating {
        List<String> faults = new ArrayList<>();
        positiveOrNone(faults, "rated ripple current", current, "A");
        positiveOrNone(faults, "rise at the rated current", rise, "K");
        positiveOrNone(faults, "thermal resistance", thermalResistance, "K/W");
        positiveOrNone(faults, "rated life", hours, "hours");
        for (FrequencyTable.Point point : factors.points()) {
            positiveOrNone(faults, "factor at " + point.frequency() + " Hz", point.value(), "(plain number)");
        }
        if (!(derating > 0 && derating <= 1)) {
            faults.add("derating must be more than 0, at most 1, but was " + derating);
        }
        if (!faults.isEmpty()) {
            throw new IllegalArgumentException("rating of capacitor " + part + ": " + String.join("; ", faults));
        }
    }

    private static void positiveOrNone(List<String> faults, String what, double value, String unit) {
        if (value <= 0 || Double.isInfinite(value)) {
            faults.add(what + " must be more than 0 " + unit + " but was " + value + " " + unit);
        }
    }

    /**
     * Returns a rating that is the same at all frequencies.
     *
     * @param part reference designator of the capacitor
     * @param current rated ripple current, A RMS; more than 0; not a number if it is not known
     * @return the rating
     * @throws IllegalArgumentException if the current is out of its range
     */
    public static CapacitorRating of(String part, double current) {
        double none = Double.NaN;
        return new CapacitorRating(part, current, FrequencyTable.of(1, 1), 1, none, null, none, none, none, none);
    }

    /**
     * Says how the permitted current goes with the frequency.
     *
     * @param table permitted current over the rated one
     * @return the same with this
     */
    public CapacitorRating withFactors(FrequencyTable table) {
        return new CapacitorRating(
                part,
                current,
                table,
                derating,
                rise,
                seriesResistance,
                thermalResistance,
                maximum,
                hours,
                ratedTemperature);
    }

    /**
     * Says how much of the rated current is to be used.
     *
     * @param share more than 0, at most 1
     * @return the same with this
     * @throws IllegalArgumentException if the share is out of its range
     */
    public CapacitorRating withDerating(double share) {
        return new CapacitorRating(
                part,
                current,
                factors,
                share,
                rise,
                seriesResistance,
                thermalResistance,
                maximum,
                hours,
                ratedTemperature);
    }

    /**
     * Says how hot the rated current makes it.
     *
     * @param kelvin of the hot spot over the ambient; more than 0
     * @return the same with this
     * @throws IllegalArgumentException if the rise is out of its range
     */
    public CapacitorRating withRise(double kelvin) {
        return new CapacitorRating(
                part,
                current,
                factors,
                derating,
                kelvin,
                seriesResistance,
                thermalResistance,
                maximum,
                hours,
                ratedTemperature);
    }

    /**
     * Says how its heat leaves, and what makes it.
     *
     * @param kelvinPerWatt from the hot spot to the ambient; more than 0
     * @param ohm series resistance over the frequency
     * @return the same with this
     * @throws IllegalArgumentException if the thermal resistance is out of its range
     */
    public CapacitorRating withHeat(double kelvinPerWatt, FrequencyTable ohm) {
        return new CapacitorRating(
                part, current, factors, derating, rise, ohm, kelvinPerWatt, maximum, hours, ratedTemperature);
    }

    /**
     * Says what it stands.
     *
     * @param celsius highest temperature of the hot spot, °C
     * @return the same with this
     */
    public CapacitorRating withMaximum(double celsius) {
        return new CapacitorRating(
                part,
                current,
                factors,
                derating,
                rise,
                seriesResistance,
                thermalResistance,
                celsius,
                hours,
                ratedTemperature);
    }

    /**
     * Says how long it lives.
     *
     * @param hoursThere rated life, hours; more than 0
     * @param celsius temperature of the hot spot at which it holds, °C
     * @return the same with this
     * @throws IllegalArgumentException if the life is out of its range
     */
    public CapacitorRating withLife(double hoursThere, double celsius) {
        return new CapacitorRating(
                part,
                current,
                factors,
                derating,
                rise,
                seriesResistance,
                thermalResistance,
                maximum,
                hoursThere,
                celsius);
    }
}
