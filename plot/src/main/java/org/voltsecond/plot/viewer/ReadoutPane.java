package org.voltsecond.plot.viewer;

import java.awt.BorderLayout;
import java.awt.Color;
import java.awt.Component;
import java.awt.Dimension;
import java.awt.FlowLayout;
import java.awt.Font;
import java.awt.Graphics;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.event.MouseAdapter;
import java.awt.event.MouseEvent;
import javax.swing.BorderFactory;
import javax.swing.Icon;
import javax.swing.JLabel;
import javax.swing.JPanel;
import javax.swing.JScrollPane;
import javax.swing.JTable;
import javax.swing.SwingConstants;
import javax.swing.table.DefaultTableCellRenderer;
import javax.swing.table.TableColumnModel;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** Shows what the cursors measure: times in a line, below it a row for each trace, which also switches it on and off. */
final class ReadoutPane extends JPanel {
    private static final long serialVersionUID = 1L;
    private static final Font TEXT = new Font(Font.SANS_SERIF, Font.PLAIN, 13);
    private static final Font BOLD = TEXT.deriveFont(Font.BOLD);
    private static final int ROW = 22;
    private static final int MOST_ROWS = 7;
    private static final int TIME_DIGITS = 9;
    private static final int DIGITS = 6;

    private final transient ViewModel model;
    private final JLabel timeA = value();
    private final JLabel timeB = value();
    private final JLabel interval = value();
    private final JLabel frequency = value();
    private final ReadoutTable rows;

    ReadoutPane(ViewModel model) {
        super(new BorderLayout());
        this.model = model;
        rows = new ReadoutTable(model);
        add(times(), BorderLayout.NORTH);
        add(new JScrollPane(table()), BorderLayout.CENTER);
        update();
        model.onChange(this::update);
    }

    private static JLabel value() {
        JLabel label = new JLabel();
        label.setFont(TEXT);
        return label;
    }

    private JPanel times() {
        JPanel line = new JPanel(new FlowLayout(FlowLayout.LEADING, 8, 4));
        addPair(line, "A", timeA);
        addPair(line, "B", timeB);
        addPair(line, "B \u2212 A", interval);
        addPair(line, "1 / (B \u2212 A)", frequency);
        return line;
    }

    private static void addPair(JPanel line, String name, JLabel value) {
        JLabel label = new JLabel(name);
        label.setFont(BOLD);
        label.setLabelFor(value);
        value.setBorder(BorderFactory.createEmptyBorder(0, 0, 0, 18));
        line.add(label);
        line.add(value);
    }

    private JTable table() {
        JTable table = new JTable(rows);
        table.setFont(TEXT);
        table.setRowHeight(ROW);
        table.setShowGrid(false);
        table.setIntercellSpacing(new Dimension(12, 0));
        table.setFocusable(false);
        table.setCellSelectionEnabled(false);
        table.getTableHeader().setReorderingAllowed(false);
        table.getTableHeader().setFont(BOLD);
        table.setPreferredScrollableViewportSize(new Dimension(700, ROW * Math.min(MOST_ROWS, rows.getRowCount())));
        table.setToolTipText("Click to switch a trace on or off. Two values: before and after a jump.");
        table.addMouseListener(new MouseAdapter() {
            @Override
            public void mousePressed(MouseEvent event) {
                int row = table.rowAtPoint(event.getPoint());
                if (row >= 0 && table.columnAtPoint(event.getPoint()) <= ReadoutTable.TRACE) {
                    Traced trace = rows.trace(row);
                    model.switchTrace(trace, !model.isOn(trace));
                }
            }
        });
        layOut(table.getColumnModel());
        return table;
    }

    private void layOut(TableColumnModel columns) {
        columns.getColumn(ReadoutTable.ON).setMaxWidth(40);
        columns.getColumn(ReadoutTable.ON).setHeaderRenderer(ReadoutPane::heading);
        columns.getColumn(ReadoutTable.TRACE).setHeaderRenderer(ReadoutPane::heading);
        columns.getColumn(ReadoutTable.TRACE).setPreferredWidth(260);
        columns.getColumn(ReadoutTable.TRACE).setCellRenderer(new Name());
        for (int column = 2; column < columns.getColumnCount(); column++) {
            DefaultTableCellRenderer right = new DefaultTableCellRenderer();
            right.setHorizontalAlignment(SwingConstants.RIGHT);
            columns.getColumn(column).setCellRenderer(right);
            columns.getColumn(column).setHeaderRenderer(ReadoutPane::heading);
            columns.getColumn(column).setPreferredWidth(190);
        }
    }

    /** The heading that the look in use has, over numbers that stand at the right. */
    private static Component heading(
            JTable table, Object value, boolean selected, boolean focused, int row, int column) {
        Component usual = table.getTableHeader()
                .getDefaultRenderer()
                .getTableCellRendererComponent(table, value, selected, focused, row, column);
        if (usual instanceof JLabel label) {
            label.setHorizontalAlignment(column < 2 ? SwingConstants.LEADING : SwingConstants.RIGHT);
        }
        return usual;
    }

    /** The name of a trace after a sample of its line. */
    private final class Name extends DefaultTableCellRenderer {
        private static final long serialVersionUID = 1L;

        @Override
        public Component getTableCellRendererComponent(
                JTable table, Object value, boolean selected, boolean focused, int row, int column) {
            super.getTableCellRendererComponent(table, value, selected, focused, row, column);
            setIcon(new Sample(rows.trace(row)));
            setIconTextGap(8);
            setForeground(model.isOn(rows.trace(row)) ? table.getForeground() : Color.GRAY);
            return this;
        }
    }

    /** A sample of the line of a trace. */
    private record Sample(Traced trace) implements Icon {
        @Override
        public void paintIcon(Component component, Graphics graphics, int x, int y) {
            Graphics2D g = (Graphics2D) graphics.create();
            g.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
            g.setColor(trace.style().color());
            g.setStroke(trace.style().stroke());
            g.drawLine(x, y + getIconHeight() / 2, x + getIconWidth(), y + getIconHeight() / 2);
            g.dispose();
        }

        @Override
        public int getIconWidth() {
            return 28;
        }

        @Override
        public int getIconHeight() {
            return 10;
        }
    }

    private void update() {
        Readout readout = model.readout();
        timeA.setText(time(readout.timeA(), TIME_DIGITS));
        timeB.setText(time(readout.timeB(), TIME_DIGITS));
        interval.setText(time(readout.interval(), DIGITS));
        frequency.setText(
                readout.interval() == 0 ? "\u2013" : Quantity.format(readout.frequency(), Unit.HERTZ, DIGITS));
        rows.show(readout);
    }

    private static String time(double seconds, int digits) {
        return Quantity.format(seconds, Unit.SECOND, digits).replace('-', '\u2212');
    }

    /** What is written in a row, for tests. */
    String cell(int row, int column) {
        return String.valueOf(rows.getValueAt(row, column));
    }

    String timeLine() {
        return String.join(" | ", timeA.getText(), timeB.getText(), interval.getText(), frequency.getText());
    }
}
