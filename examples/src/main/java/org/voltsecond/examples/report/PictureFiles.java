package org.voltsecond.examples.report;

import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Phase;
import org.voltsecond.examples.design.Printable;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.plot.StackBuilder;
import org.voltsecond.plot.TimeBand;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** Draws the steady state and the transient of a design. */
final class PictureFiles {
    private PictureFiles() {}

    static void write(Outcome outcome, Path folder) throws IOException {
        if (outcome.steadyState().exists()) {
            write(steadyState(outcome, outcome.steadyState().get()), folder, "steady-state");
        }
        Found<ConverterTransient> run = outcome.transientRun();
        if (run != null && run.exists()) {
            write(transientPicture(outcome, run.get()), folder, "transient");
        }
    }

    private static void write(Picture picture, Path folder, String name) throws IOException {
        picture.writePng(folder.resolve(name + ".png"));
        picture.writeSvg(folder.resolve(name + ".svg"));
    }

    private static Picture steadyState(Outcome outcome, ConverterSteadyState steady) {
        Converter converter = outcome.converter();
        return Pictures.stack()
                .title(Printable.of(outcome.design().name()) + ": one period of the steady state")
                .subtitle(subtitle(outcome) + ", "
                        + steady.conduction().name().toLowerCase(Locale.ROOT) + " conduction")
                .panel(steady.of(converter.switchNode()))
                .panel(steady.of(converter.inductorCurrent()))
                .ripplePanel(steady.of(converter.outputVoltage()))
                .bands(bands(converter, steady))
                .build();
    }

    private static Picture transientPicture(Outcome outcome, ConverterTransient run) {
        Converter converter = outcome.converter();
        StackBuilder stack = Pictures.stack()
                .title(Printable.of(outcome.design().name()) + ": transient")
                .subtitle(subtitle(outcome))
                .panel(run.of(converter.switchNode()))
                .panel(run.of(converter.inductorCurrent()))
                .panel(run.of(converter.outputVoltage()));
        for (Change change : run.changes()) {
            stack.mark(change.time(), "change");
        }
        return stack.build();
    }

    private static String subtitle(Outcome outcome) {
        return outcome.design().topology() + ", " + Quantity.format(outcome.design().inputVoltage(), Unit.VOLT, 4)
                + " in, load " + outcome.design().load() + ", "
                + Quantity.format(outcome.design().drive().switchingFrequency(), Unit.HERTZ, 4);
    }

    private static List<TimeBand> bands(Converter converter, ConverterSteadyState steady) {
        List<TimeBand> bands = new ArrayList<>();
        for (Interval interval : steady.periodic().trajectory().intervals()) {
            if (interval.end() > interval.start()) {
                bands.add(new TimeBand(interval.start(), interval.end(), kind(converter, interval.phase())));
            }
        }
        return bands;
    }

    private static TimeBand.Kind kind(Converter converter, Phase phase) {
        DrivenCircuit driven = converter.driven();
        if (driven.conducts(phase, converter.transistorName())) {
            return TimeBand.Kind.ON;
        }
        return driven.conducts(phase, converter.rectifierName()) ? TimeBand.Kind.OFF : TimeBand.Kind.IDLE;
    }
}
