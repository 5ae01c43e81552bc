package org.voltsecond.examples.report;

import java.util.List;
import java.util.OptionalDouble;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.Load;
import org.voltsecond.examples.design.Design;
import org.voltsecond.plot.MapPictures;
import org.voltsecond.plot.page.Page;
import org.voltsecond.study.Axis;
import org.voltsecond.study.Execution;
import org.voltsecond.study.MapLine;
import org.voltsecond.study.OperatingMap;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** The section of the report that tells the mode of conduction around the operating point of the design. */
final class ConductionSection {
    private static final int LOADS = 41;
    private static final int LINES = 21;
    private static final int DIGITS = 4;

    private final Outcome outcome;
    private final Converter converter;
    private final Design design;

    ConductionSection(Outcome outcome) {
        this.outcome = outcome;
        converter = outcome.converter();
        design = outcome.design();
    }

    void addTo(Page page) {
        ConverterSteadyState steady =
                outcome.steadyState().exists() ? outcome.steadyState().get() : null;
        if (steady != null && isPlain()) {
            addMap(page, steady);
            return;
        }
        ConductionTable table = new ConductionTable(converter, steady);
        if (table.exists()) {
            page.heading("Conduction over load and line")
                    .paragraph("C: continuous, D: discontinuous, B: at the boundary. " + table.boundary())
                    .table(table.table());
        }
    }

    /** Whether a stage of fixed duty cycle conducts as this one does: a plain diode, a clock, a load, no ripple on the line. */
    private boolean isPlain() {
        boolean loaded =
                !converter.load().isConstantCurrent() || converter.load().current() > 0;
        boolean clocked = !converter.isRegulated() || converter.regulator().isClocked();
        return loaded
                && clocked
                && !design.rectifier().synchronous()
                && !(design.input().ripple().amplitude() > 0);
    }

    private void addMap(Page page, ConverterSteadyState steady) {
        OperatingMap map = map(steady);
        OptionalDouble held = map.heldOutput();
        String how = held.isPresent()
                ? "The output is held at " + volt(held.getAsDouble()) + ", as the regulator does. "
                : "The duty cycle stays as it is. ";
        page.heading("Conduction over load and line")
                .paragraph(how + sentence(map))
                .picture(
                        MapPictures.conduction("Mode of conduction around the design", map),
                        "Mode of conduction over load and input voltage");
    }

    private OperatingMap map(ConverterSteadyState steady) {
        Axis loads = loads();
        double line = converter.inputVoltage();
        Axis lines = Axis.inputVoltage(0.75 * line, 1.25 * line, LINES);
        if (!converter.isRegulated()) {
            return OperatingMap.of(converter, loads, lines, List.of(), Execution.standard());
        }
        double output = Math.abs(steady.of(converter.outputVoltage()).mean());
        double duty = Math.min(0.99, Math.max(0.01, steady.dutyCycle()));
        Converter open = converter.withDrive(Drive.fixedDuty(duty, 1 / steady.period()));
        return OperatingMap.holding(open, output, loads, lines, List.of(), Execution.standard());
    }

    private Axis loads() {
        Load load = converter.load();
        return load.isConstantCurrent()
                ? Axis.loadCurrent(0.02 * load.current(), 2 * load.current(), LOADS)
                : Axis.loadResistance(0.5 * load.resistance(), 50 * load.resistance(), LOADS);
    }

    private String sentence(OperatingMap map) {
        double line = converter.inputVoltage();
        for (MapLine boundary : map.boundary()) {
            for (MapLine.Spot spot : boundary.spots()) {
                if (Math.abs(spot.up() - line) < 1e-9 * line) {
                    Unit unit = map.across().unit();
                    return "At " + volt(line) + " conduction changes at a load of "
                            + Quantity.format(spot.across(), unit, DIGITS) + ".";
                }
            }
        }
        return "At " + volt(line) + " conduction does not change within the loads shown.";
    }

    private static String volt(double value) {
        return Quantity.format(value, Unit.VOLT, DIGITS);
    }
}
