package org.voltsecond.design;

import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.voltsecond.converter.Converter;
import org.voltsecond.figures.Limit;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * What a design file says, in SI units. Immutable.
 *
 * <pre>{@code
 * Converter converter = design.converter();
 * double output =
 *         converter.steadyState().of(converter.outputVoltage()).mean(); // 5.025 V
 * }</pre>
 *
 * @param name what the user calls it; any text
 * @param power the power parts: a ready-made stage, or a custom circuit
 * @param drive what drives the switches
 * @param transientPlan the transient, or null if none is asked for
 * @param frequencyPlan the frequency response, or null if none is asked for
 * @param limits what it is held to; empty for nothing
 * @param bench a capture to compare with, or null if there is none
 * @param studies what it asks beyond one operating point
 * @param notes what the reader is to know of what was made of the file, such as how near segments are to a curve
 */
public record Design(
        String name,
        PowerPlan power,
        DrivePlan drive,
        @Nullable TransientPlan transientPlan,
        @Nullable FrequencyPlan frequencyPlan,
        Map<Limit, Double> limits,
        @Nullable BenchPlan bench,
        StudyPlans studies,
        List<String> notes) {
    /**
     * Copies the limits, in the order of their kinds.
     *
     * @param name what the user calls it; any text
     * @param power the power parts: a ready-made stage, or a custom circuit
     * @param drive what drives the switches
     * @param transientPlan the transient, or null if none is asked for
     * @param frequencyPlan the frequency response, or null if none is asked for
     * @param limits what it is held to; empty for nothing
     * @param bench a capture to compare with, or null if there is none
     * @param studies what it asks beyond one operating point
     * @param notes what the reader is to know of what was made of the file
     */
    public Design {
        limits = Collections.unmodifiableMap(new TreeMap<>(limits));
        notes = List.copyOf(notes);
    }

    Design withStudies(StudyPlans asked) {
        return new Design(name, power, drive, transientPlan, frequencyPlan, limits, bench, asked, notes);
    }

    /** {@return the source, with the ripple on it} */
    public LineInput input() {
        return power.input();
    }

    /** {@return the load at the start} */
    public Load load() {
        return power.load();
    }

    /** {@return the ready-made stage; empty for a custom circuit} */
    public Optional<StagePlan> stage() {
        return power instanceof StagePlan stage ? Optional.of(stage) : Optional.empty();
    }

    /**
     * Returns the input voltage.
     *
     * @return V, without the ripple on it
     */
    public double inputVoltage() {
        return input().voltage();
    }

    /**
     * Puts the converter together.
     *
     * @return the converter
     */
    public Converter converter() {
        return power.drivenBy(drive);
    }

    /**
     * The source.
     *
     * @param voltage V; more than 0
     * @param ripple the ripple on it; of amplitude 0 for none
     */
    public record LineInput(double voltage, LineRipple ripple) {
        /**
         * A source without ripple.
         *
         * @param voltage V; more than 0
         * @return the source
         */
        public static LineInput of(double voltage) {
            return new LineInput(voltage, LineRipple.NONE);
        }
    }

    /**
     * A sine on top of the input voltage.
     *
     * @param amplitude from the middle to the crest, V; 0 or more, 0 for none
     * @param frequency Hz; more than 0
     */
    public record LineRipple(double amplitude, double frequency) {
        /** No ripple. */
        static final LineRipple NONE = new LineRipple(0, 1);

        /** Reads the key ripple of an input; null if it is not there, or after a fault. */
        static @Nullable LineRipple read(Section input) {
            Section table = input.table("ripple");
            if (table == null) {
                return null;
            }
            double amplitude = table.quantity("amplitude");
            double frequency = table.quantity("frequency");
            table.finish();
            boolean valid = Double.isFinite(amplitude) && Double.isFinite(frequency);
            return valid ? new LineRipple(amplitude, frequency) : null;
        }

        /** Tells of a ripple that would take the input to 0 V or below. */
        void check(Section input, double voltage) {
            if (amplitude >= voltage) {
                input.fault(
                        "ripple",
                        "its amplitude of " + Quantity.brief(amplitude, Unit.VOLT) + " takes the input of "
                                + Quantity.brief(voltage, Unit.VOLT)
                                + " to 0 V or below; valid: less than the voltage");
            }
        }
    }
}
