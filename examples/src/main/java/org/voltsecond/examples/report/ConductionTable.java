package org.voltsecond.examples.report;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.Load;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.plot.page.Cell;
import org.voltsecond.plot.page.PageTable;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** The mode of conduction over load and line, around those of the design. */
final class ConductionTable {
    private static final double[] LINES = {0.75, 0.9, 1, 1.1, 1.25};
    /** Load currents relative to that of the design, about evenly spaced in their logarithm. */
    private static final double[] LOADS = {0.02, 0.05, 0.1, 0.2, 0.35, 0.5, 0.7, 1, 1.4, 2};

    private static final int BISECTIONS = 12;

    private final Converter converter;
    /** The steady state of the design; null if there is none. */
    private final @Nullable ConverterSteadyState start;

    /** The row at the line voltage of the design; null where there is no steady state. */
    private List<@Nullable ConverterSteadyState> own = List.of();

    ConductionTable(Converter converter, @Nullable ConverterSteadyState start) {
        this.converter = converter;
        this.start = start;
    }

    /** Without load there is nothing to vary, and without clock no steady state to ask. */
    boolean exists() {
        boolean loaded =
                !converter.load().isConstantCurrent() || converter.load().current() > 0;
        return loaded && (!converter.isRegulated() || converter.regulator().isClocked());
    }

    PageTable table() {
        List<String> headings = new ArrayList<>(List.of("input"));
        for (double share : LOADS) {
            headings.add(load(share).toString());
        }
        PageTable table = PageTable.headed(headings.toArray(new String[0]));
        for (double line : LINES) {
            double volt = converter.inputVoltage() * line;
            List<Cell> row = new ArrayList<>(List.of(Cell.of(Quantity.format(volt, Unit.VOLT, 3))));
            List<@Nullable ConverterSteadyState> found = line == 1 ? own() : row(converter.withInput(volt));
            for (ConverterSteadyState steady : found) {
                row.add(cell(conduction(steady)));
            }
            table.row(row);
        }
        return table;
    }

    private List<@Nullable ConverterSteadyState> own() {
        if (own.isEmpty()) {
            own = row(converter);
        }
        return own;
    }

    /** From the heaviest load down, each search starts at the steady state of the load before, which is near. */
    private List<@Nullable ConverterSteadyState> row(Converter fed) {
        List<@Nullable ConverterSteadyState> found = new ArrayList<>();
        ConverterSteadyState last = start;
        for (int k = LOADS.length - 1; k >= 0; k--) {
            ConverterSteadyState steady = steady(fed, LOADS[k], last);
            found.add(0, steady);
            last = steady == null ? last : steady;
        }
        return found;
    }

    private static Cell cell(@Nullable Conduction conduction) {
        if (conduction == null) {
            return new Cell("none", Cell.Tone.OPEN);
        }
        return switch (conduction) {
            case CONTINUOUS -> new Cell("C", Cell.Tone.FIRST);
            case DISCONTINUOUS -> new Cell("D", Cell.Tone.SECOND);
            case BOUNDARY -> new Cell("B", Cell.Tone.THIRD);
        };
    }

    /** Where the conduction changes at the line voltage of the design. */
    String boundary() {
        List<@Nullable ConverterSteadyState> row = own();
        for (int k = 1; k < LOADS.length; k++) {
            ConverterSteadyState light = row.get(k - 1);
            Conduction heavy = conduction(row.get(k));
            if (light != null && light.conduction() == Conduction.DISCONTINUOUS && heavy == Conduction.CONTINUOUS) {
                double share = bisect(LOADS[k - 1], LOADS[k], light);
                return "At " + Quantity.format(converter.inputVoltage(), Unit.VOLT, 4)
                        + " the conduction changes at a load of "
                        + Quantity.format(
                                value(share), converter.load().isConstantCurrent() ? Unit.AMPERE : Unit.OHM, 3)
                        + ".";
            }
        }
        return "At " + Quantity.format(converter.inputVoltage(), Unit.VOLT, 4)
                + " the conduction does not change within the loads shown.";
    }

    private double bisect(double light, double heavy, ConverterSteadyState atLight) {
        double low = light;
        double high = heavy;
        ConverterSteadyState near = atLight;
        for (int k = 0; k < BISECTIONS; k++) {
            double middle = Math.sqrt(low * high);
            ConverterSteadyState steady = steady(converter, middle, near);
            near = steady == null ? near : steady;
            if (conduction(steady) == Conduction.DISCONTINUOUS) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return Math.sqrt(low * high);
    }

    private double value(double share) {
        Load load = converter.load();
        return load.isConstantCurrent() ? load.current() * share : load.resistance() / share;
    }

    private Load load(double share) {
        double value = Double.parseDouble(String.format(java.util.Locale.ROOT, "%.3g", value(share)));
        boolean nominal = share == 1;
        if (converter.load().isConstantCurrent()) {
            return Load.current(nominal ? converter.load().current() : value);
        }
        return Load.resistor(nominal ? converter.load().resistance() : value);
    }

    private static @Nullable Conduction conduction(@Nullable ConverterSteadyState steady) {
        return steady == null ? null : steady.conduction();
    }

    private @Nullable ConverterSteadyState steady(Converter fed, double share, @Nullable ConverterSteadyState near) {
        try {
            Load load = fed.load().isConstantCurrent() ? Load.current(value(share)) : Load.resistor(value(share));
            Converter loaded = fed.withLoad(load);
            return near == null ? loaded.steadyState() : loaded.steadyStateNear(near);
        } catch (NoSteadyStateException | SwitchingException e) {
            // The cell says that there is none.
            return null;
        }
    }
}
