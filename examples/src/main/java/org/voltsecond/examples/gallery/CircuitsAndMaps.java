package org.voltsecond.examples.gallery;

import static org.voltsecond.examples.gallery.Rails.logicRail;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part.Winding;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.plot.explain.CurrentPaths;
import org.voltsecond.plot.page.Cell;
import org.voltsecond.plot.page.Page;
import org.voltsecond.plot.page.PageTable;
import org.voltsecond.stage.Load;

/** What stands on a page beside pictures: schematics and tables. */
final class CircuitsAndMaps {
    private CircuitsAndMaps() {}

    @Shown(
            value = "Schematic",
            about =
                    "The circuit as it is computed, with its values: here a custom one, a flyback with its transformer.")
    static Consumer<Page> schematic() {
        Circuit flyback = Circuit.builder()
                .voltageSource("V1", "in", Circuit.GROUND, 24)
                .coupledInductors(
                        "T1",
                        Winding.of("primary", "in", "drain"),
                        micro(500),
                        Winding.of("secondary", Circuit.GROUND, "rect"),
                        micro(55),
                        0.98)
                .switchPart("Q1", "drain", Circuit.GROUND, milli(80))
                .rectifier("D1", "rect", "out", 0.4, milli(20))
                .capacitor("C1", "out", Circuit.GROUND, micro(200), milli(5))
                .resistor("R1", "out", Circuit.GROUND, 5)
                .build();
        return page -> page.schematic(flyback);
    }

    @Shown(value = "Moving current", about = "Where the current flows over one period; it moves where scripts run.")
    static Consumer<Page> movingCurrent() {
        ConverterSteadyState light = logicRail().withLoad(Load.resistor(100)).steadyState();
        return page -> page.flow(CurrentPaths.of(light).flow());
    }

    @Shown(
            value = "Conduction as a table",
            about = "The mode of conduction over line and load: C continuous, D discontinuous.")
    static Consumer<Page> conductionMap() {
        PageTable table = PageTable.headed("input", "5 A", "2 A", "1 A", "0.5 A", "0.2 A", "0.1 A", "0.05 A");
        double[] loads = {5, 2, 1, 0.5, 0.2, 0.1, 0.05};
        for (double input : new double[] {9, 12, 15}) {
            List<Cell> row = new ArrayList<>(List.of(Cell.of((int) input + " V")));
            for (double load : loads) {
                Converter rail = logicRail().withInput(input).withLoad(Load.current(load));
                boolean continuous = rail.steadyState().conduction() == Conduction.CONTINUOUS;
                row.add(continuous ? new Cell("C", Cell.Tone.FIRST) : new Cell("D", Cell.Tone.SECOND));
            }
            table.row(row);
        }
        return page -> page.table(table);
    }
}
