package org.voltsecond.plot.explain;

import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import org.voltsecond.circuit.Part;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.figures.PulseFigures;
import org.voltsecond.plot.Panel;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.plot.StackBuilder;
import org.voltsecond.plot.TimeBand;
import org.voltsecond.stage.Roles;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.SignedArea;
import org.voltsecond.waveform.Waveform;

/**
 * What a part takes up and hands on in one period of the steady state: the volt-seconds of an inductor, the charge of a capacitor,
 * the energy of an inductor. Both are equal, or it would not be a steady state. The areas are exact integrals of the waveform
 * between its zeros.
 *
 * <pre>{@code
 * Balance flux = Balance.voltSeconds(steady, "L1");
 * double up = flux.taken(); // 10.13 µV·s
 * double down = flux.given(); // 10.13 µV·s
 * double charge = Balance.charge(steady, "C1").taken(); // 191.5 nC
 * Balance.picture("Balances of the logic rail", steady).writePng(folder.resolve("volt-seconds.png"));
 * }</pre>
 *
 * @param waveform what is integrated over time: the voltage of an inductor without that of its series resistance, a capacitor current, or
 *     the power into an inductor
 * @param unit the unit of the areas
 * @param areas what lies between the waveform and zero, in order of time
 */
public record Balance(Waveform waveform, Unit unit, List<SignedArea> areas) {
    /** A smaller part of what is taken up has no room for its size in the picture. */
    private static final double LEAST_LABELLED = 0.08;

    private static final int DIGITS = 4;

    /** Against the panels of other pictures: room for the numbers. */
    private static final double WEIGHT = 1.2;

    /** An inductor with less of the largest volt-seconds is a leakage or a lead, and explains nothing. */
    private static final double LEAST_SHOWN = 0.05;

    /** More panels are no longer a picture. */
    private static final int MOST_INDUCTORS = 3;

    /** Beyond this many stretches of time nobody can tell them apart. */
    private static final int MOST_BANDS = 60;

    /**
     * Makes the list unmodifiable.
     *
     * @param waveform what is integrated over time
     * @param unit the unit of the areas
     * @param areas what lies between the waveform and zero
     */
    public Balance {
        areas = List.copyOf(areas);
    }

    /**
     * Returns the volt-seconds of an inductor.
     *
     * @param steady the steady state
     * @param inductor its name; "part.winding" for one of coupled inductors
     * @return the balance, V s
     * @throws IllegalArgumentException if there is no such inductor
     */
    public static Balance voltSeconds(ConverterSteadyState steady, String inductor) {
        return of(PulseFigures.coilVoltage(steady, inductor).named("inductor voltage, " + inductor), Unit.VOLT_SECOND);
    }

    /**
     * Returns the charge that flows into a part and out of it again.
     *
     * @param steady the steady state
     * @param capacitor its name
     * @return the balance, C
     * @throws IllegalArgumentException if there is no such part
     */
    public static Balance charge(ConverterSteadyState steady, String capacitor) {
        Waveform current = steady.of(steady.converter().driven().current(capacitor));
        return of(current.named("capacitor current, " + capacitor), Unit.COULOMB);
    }

    /**
     * Returns the energy that an inductor takes up and hands on, without what its series resistance turns into heat.
     *
     * @param steady the steady state
     * @param inductor its name; of coupled inductors the balance of one winding alone is none, since energy leaves by another
     * @return the balance, J
     * @throws IllegalArgumentException if there is no such inductor
     */
    public static Balance energy(ConverterSteadyState steady, String inductor) {
        Waveform current = steady.of(steady.converter().driven().current(inductor));
        return of(
                PulseFigures.coilVoltage(steady, inductor)
                        .times(current, "power into the inductor, " + inductor, Unit.WATT),
                Unit.JOULE);
    }

    private static Balance of(Waveform waveform, Unit unit) {
        return new Balance(waveform, unit, SignedArea.of(waveform));
    }

    /** {@return what lies above zero in one period, in the unit of the areas} */
    public double taken() {
        return areas.stream()
                .mapToDouble(SignedArea::size)
                .filter(size -> size > 0)
                .sum();
    }

    /** {@return what lies below zero in one period, positive, in the unit of the areas} */
    public double given() {
        return -areas.stream()
                .mapToDouble(SignedArea::size)
                .filter(size -> size < 0)
                .sum();
    }

    /**
     * Returns a panel with the areas shaded and their sizes written into them.
     *
     * @return the panel
     */
    public Panel panel() {
        Waveform zero = waveform.times(0);
        String size = Quantity.format(taken(), unit, DIGITS) + " each way";
        Panel panel = Panel.of(waveform.named(waveform.name() + ": " + size))
                .limit(0, "")
                .weighted(WEIGHT);
        for (SignedArea area : areas) {
            boolean labelled = Math.abs(area.size()) > LEAST_LABELLED * taken();
            panel = panel.shaded(
                    waveform,
                    zero,
                    area.start(),
                    area.end(),
                    area.size() > 0 ? 0 : 1,
                    labelled ? Quantity.format(Math.abs(area.size()), unit, DIGITS) : "");
        }
        return panel;
    }

    /**
     * Draws the volt-seconds of the inductors, the charge of the output capacitor and the energy of the inductor.
     *
     * @param title in bold at the top
     * @param steady the steady state
     * @return the picture
     * @throws IllegalArgumentException if the converter stores nothing: neither inductor nor output capacitor
     */
    public static Picture picture(String title, ConverterSteadyState steady) {
        Converter converter = steady.converter();
        List<String> inductors = shown(steady);
        StackBuilder stack = Pictures.stack()
                .title(title)
                .subtitle("over one period what is stored equals what is released; steady state, "
                        + steady.conduction().name().toLowerCase(Locale.ROOT) + " conduction");
        inductors.forEach(name -> stack.panel(voltSeconds(steady, name).panel()));
        converter
                .roles()
                .outputCapacitor()
                .ifPresent(name -> stack.panel(charge(steady, name).panel()));
        inductors.stream()
                .filter(name -> converter.circuit().part(partOf(name)) instanceof Part.Inductor)
                .limit(1)
                .forEach(name -> stack.panel(energy(steady, name).panel()));
        List<TimeBand> bands = TimeBand.of(steady);
        return stack.bands(bands.size() <= MOST_BANDS ? bands : List.of()).build();
    }

    private static String partOf(String port) {
        return port.split("\\.", 2)[0];
    }

    /** Those that carry the inductor current first, then the others, such as the magnetizing inductance. */
    private static List<String> shown(ConverterSteadyState steady) {
        Converter converter = steady.converter();
        Roles roles = converter.roles();
        Set<String> known = PulseFigures.inductors(converter.circuit());
        Set<String> ordered = new LinkedHashSet<>(roles.inductors());
        roles.magnetizing().ifPresent(ordered::add);
        ordered.retainAll(known);
        ordered.addAll(known);
        Map<String, Double> sizes = new LinkedHashMap<>();
        ordered.forEach(name -> sizes.put(name, voltSeconds(steady, name).taken()));
        double largest =
                sizes.values().stream().mapToDouble(Double::doubleValue).max().orElse(0);
        return sizes.entrySet().stream()
                .filter(each -> each.getValue() > LEAST_SHOWN * largest)
                .map(Map.Entry::getKey)
                .limit(MOST_INDUCTORS)
                .toList();
    }
}
