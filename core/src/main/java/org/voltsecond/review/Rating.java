package org.voltsecond.review;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.Function;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.figures.LimitCheck;
import org.voltsecond.figures.Occasions;
import org.voltsecond.figures.Restriction;
import org.voltsecond.losses.HeatBalance;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;

/**
 * What a part stands, as its data sheet says, and the share of it that is to be used. Immutable.
 *
 * <pre>{@code
 * Rating voltage = Rating.of("transistor", Rating.Measure.VOLTAGE, 30, "Q1").derated(0.8);
 * double allowed = voltage.allowed(); // 24 V
 * StressCheck check = voltage.check(Occasions.of(steady));
 * boolean met = check.isMet(); // true
 * }</pre>
 *
 * @param name the part, or what the parts do
 * @param measure what is rated
 * @param parts reference designators of the parts, of which each has this rating; "part.winding" of one of several windings
 * @param value as the data sheet gives it, in the unit of the measure; more than 0
 * @param derating the share of it that is to be used; more than 0 and at most 1
 */
public record Rating(String name, Measure measure, List<String> parts, double value, double derating)
        implements Restriction {
    /** What is rated of a part. */
    public enum Measure {
        /** The largest magnitude of the voltage across it. */
        VOLTAGE(Unit.VOLT, "voltage"),
        /** The largest magnitude of its current; of an inductor where it saturates. */
        CURRENT(Unit.AMPERE, "peak current"),
        /** The root of the mean square of its current once settled, which heats it; of a capacitor its ripple current. */
        RMS(Unit.AMPERE, "RMS current"),
        /** The magnitude of the mean of its current once settled. */
        MEAN(Unit.AMPERE, "mean current"),
        /** Its temperature once settled, by the thermal model. */
        TEMPERATURE(Unit.CELSIUS, "temperature");

        private final Unit unit;
        private final String words;

        Measure(Unit unit, String words) {
            this.unit = unit;
            this.words = words;
        }

        /** {@return the unit of its values} */
        public Unit unit() {
            return unit;
        }

        /** {@return its key in design files} */
        public String key() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    /**
     * Checks the values.
     *
     * @param name the part, or what the parts do
     * @param measure what is rated
     * @param parts reference designators of the parts
     * @param value as the data sheet gives it, in the unit of the measure; more than 0
     * @param derating the share of it that is to be used; more than 0 and at most 1
     * @throws IllegalArgumentException if a value is out of its range, or there is no part
     */
    public Rating {
        parts = List.copyOf(parts);
        if (parts.isEmpty() || !(value > 0 && value < Double.POSITIVE_INFINITY && derating > 0 && derating <= 1)) {
            throw new IllegalArgumentException("rating of " + name + ": needs a part, a value of more than 0 "
                    + measure.unit.symbol() + " and a derating of more than 0 and at most 1 but was " + value + " "
                    + measure.unit.symbol() + " and " + derating + " of " + parts);
        }
    }

    /**
     * Returns a rating that may be used in full.
     *
     * @param name the part, or what the parts do, for example "transistor"
     * @param measure what is rated
     * @param value as the data sheet gives it, in the unit of the measure; more than 0
     * @param parts reference designators of the parts
     * @return the rating
     * @throws IllegalArgumentException if a value is out of its range, or there is no part
     */
    public static Rating of(String name, Measure measure, double value, String... parts) {
        return new Rating(name, measure, List.of(parts), value, 1);
    }

    /**
     * Returns the same rating, of which a share is to be used.
     *
     * @param share more than 0 and at most 1
     * @return the rating
     * @throws IllegalArgumentException if the share is out of its range
     */
    public Rating derated(double share) {
        return new Rating(name, measure, parts, value, share);
    }

    /** {@return rating times derating, in the unit of the measure} */
    public double allowed() {
        return value * derating;
    }

    @Override
    public String key() {
        return name + "." + measure.key();
    }

    @Override
    public boolean isLeast() {
        return false;
    }

    @Override
    public Unit unit() {
        return measure.unit;
    }

    /**
     * Holds each part against it. Without a thermal model no temperature can be.
     *
     * @param occasions all that is looked at
     * @return the worst value of all parts, and where it is
     */
    public StressCheck check(Occasions occasions) {
        return check(occasions, steady -> Result.missing("no thermal resistance is given"));
    }

    /**
     * Holds each part against it.
     *
     * @param occasions all that is looked at
     * @param balance the temperatures of a steady state, or why there are none
     * @return the worst value of all parts, and where it is
     */
    public StressCheck check(Occasions occasions, Function<ConverterSteadyState, Result<HeatBalance>> balance) {
        Map.Entry<String, Occasions.Found> worst = null;
        for (String part : parts) {
            Occasions.Found found =
                    Occasions.worst(found(part, occasions, balance), false).orElse(null);
            if (found != null && (worst == null || height(found) > height(worst.getValue()))) {
                worst = Map.entry(part, found);
            }
        }
        return worst == null
                ? new StressCheck(
                        this,
                        parts.get(0),
                        new LimitCheck(this, allowed(), Result.missing("there is no steady state"), ""))
                : new StressCheck(
                        this,
                        worst.getKey(),
                        new LimitCheck(
                                this,
                                allowed(),
                                worst.getValue().value(),
                                worst.getValue().where()));
    }

    private static double height(Occasions.Found found) {
        return found.value().orElse(Double.POSITIVE_INFINITY);
    }

    private List<Occasions.Found> found(
            String part, Occasions occasions, Function<ConverterSteadyState, Result<HeatBalance>> balance) {
        return switch (measure) {
            case VOLTAGE -> occasions.peaks(converter -> converter.driven().voltageAcross(part));
            case CURRENT -> occasions.peaks(converter -> current(converter, part));
            case RMS -> occasions.settled(converter -> current(converter, part), Waveform::rms);
            case MEAN ->
                occasions.settled(converter -> current(converter, part), waveform -> Math.abs(waveform.mean()));
            case TEMPERATURE ->
                occasions.measured(steady -> balance.apply(steady).map(found -> found.temperature(whole(part))));
        };
    }

    /** The part of a winding. */
    private static String whole(String part) {
        return part.replaceFirst("[.].*", "");
    }

    /** The body diode of a switch is in the same case. */
    private static Signal current(Converter converter, String part) {
        return part.contains(".") ? converter.driven().current(part) : converter.withBodyDiode(part);
    }

    @Override
    public String toString() {
        return name.replace('_', ' ') + " " + measure.words;
    }
}
