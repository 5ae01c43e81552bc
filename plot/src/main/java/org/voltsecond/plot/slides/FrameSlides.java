package org.voltsecond.plot.slides;

import java.awt.Color;
import java.awt.Font;
import java.awt.Graphics2D;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.RowBuilder;
import org.voltsecond.plot.RowBuilder.Sketch;
import org.voltsecond.plot.page.CurrentDrawing;
import org.voltsecond.plot.report.Cautions;
import org.voltsecond.plot.report.Findings;
import org.voltsecond.plot.slides.Slide.Draft;
import org.voltsecond.units.Printable;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** The first slide and the last. */
final class FrameSlides {
    /** What a slide leaves for a drawing below two lines of message and one below it, with letters of a thirtieth of its height and what two decimals of a scale in an SVG may take of it. */
    static final CurrentDrawing.Room ROOM = new CurrentDrawing.Room(612, 225, 12.4);

    private static final int TEXT = 17;
    private static final int LINE = 23;
    private static final int BULLET = 18;
    private static final Color INK = new Color(0x22, 0x22, 0x22);

    private FrameSlides() {}

    static Slide design(Findings findings) {
        Draft draft = new Draft("design")
                .definition(
                        "Means over one period of the periodic steady state. The efficiency counts the losses of conduction.");
        String message = Printable.of(findings.name()) + ": ";
        String below = findings.subtitle();
        if (findings.steadyState().exists()) {
            ConverterSteadyState steady = findings.steadyState().get();
            message += figures(draft, steady);
            below += "; " + steady.conduction().name().toLowerCase(java.util.Locale.ROOT) + " conduction";
        } else {
            message += "there is no steady state";
            draft.definition("There is none: " + findings.steadyState().reason());
        }
        return draft.below(below).of(message, schematic(findings));
    }

    private static String figures(Draft draft, ConverterSteadyState steady) {
        double input = steady.converter().inputVoltage();
        double output = steady.of(steady.converter().outputVoltage()).mean();
        double current = steady.of(steady.converter().loadCurrent()).mean();
        String message = draft.tell("input voltage", input, Unit.VOLT) + " in, "
                + draft.tell("output voltage", output, Unit.VOLT) + " out at "
                + draft.tell("load current", current, Unit.AMPERE);
        draft.note(
                "output ripple, peak to peak",
                steady.of(steady.converter().outputVoltage()).peakToPeak(),
                Unit.VOLT);
        draft.note("duty cycle", steady.dutyCycle(), Unit.ONE);
        if (steady.efficiency().isPresent()) {
            double efficiency = steady.efficiency().getAsDouble();
            draft.note("efficiency, losses of conduction", efficiency, Unit.ONE);
            message += ", " + Quantity.format(100 * efficiency, Unit.ONE, 3) + " % efficient";
        }
        return message + verdict(steady);
    }

    /** What a picture of an orbit alone would hide. */
    private static String verdict(ConverterSteadyState steady) {
        return steady.regulation()
                        .filter(found -> !found.inRegulation())
                        .map(found -> "; out of regulation")
                        .orElse("")
                + lasting(steady);
    }

    static String lasting(ConverterSteadyState steady) {
        return switch (steady.periodic().stability()) {
            case STABLE, UNDAMPED -> "";
            case UNSTABLE -> "; unstable, it does not last";
        };
    }

    private static Picture schematic(Findings findings) {
        return schematic(findings.converter().circuit(), Map.of(), Map.of())
                .map(sketch -> new RowBuilder("").row("", sketch).build())
                .orElseGet(() -> text(List.of("The circuit has "
                        + findings.converter().circuit().parts().size()
                        + " parts, too many for a drawing that can be followed.")));
    }

    /** With the numbers beside the parts where there is room for them. */
    static Optional<Sketch> schematic(
            org.voltsecond.circuit.Circuit circuit, Map<String, Double> currents, Map<String, Double> voltages) {
        return CurrentDrawing.lettered(circuit, currents, voltages, ROOM);
    }

    static Slide cautions(Findings findings) {
        List<String> lines = Cautions.of(findings);
        return new Draft("cautions")
                .definition(String.join(" ", lines))
                .of("A simulation is no safety approval", text(lines));
    }

    private static Picture text(List<String> paragraphs) {
        return new RowBuilder("")
                .row("", new Sketch(ROOM.width(), ROOM.height(), graphics -> write(graphics, paragraphs)))
                .build();
    }

    private static void write(Graphics2D graphics, List<String> paragraphs) {
        graphics.setFont(new Font(Font.SANS_SERIF, Font.PLAIN, TEXT));
        graphics.setPaint(INK);
        int y = 2 * TEXT;
        for (String paragraph : paragraphs) {
            graphics.drawString("•", 0, y);
            for (String line : wrapped(graphics, paragraph)) {
                graphics.drawString(line, BULLET, y);
                y += LINE;
            }
            y += LINE / 3;
        }
    }

    private static List<String> wrapped(Graphics2D graphics, String text) {
        List<String> lines = new ArrayList<>();
        String line = "";
        for (String word : text.split(" ", -1)) {
            String longer = line.isEmpty() ? word : line + " " + word;
            if (graphics.getFontMetrics().stringWidth(longer) > ROOM.width() - BULLET) {
                lines.add(line);
                longer = word;
            }
            line = longer;
        }
        lines.add(line);
        return lines;
    }
}
