package org.voltsecond.plot.explain;

import java.util.Arrays;
import java.util.Set;
import java.util.TreeSet;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.plot.Panel;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.plot.StackBuilder;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Crossing;
import org.voltsecond.waveform.Waveform;

/**
 * Who feeds a step of the load: the stage cannot follow at once, and until it has caught up the output capacitor makes good what is
 * missing. That charge, over the capacitance, is how far the output falls, beside the step across the series resistance. Immutable.
 *
 * <pre>{@code
 * ConverterTransient run = rail.transientFromSteadyState(milli(1), Change.at(milli(0.1)).load(Load.resistor(1.25)));
 * LoadStep step = LoadStep.of(run, 0);
 * double missing = step.charge(); // 45.25 µC
 * double longest = step.until() - step.time(); // s
 * step.picture("Logic rail, load doubled").writePng(folder.resolve("load-step.png"));
 * }</pre>
 *
 * @param run the run
 * @param time when the load changes, s
 * @param until when the capacitor has given, or taken, the most, s
 * @param charge what it has given until then, C; negative if it has taken charge since the load takes less
 */
public record LoadStep(ConverterTransient run, double time, double until, double charge) {
    private static final int DIGITS = 4;

    /** What is shown before the step and after the capacitor's worst, against the time between: a choice. */
    private static final double BEFORE = 0.4;

    private static final double AFTER = 2.5;

    /**
     * Finds who feeds a step.
     *
     * @param run a run with a change of the load
     * @param change which change, counted from 0
     * @return the step, until the next change or the end of the run
     * @throws IndexOutOfBoundsException if there is no such change
     * @throws IllegalArgumentException if the converter has no output capacitor
     */
    public static LoadStep of(ConverterTransient run, int change) {
        double time = run.changes().get(change).time();
        Waveform all = capacitorCurrent(run);
        double end = change + 1 < run.changes().size()
                ? run.changes().get(change + 1).time()
                : all.endTime();
        Waveform current = all.between(time, end);
        Set<Double> cuts = new TreeSet<>();
        Arrays.stream(current.switchingTimes()).forEach(cuts::add);
        current.crossings(0).stream().map(Crossing::time).forEach(cuts::add);
        double from = time;
        double given = 0;
        double most = 0;
        double until = time;
        for (double to : cuts) {
            if (to > from) {
                given -= current.between(from, to).integral();
                if (Math.abs(given) > Math.abs(most)) {
                    most = given;
                    until = to;
                }
                from = to;
            }
        }
        return new LoadStep(run, time, until, most);
    }

    private static Waveform capacitorCurrent(ConverterTransient run) {
        Converter converter = run.after(0);
        String name = converter
                .roles()
                .outputCapacitor()
                .orElseThrow(() -> new IllegalArgumentException("the converter has no output capacitor: " + converter));
        return run.of(converter.driven().current(name)).named("capacitor current, " + name);
    }

    /** {@return what the load takes, A} */
    public Waveform load() {
        return run.of(run.after(0).loadCurrent()).named("load current");
    }

    /** {@return what the stage delivers to load and output capacitor, A} */
    public Waveform delivered() {
        return load().plus(capacitorCurrent(run)).named("delivered by the stage");
    }

    /**
     * Draws what the stage delivers against what the load takes with the missing charge shaded, the inductor current, the capacitor current and
     * the output voltage.
     *
     * @param title in bold at the top
     * @return the picture
     */
    public Picture picture(String title) {
        return picture(title, true);
    }

    /**
     * Draws what the stage delivers against what the load takes, and the output voltage.
     *
     * @param title in bold at the top
     * @param whole whether inductor current and capacitor current stand between both, for which a small picture has no room
     * @return the picture
     */
    public Picture picture(String title, boolean whole) {
        Converter converter = run.after(0);
        double length = until - time;
        double from = Math.max(load().startTime(), time - BEFORE * length);
        double to = Math.min(load().endTime(), until + AFTER * length);
        String size = Quantity.format(Math.abs(charge), Unit.COULOMB, DIGITS);
        String words = size + (charge > 0 ? " missing" : " too much");
        Panel feeding = Panel.of(delivered(), load()).weighted(1.5).shaded(load(), delivered(), time, until, 0, words);
        StackBuilder stack = Pictures.stack()
                .title(title)
                .subtitle((charge > 0
                                ? "until the stage delivers what the load takes, the output capacitor gives "
                                : "until the stage delivers less, the output capacitor takes ")
                        + size + " in " + Quantity.format(length, Unit.SECOND, DIGITS))
                .panel(feeding);
        if (whole) {
            stack.panel(run.of(converter.inductorCurrent()))
                    .panel(Panel.of(capacitorCurrent(run)).limit(0, ""));
        }
        return stack.panel(run.of(converter.outputVoltage()))
                .mark(time, "load changes")
                .mark(until, "caught up")
                .window(from, to)
                .build();
    }
}
