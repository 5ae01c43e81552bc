package org.voltsecond.plot.viewer;

import java.util.List;
import javax.swing.table.AbstractTableModel;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** The readings as rows of text, and the switch of each trace. */
final class ReadoutTable extends AbstractTableModel {
    static final int ON = 0;
    static final int TRACE = 1;

    private static final long serialVersionUID = 1L;
    private static final List<String> HEADINGS = List.of("on", "trace", "at A", "at B", "B \u2212 A");
    private static final int DIGITS = 6;

    /** Smaller than this part of the largest value of a trace is rounding of zero. */
    private static final double NOISE = 1e-12;

    private final transient ViewModel model;
    private transient Readout readout;

    ReadoutTable(ViewModel model) {
        this.model = model;
        readout = model.readout();
    }

    void show(Readout newReadout) {
        boolean sameRows = newReadout.readings().size() == readout.readings().size();
        readout = newReadout;
        if (sameRows) {
            fireTableRowsUpdated(0, getRowCount() - 1);
        } else {
            fireTableDataChanged();
        }
    }

    Traced trace(int row) {
        return model.traces().get(row);
    }

    @Override
    public int getRowCount() {
        return model.traces().size();
    }

    @Override
    public int getColumnCount() {
        return HEADINGS.size();
    }

    @Override
    public String getColumnName(int column) {
        return HEADINGS.get(column);
    }

    @Override
    public Class<?> getColumnClass(int column) {
        return column == ON ? Boolean.class : String.class;
    }

    @Override
    public Object getValueAt(int row, int column) {
        CursorReading reading = readout.readings().get(row);
        return switch (column) {
            case ON -> model.isOn(trace(row));
            case TRACE -> reading.name();
            case 2 -> text(row, reading.a(), reading.unit());
            case 3 -> text(row, reading.b(), reading.unit());
            default -> text(row, reading.difference(), reading.unit());
        };
    }

    private String text(int row, CursorValue value, Unit unit) {
        return value.jumps()
                ? text(row, value.before(), unit) + "  \u2192  " + text(row, value.after(), unit)
                : text(row, value.after(), unit);
    }

    private String text(int row, double value, Unit unit) {
        if (Double.isNaN(value)) {
            return "\u2013";
        }
        boolean zero = Math.abs(value) <= NOISE * trace(row).largest();
        return Quantity.format(zero ? 0 : value, unit, DIGITS).replace('-', '\u2212');
    }
}
