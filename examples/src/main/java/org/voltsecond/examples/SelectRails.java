package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.milli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.converter.DutyCycleSearch;
import org.voltsecond.plot.page.Page;
import org.voltsecond.plot.page.PageTable;
import org.voltsecond.plot.page.WaveformFigure;
import org.voltsecond.plot.report.Cautions;
import org.voltsecond.sizing.ConductingParts;
import org.voltsecond.sizing.Corner;
import org.voltsecond.sizing.LoopCheck;
import org.voltsecond.sizing.LoopCornerResult;
import org.voltsecond.sizing.LoopProposal;
import org.voltsecond.sizing.LoopTarget;
import org.voltsecond.sizing.PartsProposal;
import org.voltsecond.sizing.Span;
import org.voltsecond.sizing.StageChoice;
import org.voltsecond.sizing.StageFormulas;
import org.voltsecond.sizing.StageOption;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Example: a selection tool. For each rail it picks the stage, sizes the parts, proposes a regulator, checks parts and loop at
 * every corner of input and load, and writes it all on one page for a browser.
 */
public final class SelectRails {
    /** What is proposed here with a regulator of voltage mode; the others ring with two inductors. */
    private static final List<Topology> PLAIN = List.of(Topology.BUCK, Topology.BOOST, Topology.INVERTING_BUCK_BOOST);

    private static final double FREQUENCY = kilo(300);
    private static final Span BATTERY = new Span(9, 15); // V
    private static final ConductingParts PARTS = new ConductingParts(milli(80), milli(30), false, 0.4, milli(20));
    private static final String ROW = "%-6s %-21s %-8s %-8s %-6s %s%n";

    private record Rail(String name, double output, Span load) {}

    private SelectRails() {}

    /**
     * Prints a table of the rails.
     *
     * @param arguments a folder for rails.html; none for the table alone
     * @throws IOException if the page cannot be written
     */
    public static void main(String[] arguments) throws IOException {
        Page page = Page.titled("Rails of the weather buoy").cautions(Cautions.general());
        System.out.printf(Locale.ROOT, ROW, "rail", "stage", "L", "C", "parts", "loop");
        for (Rail rail : new Rail[] {
            new Rail("logic", 5, new Span(milli(50), 2)),
            new Rail("radio", 24, new Span(milli(20), 0.5)),
            new Rail("sensor", -5, new Span(milli(5), milli(60))),
            new Rail("lamp", 12, new Span(milli(100), 1))
        }) {
            StageChoice choice = StageChoice.of(BATTERY, rail.output, rail.load);
            choice.best()
                    .filter(stage -> PLAIN.contains(stage.topology()))
                    .ifPresentOrElse(
                            stage -> show(rail, choice, stage, page),
                            () -> System.out.printf(Locale.ROOT, "%-6s %s%n", rail.name, choice));
        }
        if (arguments.length > 0) {
            Path folder = Files.createDirectories(Path.of(arguments[0]));
            Files.writeString(folder.resolve("rails.html"), page.html());
        }
    }

    private static void show(Rail rail, StageChoice choice, StageOption stage, Page page) {
        PartsProposal parts = choice.sizing()
                .switchingFrequency(FREQUENCY)
                .inductorRipple(0.3)
                .outputRipple(milli(50))
                .parts(PARTS)
                .propose()
                .refined();
        LoopProposal loop = loop(rail, stage, parts);
        LoopCheck check = loop.check(BATTERY, rail.load);
        LoopCornerResult worst = check.worst().orElseThrow();
        System.out.printf(
                Locale.ROOT,
                ROW,
                rail.name,
                stage.topology(),
                Quantity.format(parts.inductance(), Unit.HENRY),
                Quantity.format(parts.capacitance(), Unit.FARAD),
                parts.check().passes() ? "hold" : "fail",
                worst);
        PageTable corners = PageTable.headed("corner", "conduction", "loop");
        check.results()
                .forEach(result -> corners.row(
                        result.corner().toString(),
                        result.conduction().toString(),
                        result.margins().toString()));
        page.heading(rail.name + " rail").paragraph(stage.toString());
        choice.linear().ifPresent(linear -> page.paragraph(linear.toString()));
        page.schematic(loop.converter().circuit()).table(corners).waveforms(loadStep(loop.converter()));
    }

    /** At a tenth of the switching frequency, and well below the zero of a stage that steps up. */
    private static LoopProposal loop(Rail rail, StageOption stage, PartsProposal parts) {
        double magnitude = Math.abs(rail.output);
        double zero = StageFormulas.rightHalfPlaneZero(
                stage.topology(), stage.dutyCycle().high(), magnitude / rail.load.high(), parts.inductance());
        Converter full = parts.converter(new Corner(12, rail.load.high()));
        return LoopProposal.of(
                DutyCycleSearch.forOutput(full, magnitude), LoopTarget.of(Math.min(FREQUENCY / 10, zero / 5), 60));
    }

    private static WaveformFigure loadStep(Converter converter) {
        Load half = Load.resistor(2 * converter.load().resistance());
        ConverterTransient run = converter.transientFromSteadyState(
                milli(4), Change.at(milli(1)).load(half), Change.at(milli(2.5)).load(converter.load()));
        return WaveformFigure.over("full load to half of it and back", milli(0.5), milli(4))
                .panel(run.of(converter.inductorCurrent()))
                .panel(run.of(converter.outputVoltage()));
    }
}
