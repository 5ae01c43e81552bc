package org.voltsecond.plot.beside;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.voltsecond.design.DesignException;
import org.voltsecond.design.DesignFile;
import org.voltsecond.design.DesignTree;
import org.voltsecond.figures.LimitCheck;
import org.voltsecond.figures.PlacedFigure;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.report.Findings;
import org.voltsecond.review.Review;
import org.voltsecond.review.StressCheck;
import org.voltsecond.revision.Difference;
import org.voltsecond.revision.LimitDifference;
import org.voltsecond.units.Printable;

/**
 * Two revisions of a design, or two designs of any kind, beside each other.
 *
 * <pre>{@code
 * Converter other = StageValue.INDUCTANCE.set(rail, micro(33));
 * Revisions revisions = Revisions.of(Findings.of(rail), Findings.of(other));
 * boolean differ = revisions.figures().stream().anyMatch(figure -> !figure.isSame()); // true
 * revisions.writeTo(folder, true);
 * }</pre>
 *
 * @param before the first revision
 * @param after the second revision
 */
public record Revisions(Revision before, Revision after) {
    /** What is no figure of the design: told elsewhere, words about the figures, or nothing but rounding. */
    private static final List<String> TOLD_ELSEWHERE = List.of("name", "checks/", "ratings/", "notes/", "cautions/");

    private static final String ROUNDING = "residual";

    /**
     * One of the two.
     *
     * @param label what it is called, for example the name of its file
     * @param findings what it does
     * @param given the text of its file; empty for a converter alone
     * @param text the text of the design that was run; another one than the file has where the file asks for a proposal
     */
    public record Revision(String label, Findings findings, String given, String text) {}

    /**
     * Lays what was found about two converters beside each other.
     *
     * @param before what the first one does
     * @param after what the second one does
     * @return both
     */
    public static Revisions of(Findings before, Findings after) {
        return new Revisions(new Revision(before.name(), before, "", ""), new Revision(after.name(), after, "", ""));
    }

    /**
     * Compares the files.
     *
     * @return what differs, key by key; nothing where one has no file
     */
    public List<Difference> file() {
        return compared(before.given(), after.given());
    }

    /**
     * Compares the designs that were run where they are others than the files have: those that were proposed.
     *
     * @return what differs, key by key; nothing where both files have the design itself
     */
    public List<Difference> proposed() {
        boolean asGiven = before.text().equals(before.given()) && after.text().equals(after.given());
        return asGiven ? List.of() : compared(before.text(), after.text());
    }

    private List<Difference> compared(String first, String second) {
        return first.isEmpty() || second.isEmpty()
                ? List.of()
                : Difference.ofDesigns(tree(before.label(), first), tree(after.label(), second));
    }

    private static DesignTree tree(String label, String text) {
        try {
            return DesignFile.tree(label, text);
        } catch (DesignException e) {
            throw new IllegalArgumentException("a text that is no design file: " + e.getMessage(), e);
        }
    }

    /**
     * Compares the figures.
     *
     * @return each that at least one of them has, at its place in figures.json, but for residuals, which are rounding
     */
    public List<Difference> figures() {
        return Difference.ofFigures(told(before.findings()), told(after.findings()));
    }

    private static List<PlacedFigure> told(Findings findings) {
        return findings.figures().stream()
                .filter(figure -> TOLD_ELSEWHERE.stream().noneMatch(figure.place()::startsWith)
                        && !figure.key().contains(ROUNDING))
                .toList();
    }

    /**
     * Compares the limits.
     *
     * @return what became of each
     */
    public List<LimitDifference> limits() {
        return LimitDifference.between(
                before.findings().checks(), after.findings().checks());
    }

    /**
     * Compares the ratings of parts.
     *
     * @return what became of each
     */
    public List<LimitDifference> ratings() {
        return LimitDifference.between(rated(before.findings()), rated(after.findings()));
    }

    private static List<LimitCheck> rated(Findings findings) {
        Review review = findings.review();
        return review == null
                ? List.of()
                : review.stresses().stream().map(StressCheck::check).toList();
    }

    /**
     * Returns the cautions of both.
     *
     * @return one sentence or two each
     */
    public List<String> cautions() {
        Set<String> all = new LinkedHashSet<>(before.findings().cautions());
        all.addAll(after.findings().cautions());
        return List.copyOf(all);
    }

    /**
     * Draws the waveforms of both over each other.
     *
     * @return pictures of steady state, transient, start and changes, as far as there are such, by the names of their files
     */
    public Map<String, Picture> pictures() {
        Map<String, Picture> pictures = new LinkedHashMap<>();
        for (Overlaid each : Overlaid.all(before.findings(), after.findings())) {
            pictures.put(each.file(), each.picture(legend()));
        }
        return pictures;
    }

    /** What stands above everything. */
    String heading() {
        return before.label() + " beside " + after.label();
    }

    private String legend() {
        return "before: " + Printable.of(before.label()) + ", after: " + Printable.of(after.label());
    }

    /**
     * Returns a few lines for a terminal.
     *
     * @return what changed, what became of limits, and the figures that one looks at first
     */
    public List<String> summary() {
        return BesideTables.summary(this);
    }

    /**
     * Returns the page.
     *
     * @return the text of an HTML file that needs nothing but a browser
     */
    public String html() {
        return new BesidePage(this).html();
    }

    /**
     * Returns everything for a program.
     *
     * @return JSON: "file" with the changed keys, "figures", "limits", "ratings"; numbers in SI units
     */
    public String json() {
        return BesideTables.json(this);
    }

    /**
     * Writes {@code beside.json} and {@code beside.csv}, and with pictures {@code beside.html} and the waveforms over each other as
     * PNG and SVG.
     *
     * @param folder the folder; made if it does not exist
     * @param pictured whether to write the page and pictures
     * @throws IOException if a file cannot be written
     */
    public void writeTo(Path folder, boolean pictured) throws IOException {
        Files.createDirectories(folder);
        Files.writeString(folder.resolve("beside.json"), json());
        Files.writeString(folder.resolve("beside.csv"), BesideTables.csv(figures()));
        if (pictured) {
            Files.writeString(folder.resolve("beside.html"), html());
            for (Map.Entry<String, Picture> picture : pictures().entrySet()) {
                picture.getValue().writePng(folder.resolve(picture.getKey() + ".png"));
                picture.getValue().writeSvg(folder.resolve(picture.getKey() + ".svg"));
            }
        }
    }
}
