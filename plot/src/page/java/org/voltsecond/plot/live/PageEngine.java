package org.voltsecond.plot.live;

import java.util.ArrayList;
import java.util.List;
import org.teavm.jso.JSExport;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.DutyCycleSearch;
import org.voltsecond.design.DesignException;
import org.voltsecond.design.DesignException.Fault;
import org.voltsecond.design.DesignTree;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.plot.report.PageAnswer;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** What the script of a page calls: compiled to JavaScript together with all that it uses. */
public final class PageEngine {
    private static DesignTree tree = DesignTree.ofLines("\tt");

    private PageEngine() {}

    public static void main(String[] arguments) {}

    /** Takes the design that the page was made of. */
    @JSExport
    public static void begin(String lines) {
        tree = DesignTree.ofLines(lines);
    }

    /**
     * Works out the design with other values: lines of key, tab, value. Triples follow: "figure", place, value as JSON; "section",
     * heading, markup; "fault", field, message.
     */
    @JSExport
    public static String[] answer(String changes, boolean whole) {
        List<String> told = new ArrayList<>();
        try {
            PageAnswer answer = PageAnswer.of(changed(changes).design("design"), whole);
            answer.figures().forEach((place, value) -> told.addAll(List.of("figure", place, value)));
            answer.sections().forEach((heading, markup) -> told.addAll(List.of("section", heading, markup)));
        } catch (DesignException e) {
            for (Fault fault : e.faults()) {
                told.addAll(List.of("fault", fault.field(), fault.message()));
            }
        } catch (SwitchingException e) {
            told.addAll(List.of("fault", "stage", String.valueOf(e.getMessage())));
        }
        return told.toArray(new String[0]);
    }

    /** The duty cycle at which the output has a wanted voltage: "value", key, number; or "fault", "output", message. */
    @JSExport
    public static String[] dutyCycleFor(String changes, String output) {
        try {
            Converter converter = changed(changes).design("design").converter();
            double found = DutyCycleSearch.forOutput(converter, Quantity.parse(output, Unit.VOLT))
                    .drive()
                    .dutyCycle();
            return new String[] {"value", "drive.duty_cycle", String.valueOf(found)};
        } catch (DesignException e) {
            return new String[] {"fault", "output", "the other values are not valid"};
        } catch (IllegalArgumentException | NoSteadyStateException | SwitchingException e) {
            return new String[] {"fault", "output", String.valueOf(e.getMessage())};
        }
    }

    /** The design file with other values. */
    @JSExport
    public static String file(String changes) {
        return changed(changes).toml();
    }

    private static DesignTree changed(String changes) {
        DesignTree changed = tree;
        for (String line : changes.split("\n", -1)) {
            int tab = line.indexOf('\t');
            if (tab > 0) {
                changed = changed.typed(line.substring(0, tab), line.substring(tab + 1));
            }
        }
        return changed;
    }
}
