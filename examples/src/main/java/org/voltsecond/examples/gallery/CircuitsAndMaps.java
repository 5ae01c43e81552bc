package org.voltsecond.examples.gallery;

import static org.voltsecond.examples.gallery.Rails.logicRail;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.Load;
import org.voltsecond.plot.page.Cell;
import org.voltsecond.plot.page.Page;
import org.voltsecond.plot.page.PageTable;

/** What stands on a page beside pictures: schematics and tables. */
final class CircuitsAndMaps {
    private CircuitsAndMaps() {}

    @Shown(
            value = "Schematic",
            about = "The circuit as it is computed, with its values; ladders of any kind can be drawn.")
    static Consumer<Page> schematic() {
        return page -> page.schematic(logicRail().circuit());
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
