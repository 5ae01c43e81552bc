package org.voltsecond.plot.explain;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.StageValue;
import org.voltsecond.plot.Panel;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.units.Quantity;
import org.voltsecond.waveform.Waveform;

/**
 * Steady states of a converter that differ in one value, over each other: three inductances, say, three capacitors, or three
 * switching frequencies. Immutable.
 *
 * <pre>{@code
 * Family family = Family.of(rail, StageValue.INDUCTANCE, micro(10), micro(22), micro(47));
 * double widest = family.members().get(0).inductorRipple(); // 1.014 A
 * family.picture("Logic rail: three inductances").writePng(folder.resolve("three-inductances.png"));
 * }</pre>
 *
 * @param value what differs
 * @param members from the first value to the last
 */
public record Family(StageValue value, List<Member> members) {
    private static final int DIGITS = 3;

    /**
     * One steady state.
     *
     * @param at the value
     * @param steady the steady state
     */
    public record Member(double at, ConverterSteadyState steady) {
        private Waveform inductorCurrent() {
            return steady.of(steady.converter().inductorCurrent());
        }

        private Waveform outputVoltage() {
            return steady.of(steady.converter().outputVoltage());
        }

        /** {@return ripple of the inductor current from peak to peak, A} */
        public double inductorRipple() {
            return inductorCurrent().peakToPeak();
        }

        /** {@return ripple of the output voltage from peak to peak, V} */
        public double outputRipple() {
            return outputVoltage().peakToPeak();
        }
    }

    /**
     * Makes the list unmodifiable.
     *
     * @param value what differs
     * @param members from the first value to the last
     */
    public Family {
        members = List.copyOf(members);
    }

    /**
     * Finds the steady states.
     *
     * @param converter the converter
     * @param value what differs
     * @param values what it takes, from 1 to 7
     * @return the family
     * @throws IllegalArgumentException if there is no value or more than seven, which nobody tells apart
     * @throws org.voltsecond.analysis.NoSteadyStateException if one has none
     */
    public static Family of(Converter converter, StageValue value, double... values) {
        if (values.length < 1 || values.length > 7) {
            throw new IllegalArgumentException("a family has from 1 to 7 members but " + values.length
                    + " values of the " + value + " were given");
        }
        List<Member> members = new ArrayList<>();
        for (double at : values) {
            members.add(new Member(at, value.set(converter, at).steadyState()));
        }
        return new Family(value, members);
    }

    /**
     * Draws inductor current and output ripple of all members over each other.
     *
     * @param title in bold at the top
     * @return the picture
     */
    public Picture picture(String title) {
        Waveform[] currents = members.stream()
                .map(member -> member.inductorCurrent().named(words(member.at)))
                .toArray(Waveform[]::new);
        Waveform[] ripples = members.stream()
                .map(member -> member.outputVoltage().ripple().named(words(member.at)))
                .toArray(Waveform[]::new);
        return Pictures.stack()
                .title(title)
                .subtitle("steady states that differ in " + value + " alone; one period of each")
                .panel(Panel.of(currents).titled("inductor current").weighted(1.4))
                .panel(Panel.of(ripples).titled("output voltage about its mean").weighted(1.4))
                .build();
    }

    private String words(double at) {
        return Quantity.format(at, value.unit(), DIGITS);
    }

    @Override
    public String toString() {
        return "family over " + value + ": "
                + Arrays.toString(members.stream().mapToDouble(Member::at).toArray());
    }
}
