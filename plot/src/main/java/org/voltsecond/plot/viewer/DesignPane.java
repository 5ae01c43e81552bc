package org.voltsecond.plot.viewer;

import java.awt.BorderLayout;
import java.awt.Component;
import java.awt.Dimension;
import java.awt.FlowLayout;
import java.awt.Font;
import java.awt.KeyboardFocusManager;
import java.awt.Rectangle;
import java.awt.event.ActionEvent;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import javax.swing.AbstractAction;
import javax.swing.AbstractButton;
import javax.swing.BorderFactory;
import javax.swing.Box;
import javax.swing.BoxLayout;
import javax.swing.JButton;
import javax.swing.JCheckBox;
import javax.swing.JComponent;
import javax.swing.JFileChooser;
import javax.swing.JLabel;
import javax.swing.JOptionPane;
import javax.swing.JPanel;
import javax.swing.JScrollPane;
import javax.swing.JSplitPane;
import javax.swing.JTable;
import javax.swing.JTextArea;
import javax.swing.KeyStroke;
import javax.swing.Scrollable;
import org.voltsecond.design.DesignException;
import org.voltsecond.design.DesignTree.Setting;

/** Fields and sliders for the values of a design, and below them its figures beside those of the file. */
final class DesignPane extends JPanel {
    private static final long serialVersionUID = 1L;
    private static final Font TEXT = new Font(Font.SANS_SERIF, Font.PLAIN, 13);
    private static final Font BOLD = TEXT.deriveFont(Font.BOLD);
    private static final int WIDTH = 450;
    private static final int HEIGHT = 820;
    private static final int ROW = 20;

    private final transient DesignModel design;
    private final List<ValueRow> values = new ArrayList<>();
    private final FigureTable figures = new FigureTable();
    private final JTextArea state = new JTextArea();

    DesignPane(DesignModel design) {
        super(new BorderLayout());
        this.design = design;
        state.setFont(TEXT);
        state.setEditable(false);
        state.setFocusable(false);
        state.setOpaque(false);
        state.setLineWrap(true);
        state.setWrapStyleWord(true);
        state.setBorder(BorderFactory.createEmptyBorder(2, 8, 2, 8));
        JPanel top = new JPanel(new BorderLayout());
        top.add(tools(), BorderLayout.NORTH);
        top.add(state, BorderLayout.SOUTH);
        add(top, BorderLayout.NORTH);
        JSplitPane split = new JSplitPane(JSplitPane.VERTICAL_SPLIT, fields(), figureTable());
        split.setResizeWeight(0.55);
        split.setContinuousLayout(true);
        add(split, BorderLayout.CENTER);
        setPreferredSize(new Dimension(WIDTH, HEIGHT));
        setMinimumSize(new Dimension(WIDTH, 200));
        bind();
        follow();
        design.onChange(this::follow);
    }

    private JPanel tools() {
        JPanel first = new JPanel(new FlowLayout(FlowLayout.LEADING, 4, 2));
        AbstractButton undo = button(first, "Undo", "the values before (Ctrl+Z)", design::undo);
        AbstractButton redo = button(first, "Redo", "the values that were undone (Ctrl+Y)", design::redo);
        AbstractButton reset = button(first, "As in the file", "all values as in the file", design::reset);
        button(first, "Save design file\u2026", "these values as a file to run (Ctrl+S)", this::save);
        JPanel second = new JPanel(new FlowLayout(FlowLayout.LEADING, 4, 2));
        JCheckBox start = box(second, "Compare with the file", "waveforms of the file in grey, its figures beside");
        start.addActionListener(event -> design.showStart(start.isSelected()));
        JCheckBox run = box(second, "Transient", "the transient of the file; off: the steady state");
        run.addActionListener(event -> design.showRun(run.isSelected()));
        run.setVisible(design.hasRun());
        design.onChange(() -> {
            undo.setEnabled(design.canUndo());
            redo.setEnabled(design.canRedo());
            reset.setEnabled(design.isChanged());
            start.setSelected(design.showsStart());
            run.setSelected(design.showsRun());
        });
        JPanel both = new JPanel();
        both.setLayout(new BoxLayout(both, BoxLayout.PAGE_AXIS));
        both.add(first);
        both.add(second);
        return both;
    }

    private static AbstractButton button(JPanel line, String text, String explanation, Runnable action) {
        JButton button = new JButton(text);
        button.setFont(TEXT);
        button.setToolTipText(explanation);
        button.addActionListener(event -> action.run());
        line.add(button);
        return button;
    }

    private static JCheckBox box(JPanel line, String text, String explanation) {
        JCheckBox box = new JCheckBox(text);
        box.setFont(TEXT);
        box.setToolTipText(explanation);
        line.add(box);
        return box;
    }

    /** What most readers change comes first, as in the page. */
    private JScrollPane fields() {
        Column column = new Column();
        Map<String, List<Setting>> groups = new LinkedHashMap<>();
        for (boolean aside : new boolean[] {false, true}) {
            design.settings().stream()
                    .filter(setting -> setting.isAside() == aside)
                    .forEach(setting -> groups.computeIfAbsent(setting.of(), of -> new ArrayList<>())
                            .add(setting));
        }
        groups.forEach((of, settings) -> {
            JLabel heading = new JLabel(of);
            heading.setFont(BOLD);
            heading.setBorder(BorderFactory.createEmptyBorder(6, 8, 1, 8));
            column.line(heading);
            for (Setting setting : settings) {
                ValueRow row = new ValueRow(design, setting);
                values.add(row);
                column.line(row);
            }
        });
        column.add(Box.createVerticalGlue());
        JScrollPane scroll = new JScrollPane(column);
        scroll.setHorizontalScrollBarPolicy(JScrollPane.HORIZONTAL_SCROLLBAR_NEVER);
        scroll.getVerticalScrollBar().setUnitIncrement(ROW);
        scroll.setPreferredSize(new Dimension(WIDTH, 360));
        return scroll;
    }

    /** As wide as what it scrolls in, however long a fault is. */
    private static final class Column extends JPanel implements Scrollable {
        private static final long serialVersionUID = 1L;

        Column() {
            setLayout(new BoxLayout(this, BoxLayout.PAGE_AXIS));
        }

        void line(JComponent component) {
            component.setAlignmentX(Component.LEFT_ALIGNMENT);
            add(component);
        }

        @Override
        public Dimension getPreferredScrollableViewportSize() {
            return getPreferredSize();
        }

        @Override
        public int getScrollableUnitIncrement(Rectangle visible, int orientation, int direction) {
            return ROW;
        }

        @Override
        public int getScrollableBlockIncrement(Rectangle visible, int orientation, int direction) {
            return visible.height;
        }

        @Override
        public boolean getScrollableTracksViewportWidth() {
            return true;
        }

        @Override
        public boolean getScrollableTracksViewportHeight() {
            return false;
        }
    }

    private JScrollPane figureTable() {
        JTable table = new JTable(figures);
        table.setFont(TEXT);
        table.setRowHeight(ROW);
        table.setShowGrid(false);
        table.getTableHeader().setFont(BOLD);
        table.getTableHeader().setReorderingAllowed(false);
        table.getColumnModel().getColumn(0).setPreferredWidth(WIDTH / 2);
        table.setDefaultRenderer(Object.class, new FigureTable.Renderer());
        table.getAccessibleContext().setAccessibleName("figures of the design");
        // the tabulator leads out of it, as out of everything else
        table.setFocusTraversalKeys(KeyboardFocusManager.FORWARD_TRAVERSAL_KEYS, null);
        table.setFocusTraversalKeys(KeyboardFocusManager.BACKWARD_TRAVERSAL_KEYS, null);
        JScrollPane scroll = new JScrollPane(table);
        scroll.setPreferredSize(new Dimension(WIDTH, 280));
        return scroll;
    }

    private void bind() {
        on("ctrl Z", design::undo);
        on("ctrl Y", design::redo);
        on("ctrl shift Z", design::redo);
        on("ctrl S", this::save);
    }

    private void on(String stroke, Runnable action) {
        getInputMap(WHEN_IN_FOCUSED_WINDOW).put(KeyStroke.getKeyStroke(stroke), stroke);
        getActionMap().put(stroke, new AbstractAction() {
            private static final long serialVersionUID = 1L;

            @Override
            public void actionPerformed(ActionEvent event) {
                action.run();
            }
        });
    }

    private void follow() {
        figures.show(
                DesignFigures.of(design.found()),
                DesignFigures.of(design.isChanged() && design.showsStart() ? design.start() : null));
        String text;
        if (design.hasFaults()) {
            List<String> lines = new ArrayList<>(design.otherFaults());
            lines.add("Waveforms and figures are those of the last valid values.");
            text = String.join("\n", lines);
        } else {
            text = design.found() == null ? "Simulating the values of the file\u2026" : "";
        }
        state.setForeground(design.hasFaults() ? ValueRow.warning(getBackground()) : getForeground());
        state.setText(text);
        state.setVisible(!text.isEmpty());
    }

    private void save() {
        String text;
        try {
            text = design.file();
        } catch (DesignException e) {
            String faults = String.join(
                    "\n",
                    e.faults().stream()
                            .map(fault -> fault.field() + ": " + fault.message())
                            .toList());
            JOptionPane.showMessageDialog(this, faults, "Not a valid design yet", JOptionPane.WARNING_MESSAGE);
            return;
        }
        JFileChooser chooser = new JFileChooser();
        chooser.setSelectedFile(Path.of(design.name().replaceAll("[^\\p{L}\\p{N}_-]+", "-") + ".toml")
                .toFile());
        if (chooser.showSaveDialog(this) == JFileChooser.APPROVE_OPTION) {
            write(chooser.getSelectedFile().toPath(), text);
        }
    }

    private void write(Path file, String text) {
        if (Files.exists(file)
                && JOptionPane.showConfirmDialog(
                                this, file + " exists. Replace it?", "Save", JOptionPane.OK_CANCEL_OPTION)
                        != JOptionPane.OK_OPTION) {
            return;
        }
        try {
            // whole or not at all
            Path beside = Files.createTempFile(file.toAbsolutePath().getParent(), "design", ".part");
            Files.writeString(beside, text);
            Files.move(beside, file, StandardCopyOption.REPLACE_EXISTING);
        } catch (IOException e) {
            JOptionPane.showMessageDialog(
                    this, file + " cannot be written: " + e, "Not saved", JOptionPane.ERROR_MESSAGE);
        }
    }

    /** The row of a value, for tests. */
    ValueRow row(String key) {
        return values.stream()
                .filter(row -> row.setting().key().equals(key))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("there is no field for " + key));
    }

    FigureTable figures() {
        return figures;
    }

    /** What is said above the fields, for tests. */
    String said() {
        return state.getText();
    }
}
