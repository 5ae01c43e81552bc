package org.voltsecond.plot.page;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
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

    private final DesignTree tree;
    private final StringBuilder html = new StringBuilder();
    private int controls;

    private ControlPanel(DesignTree tree) {
        this.tree = tree;
    }

    /** The script that computes; empty where the build has made none. */
    static Optional<String> engine() {
        try (InputStream stream = ControlPanel.class.getResourceAsStream(ENGINE)) {
            return stream == null
                    ? Optional.empty()
                    : Optional.of(inElement(new String(stream.readAllBytes(), StandardCharsets.UTF_8)));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
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
            safe.append(plain ? String.valueOf(c) : String.format("%%%04x", (int) c));
        }
        return safe.toString();
    }

    private String write() {
        html.append("<form class=\"live\" hidden autocomplete=\"off\">\n<div class=\"live-tools\">")
                .append(button("undo", "Undo"))
                .append(button("redo", "Redo"))
                .append(button("reset", "As in the file"))
                .append("<label><input type=\"checkbox\" class=\"live-ghost\" checked> show where it started</label>")
                .append("<a class=\"live-link\" href=\"#\">Link to this setting</a>")
                .append(button("file", "Take as design file"))
                .append(
                        "</div>\n<p class=\"live-state\" role=\"status\" aria-live=\"polite\"></p>\n<div class=\"live-groups\">\n");
        Map<String, Set<Setting>> groups = new LinkedHashMap<>();
        tree.settings()
                .forEach(setting -> groups.computeIfAbsent(setting.of(), of -> new LinkedHashSet<>())
                        .add(setting));
        List<String> folded = new ArrayList<>();
        groups.forEach((of, settings) -> {
            if (settings.iterator().next().isAside()) {
                folded.add(of);
            } else {
                group(of, groups);
            }
        });
        if (!folded.isEmpty()) {
            html.append("<details><summary>Run, limits and protection</summary>\n");
            folded.forEach(of -> group(of, groups));
            html.append("</details>\n");
        }
        return html.append("</div>\n</form>\n").toString();
    }

    private static String button(String name, String text) {
        return "<button type=\"button\" class=\"live-" + name + "\">" + text + "</button>";
    }

    private void group(String of, Map<String, Set<Setting>> groups) {
        html.append("<fieldset><legend><bdi>").append(Markup.of(of)).append("</bdi></legend>\n");
        Objects.requireNonNull(groups.get(of)).forEach(this::control);
        html.append("</fieldset>\n");
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
                .append("</bdi> <output for=\"")
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
                .append("-fault\"><input type=\"range\" min=\"0\" max=\"")
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
    }

    /** With all digits, and none more: 12 and 2.2e-5. */
    private static String plain(double value) {
        return String.valueOf(value).replaceFirst("\\.0(?=$|E)", "").replace('E', 'e');
    }
}
