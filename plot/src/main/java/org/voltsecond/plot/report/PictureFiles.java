package org.voltsecond.plot.report;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Stream;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.design.Design;
import org.voltsecond.design.Design.LineInput;
import org.voltsecond.design.Design.LineRipple;
import org.voltsecond.design.DrivePlan.Regulated;
import org.voltsecond.figures.TransientFigures;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.plot.StackBuilder;
import org.voltsecond.plot.TimeBand;
import org.voltsecond.plot.explain.PulsePanels;
import org.voltsecond.plot.report.OutputFolder.SideBySide;
import org.voltsecond.units.Printable;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/** Draws the steady state and the transient of a design. */
final class PictureFiles {
    /** A line ripple makes a period of very many intervals, which nobody can tell apart. */
    private static final int MOST_BANDS = 60;

    private PictureFiles() {}

    /**
     * The pictures that stand both in files and on the page, so that they are made and drawn once; each by the name of its file.
     *
     * @param explaining how the stage works
     * @param bends parts that bend
     * @param ringing what rings after an edge
     * @param studies what studies found
     * @param response the frequency response
     */
    record Shared(
            Map<String, Picture> explaining,
            Map<String, Picture> bends,
            Map<String, Picture> ringing,
            Map<String, Picture> studies,
            Map<String, Picture> response) {
        static Shared of(Findings outcome) {
            return new Shared(
                    ExplainSection.pictures(outcome),
                    BendSection.pictures(outcome),
                    RingingSection.pictures(outcome),
                    StudyFiles.pictures(outcome),
                    FrequencyFiles.pictures(outcome));
        }
    }

    /** One task for each file. */
    static List<SideBySide.Task> tasks(Findings outcome, Shared shared, Path folder) {
        List<SideBySide.Task> tasks = new ArrayList<>();
        Result<TransientFigures> run = outcome.transientRun();
        if (run != null && run.exists()) {
            addTasks(tasks, transientPicture(outcome, run.get().run()), folder, "transient");
            if (outcome.converter().isRegulated()) {
                new RegulationPictures(outcome, run.get())
                        .all()
                        .forEach((name, picture) -> addTasks(tasks, picture, folder, name));
            }
        }
        if (outcome.steadyState().exists()) {
            addTasks(tasks, steadyState(outcome, outcome.steadyState().get()), folder, "steady-state");
        }
        Stream.of(shared.explaining, shared.bends, shared.ringing, shared.studies, shared.response)
                .forEach(pictures -> pictures.forEach((name, picture) -> addTasks(tasks, picture, folder, name)));
        Result<BenchOutcome> bench = outcome.bench();
        if (bench != null && bench.exists()) {
            addTasks(tasks, bench(outcome, bench.get()), folder, "bench");
        }
        return tasks;
    }

    static Picture bench(Findings outcome, BenchOutcome found) {
        return found.picture()
                .title(Printable.of(outcome.name()) + ": bench and simulation")
                .build();
    }

    private static void addTasks(List<SideBySide.Task> tasks, Picture picture, Path folder, String name) {
        tasks.add(() -> picture.writePng(folder.resolve(name + ".png")));
        tasks.add(() -> picture.writeSvg(folder.resolve(name + ".svg")));
    }

    private static Picture steadyState(Findings outcome, ConverterSteadyState steady) {
        Converter converter = outcome.converter();
        ReportWaveforms.Supply supply = new ReportWaveforms.Supply(converter);
        StackBuilder stack = Pictures.stack()
                .title(Printable.of(outcome.name()) + ": one period of the steady state" + lasting(steady))
                .subtitle(
                        subtitle(outcome) + ", " + steady.conduction().name().toLowerCase(Locale.ROOT) + " conduction")
                .panel(ReportWaveforms.switchNodes(converter).map(steady::of).toArray(Waveform[]::new))
                .panel(ReportWaveforms.coils(converter).map(steady::of).toArray(Waveform[]::new))
                .ripplePanel(steady.of(converter.outputVoltage()));
        List<Waveform> currents = supply.currents(steady);
        if (!currents.isEmpty()) {
            stack.panel(currents.toArray(Waveform[]::new));
        }
        supply.voltage(steady).ifPresent(stack::ripplePanel);
        return stack.bands(steady.periodic().trajectory().size() <= MOST_BANDS ? TimeBand.of(steady) : List.of())
                .build();
    }

    /** Of an orbit that the converter leaves by itself a picture alone would say the contrary. */
    static String lasting(ConverterSteadyState steady) {
        return switch (steady.periodic().stability()) {
            case STABLE -> "";
            case UNDAMPED -> ", undamped";
            case UNSTABLE -> ", unstable: it does not last";
        };
    }

    private static Picture transientPicture(Findings outcome, ConverterTransient run) {
        Converter converter = outcome.converter();
        StackBuilder stack = Pictures.stack()
                .title(Printable.of(outcome.name()) + ": transient")
                .subtitle((run.changes().isEmpty() ? "" : "at the start: ") + subtitle(outcome))
                .panel(ReportWaveforms.switchNodes(converter).map(run::of).toArray(Waveform[]::new))
                .panel(ReportWaveforms.coils(converter).map(run::of).toArray(Waveform[]::new))
                .panel(run.of(converter.outputVoltage()));
        new ReportWaveforms.Supply(converter).ofRun(run).forEach(stack::panel);
        if (converter.isRegulated()) {
            stack.panel(PulsePanels.control(converter, run));
        }
        for (Change change : run.changes()) {
            stack.mark(change.time(), change.description());
        }
        return stack.build();
    }

    static String subtitle(Findings outcome) {
        return subtitle(outcome, outcome.converter());
    }

    /** Of the converter as it is after some changes. */
    static String subtitle(Findings outcome, Converter now) {
        LineInput input = new LineInput(now.inputVoltage(), outcome.input().ripple());
        return now.topology() + ", " + input(input) + " in, load " + now.load() + ", " + drive(outcome);
    }

    /** The input voltage with its ripple, as for example "12 V ± 500 mV at 100 Hz". */
    static String input(LineInput input) {
        String voltage = Quantity.format(input.voltage(), Unit.VOLT, 4);
        LineRipple ripple = input.ripple();
        return ripple.amplitude() > 0
                ? voltage + " ± " + Quantity.format(ripple.amplitude(), Unit.VOLT, 4) + " at "
                        + Quantity.format(ripple.frequency(), Unit.HERTZ, 4)
                : voltage;
    }

    private static String drive(Findings outcome) {
        Converter converter = outcome.converter();
        if (!converter.isRegulated()) {
            return hertz(outcome.switchingFrequency());
        }
        Design design = outcome.design();
        String kind = design != null && design.drive() instanceof Regulated regulated
                ? ", " + regulated.kind().replace('-', ' ')
                : ", regulated";
        if (converter.driven().isClocked()) {
            return hertz(outcome.switchingFrequency()) + kind;
        }
        return outcome.steadyState().exists()
                ? "free running at " + hertz(1 / outcome.steadyState().get().period()) + kind
                : "about " + hertz(outcome.switchingFrequency()) + kind;
    }

    private static String hertz(double frequency) {
        return Quantity.format(frequency, Unit.HERTZ, 4);
    }
}
