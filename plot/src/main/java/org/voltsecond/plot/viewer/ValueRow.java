package org.voltsecond.plot.viewer;

import java.awt.BorderLayout;
import java.awt.Color;
import java.awt.Dimension;
import java.awt.Font;
import java.awt.event.FocusAdapter;
import java.awt.event.FocusEvent;
import javax.swing.BorderFactory;
import javax.swing.JLabel;
import javax.swing.JPanel;
import javax.swing.JSlider;
import javax.swing.JTextArea;
import javax.swing.JTextField;
import javax.swing.event.DocumentEvent;
import javax.swing.event.DocumentListener;
import org.voltsecond.design.DesignTree.Setting;

/** A value of a design: its name, a field to type it in with its unit, a slider, and below them what is wrong with it. */
final class ValueRow extends JPanel {
    private static final long serialVersionUID = 1L;
    /** Steps of a slider: one is less than a pixel. */
    private static final int STEPS = 1000;

    private static final int COLUMNS = 8;
    private static final Font TEXT = new Font(Font.SANS_SERIF, Font.PLAIN, 13);
    /** Red on light and on dark ground. */
    private static final Color WRONG = new Color(0xb0, 0x20, 0x20);

    private static final Color WRONG_ON_DARK = new Color(0xff, 0x90, 0x80);

    private final transient DesignModel design;
    private final transient Setting setting;
    private final JTextField field = new JTextField(COLUMNS);
    private final JSlider slider = new JSlider(0, STEPS);
    private final JTextArea fault = new JTextArea();
    private boolean following;

    ValueRow(DesignModel design, Setting setting) {
        super(new BorderLayout(6, 0));
        this.design = design;
        this.setting = setting;
        setBorder(BorderFactory.createEmptyBorder(1, 8, 1, 8));
        JLabel name = new JLabel(setting.words());
        name.setFont(TEXT);
        name.setToolTipText(setting.meaning());
        name.setLabelFor(field);
        name.setPreferredSize(new Dimension(150, name.getPreferredSize().height));
        field.setFont(TEXT);
        field.setToolTipText(setting.meaning() + " Valid: " + setting.range() + ".");
        field.getAccessibleContext().setAccessibleName(setting.of() + " " + setting.words());
        slider.setPreferredSize(new Dimension(120, slider.getPreferredSize().height));
        slider.getAccessibleContext().setAccessibleName(setting.of() + " " + setting.words() + ", slider");
        fault.setFont(TEXT);
        fault.setEditable(false);
        fault.setFocusable(false);
        fault.setOpaque(false);
        fault.setLineWrap(true);
        fault.setWrapStyleWord(true);
        JPanel typed = new JPanel(new BorderLayout(6, 0));
        typed.add(name, BorderLayout.WEST);
        typed.add(field, BorderLayout.CENTER);
        add(typed, BorderLayout.WEST);
        add(slider, BorderLayout.CENTER);
        add(fault, BorderLayout.SOUTH);
        follow();
        listen();
        design.onChange(this::follow);
    }

    private void listen() {
        field.getDocument().addDocumentListener(new DocumentListener() {
            @Override
            public void insertUpdate(DocumentEvent event) {
                typed();
            }

            @Override
            public void removeUpdate(DocumentEvent event) {
                typed();
            }

            @Override
            public void changedUpdate(DocumentEvent event) {
                typed();
            }
        });
        field.addActionListener(event -> design.settle());
        field.addFocusListener(new FocusAdapter() {
            @Override
            public void focusLost(FocusEvent event) {
                design.settle();
            }
        });
        slider.addChangeListener(event -> slid());
    }

    private void typed() {
        if (!following) {
            design.type(setting, field.getText());
        }
    }

    private void slid() {
        if (following) {
            return;
        }
        design.slide(setting, (double) slider.getValue() / STEPS);
        if (!slider.getValueIsAdjusting()) {
            design.settle();
        }
    }

    /** What somebody is typing, or dragging, is left as it is. */
    private void follow() {
        following = true;
        String text = design.text(setting);
        if (!field.getText().strip().equals(text)) {
            field.setText(text);
            field.setCaretPosition(0);
        }
        if (!slider.getValueIsAdjusting()) {
            slider.setValue((int) Math.round(STEPS * setting.shareOf(design.value(setting))));
        }
        String wrong = design.faultOf(setting);
        if (!fault.getText().equals(wrong)) {
            fault.setText(wrong);
            fault.setForeground(isDark(getBackground()) ? WRONG_ON_DARK : WRONG);
            field.getAccessibleContext().setAccessibleDescription(wrong);
            revalidate();
        }
        fault.setVisible(!wrong.isEmpty());
        following = false;
    }

    static Color warning(Color ground) {
        return isDark(ground) ? WRONG_ON_DARK : WRONG;
    }

    private static boolean isDark(Color ground) {
        return ground.getRed() + ground.getGreen() + ground.getBlue() < 3 * 128;
    }

    Setting setting() {
        return setting;
    }

    JTextField field() {
        return field;
    }

    JSlider slider() {
        return slider;
    }

    /** What is said to be wrong, for tests. */
    String said() {
        return fault.isVisible() ? fault.getText() : "";
    }
}
