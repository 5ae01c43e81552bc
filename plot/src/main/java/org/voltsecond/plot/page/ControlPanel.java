package org.voltsecond.plot.page;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.voltsecond.design.DesignKeys;
import org.voltsecond.design.DesignTree;
import org.voltsecond.design.DesignTree.Setting;
import org.voltsecond.units.Quantity;

/**
 * Fields and sliders for the values of a design, with the engine that works them out in the page: a script that the build makes of
 * this library. Without that script a page is without controls.
 */
final class ControlPanel {
    private static final String ENGINE = "/org/voltsecond/plot/live/engine.js";
    /** Steps of a slider: one is less than a pixel of most screens. */
    private static final int STEPS = 1000;
    /** In the order in which most readers ask about them. */
    private static final List<String> FIRST =
            List.of("input.", "load.", "drive.", "gate[", "inductor.", "transformer.", "output_capacitor.");

    /** What stands open: what most readers ask about. The rest is folded away by subject. */
    private enum Subject {
        OPEN(""),
        LOSSES("Drops and resistances"),
        REGULATOR("Regulator"),
        FURTHER("Further parts"),
        RUN("Run, limits and protection");

        private static final Set<String> ASKED_OF_DRIVE =
                Set.of("duty_cycle", "duty_cycles", "reference", "switching_frequency", "current");

        private final String words;

        Subject(String words) {
            this.words = words;
        }

        /** By the first and last word of the key: all parts of a custom circuit are its own, so only their drops are folded. */
        static Subject of(Setting setting, boolean custom) {
            String[] words = setting.key().split("[.\\[]", -1);
            String last = words[words.length - 1];
            if (setting.isAside()) {
                return RUN;
            }
            if (words[0].equals("drive")) {
                return ASKED_OF_DRIVE.contains(words[1]) ? OPEN : REGULATOR;
            }
            boolean asked = FIRST.stream().anyMatch(setting.key()::startsWith);
            boolean drops = setting.key().startsWith("transistor.")
                    || setting.key().startsWith("rectifier.")
                    || last.equals("on_resistance")
                    || last.equals("forward_drop");
            boolean series = last.endsWith("resistance") && asked && !words[0].equals("load");
            if (drops || (series && !words[0].equals("output_capacitor"))) {
                return LOSSES;
            }
            return asked || custom ? OPEN : FURTHER;
        }
    }

    /** A question that every reader has of a fixed duty cycle. Its field is no value of the design. */
    private static final String WANTED =
            "<div class=\"control wanted\"><label for=\"wanted-output\">duty cycle for an output of</label>"
                    + "<button type=\"button\" class=\"live-find\">Find duty cycle</button>"
                    + "<input type=\"text\" inputmode=\"decimal\" spellcheck=\"false\" id=\"wanted-output\""
                    + " aria-describedby=\"wanted-output-fault\"><span class=\"unit\" aria-hidden=\"true\">V</span>"
                    + "<p class=\"fault\" id=\"wanted-output-fault\" role=\"alert\"></p></div>\n";

    private final DesignTree tree;
    private final StringBuilder html = new StringBuilder();
    private int controls;

    private ControlPanel(DesignTree tree) {
        this.tree = tree;
    }

    /** The script that computes; empty where the build has made none. */
    static Optional<String> engine() {
        return Script.TEXT;
    }

    /** A megabyte that every page carries: read once, when first asked for. */
    private static final class Script {
        static final Optional<String> TEXT = read();

        private Script() {}

        private static Optional<String> read() {
            try (InputStream stream = ControlPanel.class.getResourceAsStream(ENGINE)) {
                return stream == null
                        ? Optional.empty()
                        : Optional.of(inElement(new String(stream.readAllBytes(), StandardCharsets.UTF_8)));
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }
    }

    /** Markup in texts of the script must not be taken for the end of the element that it stands in, or for another within. */
    private static String inElement(String script) {
        return script.replace("</script", "<\\/script")
                .replace("<script", "<\\script")
                .replace("<!--", "<\\!--");
    }

    /** Hidden until the script of the page finds that it can compute. */
    static String html(DesignTree tree) {
        return new ControlPanel(tree).write();
    }

    /** What the script reads: the design and the keys. */
    static String data(DesignTree tree) {
        return "<script type=\"text/plain\" id=\"design-values\">" + inScript(tree.lines())
                + "</script>\n<script type=\"text/plain\" id=\"design-keys\">" + inScript(DesignKeys.source())
                + "</script>\n";
    }

    /** Nothing in the text can end the element or turn the direction of what is shown; the reader of the page puts it back. */
    private static String inScript(String text) {
        StringBuilder safe = new StringBuilder(text.length());
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            boolean plain = c == '\n' || c == '\t' || (c >= ' ' && c < 127 && "<>&%".indexOf(c) < 0);
            if (plain) {
                safe.append(c);
            } else {
                String digits = Integer.toHexString(c);
                safe.append("%0000", 0, 5 - digits.length()).append(digits);
            }
        }
        return safe.toString();
    }

    private String write() {
        html.append("<form class=\"live\" hidden autocomplete=\"off\">\n<div class=\"live-tools\">")
                .append(button("undo", "Undo"))
                .append(button("redo", "Redo"))
                .append(button("reset", "As in the file"))
                .append(
                        "<label><input type=\"checkbox\" class=\"live-ghost\" checked> show the starting waveforms</label>")
                .append("<a class=\"live-link\" href=\"#\">Link to this setting</a>")
                .append(button("file", "Take as design file"))
                .append(
                        "</div>\n<p class=\"live-state\" role=\"status\" aria-live=\"polite\"></p>\n<div class=\"live-groups\">\n");
        boolean custom = tree.settings().stream().noneMatch(each -> each.key().startsWith("input."));
        Map<Subject, List<Setting>> subjects = tree.settings().stream()
                .sorted(Comparator.comparingInt(ControlPanel::rank))
                .collect(Collectors.groupingBy(
                        each -> Subject.of(each, custom), () -> new EnumMap<>(Subject.class), Collectors.toList()));
        subjects.forEach((subject, settings) -> {
            boolean folded = subject != Subject.OPEN;
            html.append(folded ? "<details><summary>" + subject.words + "</summary>\n" : "");
            groups(settings);
            html.append(folded ? "</details>\n" : "");
        });
        return html.append("</div>\n</form>\n").toString();
    }

    private static int rank(Setting setting) {
        return IntStream.range(0, FIRST.size())
                .filter(k -> setting.key().startsWith(FIRST.get(k)))
                .findFirst()
                .orElse(FIRST.size());
    }

    private void groups(List<Setting> settings) {
        Map<String, List<Setting>> groups =
                settings.stream().collect(Collectors.groupingBy(Setting::of, LinkedHashMap::new, Collectors.toList()));
        groups.forEach((of, each) -> {
            html.append("<fieldset><legend><bdi>").append(Markup.of(of)).append("</bdi></legend>\n");
            each.forEach(this::control);
            html.append("</fieldset>\n");
        });
    }

    private static String button(String name, String text) {
        return "<button type=\"button\" class=\"live-" + name + "\">" + text + "</button>";
    }

    private void control(Setting setting) {
        controls++;
        String id = "control-" + controls;
        String now = Quantity.format(setting.value(), setting.unit());
        html.append("<div class=\"control\"><label for=\"")
                .append(id)
                .append("\" title=\"")
                .append(Markup.of(setting.meaning()))
                .append("\"><bdi>")
                .append(Markup.of(setting.words()))
                .append("</bdi> <output aria-live=\"off\" for=\"")
                .append(id)
                .append("\">")
                .append(Markup.of(now))
                .append("</output></label><input type=\"text\" inputmode=\"decimal\" spellcheck=\"false\" id=\"")
                .append(id)
                .append("\" data-key=\"")
                .append(Markup.of(setting.key()))
                .append("\" data-unit=\"")
                .append(Markup.of(setting.unit().symbol()))
                .append("\" value=\"")
                .append(plain(setting.value()))
                .append("\" aria-describedby=\"")
                .append(id)
                .append("-fault\"><span class=\"unit\" aria-hidden=\"true\">")
                .append(Markup.of(setting.unit().symbol()))
                .append("</span><input type=\"range\" min=\"0\" max=\"")
                .append(STEPS)
                .append("\" data-low=\"")
                .append(setting.low())
                .append("\" data-high=\"")
                .append(setting.high())
                .append("\" data-even=\"")
                .append(setting.isGeometric())
                .append("\" aria-label=\"")
                .append(Markup.of(setting.of() + " " + setting.words()))
                .append(", slider\"><p class=\"fault\" id=\"")
                .append(id)
                .append("-fault\"></p></div>\n");
        if (setting.key().equals("drive.duty_cycle")) {
            html.append(WANTED);
        }
    }

    /** With all digits, and none more: 12 and 2.2e-5. */
    private static String plain(double value) {
        return String.valueOf(value).replaceFirst("\\.0(?=$|E)", "").replace('E', 'e');
    }
}
