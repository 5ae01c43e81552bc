package org.voltsecond.plot.viewer;

import java.awt.Component;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import javax.swing.JComponent;
import javax.swing.JTable;
import javax.swing.SwingConstants;
import javax.swing.table.AbstractTableModel;
import javax.swing.table.DefaultTableCellRenderer;
import org.voltsecond.plot.viewer.DesignFigures.Row;

/** Figures of a design, and beside them those of the file that it started from. */
final class FigureTable extends AbstractTableModel {
    private static final long serialVersionUID = 1L;
    private static final List<String> HEADINGS = List.of("figure", "now", "in the file");

    private transient List<Row> now = List.of();
    private transient Map<String, String> start = Map.of();

    void show(List<Row> newRows, List<Row> ofStart) {
        boolean same = newRows.size() == now.size();
        now = newRows;
        start = new LinkedHashMap<>();
        ofStart.forEach(row -> start.put(row.label(), row.text()));
        if (same && !now.isEmpty()) {
            fireTableRowsUpdated(0, now.size() - 1);
        } else {
            fireTableDataChanged();
        }
    }

    @Override
    public int getRowCount() {
        return now.size();
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
    public String getValueAt(int row, int column) {
        Row told = now.get(row);
        return switch (column) {
            case 0 -> told.label();
            case 1 -> told.text();
            default -> start.getOrDefault(told.label(), "");
        };
    }

    /** What stands beside a label, for tests. */
    String now(String label) {
        return now.stream()
                .filter(row -> row.label().equals(label))
                .map(Row::text)
                .findFirst()
                .orElse("");
    }

    /** What is too long for its cell is whole in its tip. */
    static final class Renderer extends DefaultTableCellRenderer {
        private static final long serialVersionUID = 1L;

        @Override
        public Component getTableCellRendererComponent(
                JTable table, Object value, boolean selected, boolean focused, int row, int column) {
            Component cell = super.getTableCellRendererComponent(table, value, selected, false, row, column);
            ((JComponent) cell).setToolTipText(String.valueOf(value));
            setHorizontalAlignment(column == 0 ? SwingConstants.LEADING : SwingConstants.TRAILING);
            return cell;
        }
    }
}
