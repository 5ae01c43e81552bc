package org.voltsecond.plot.beside;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.figures.Headlines;
import org.voltsecond.figures.LimitCheck;
import org.voltsecond.plot.page.Cell;
import org.voltsecond.plot.page.Page;
import org.voltsecond.plot.page.PageTable;
import org.voltsecond.plot.page.Schematic;
import org.voltsecond.plot.report.Findings;
import org.voltsecond.revision.Difference;
import org.voltsecond.revision.LimitDifference;
import org.voltsecond.units.Printable;

/** Writes beside.html: two revisions on one page that needs nothing but a browser. */
final class BesidePage {
    /** Headings by the beginning of the places below them; what begins otherwise stands under the last one. */
    private static final Map<String, String> GROUPS = groups();

    private final Revisions revisions;
    private final Page page;

    BesidePage(Revisions revisions) {
        this.revisions = revisions;
        this.page = Page.titled(Printable.of(revisions.heading()));
    }

    private static Map<String, String> groups() {
        Map<String, String> groups = new LinkedHashMap<>();
        groups.put("steady_state", "Figures of the steady state");
        groups.put("transient", "Figures of the transient");
        groups.put("frequency_response", "Figures of the frequency response");
        groups.put("", "Further figures");
        return groups;
    }

    String html() {
        List<Difference> figures = revisions.figures();
        page.heading("At a glance");
        addGlance(figures);
        page.heading("Cautions").cautions(revisions.cautions());
        addFile("What changed in the file", revisions.file());
        addFile("What changed in the design that is proposed", revisions.proposed());
        addLimits("Limits", "limit", revisions.limits());
        addLimits("Ratings", "rating", revisions.ratings());
        page.heading("Key figures").table(table(BesideTables.first(figures)));
        page.heading("Waveforms");
        Overlaid.all(before(), after()).forEach(each -> page.waveforms(each.figure()));
        addStages();
        addFigures(figures);
        addText("Design file before", revisions.before());
        addText("Design file after", revisions.after());
        return page.html();
    }

    private Findings before() {
        return revisions.before().findings();
    }

    private Findings after() {
        return revisions.after().findings();
    }

    private void addGlance(List<Difference> figures) {
        page.table(PageTable.headed("revision", "file", "design", "what it is")
                .row("before", revisions.before().label(), before().name(), before().subtitle())
                .row("after", revisions.after().label(), after().name(), after().subtitle()));
        PageTable first = PageTable.headed("first of all", "before", "after");
        Map<String, String> lines = new LinkedHashMap<>();
        Headlines.of(before().steadyState()).forEach(line -> lines.put(line.label(), ""));
        Headlines.of(after().steadyState()).forEach(line -> lines.put(line.label(), ""));
        lines.keySet()
                .forEach(label ->
                        first.row(List.of(Cell.of(label), headline(before(), label), headline(after(), label))));
        if (!lines.isEmpty()) {
            page.table(first);
        }
        long differ = figures.stream().filter(figure -> !figure.isSame()).count();
        page.highlights(
                List.of("keys changed", "figures that differ", "limits and ratings lost", "gained"),
                List.of(
                        revisions.before().given().isEmpty()
                                        || revisions.after().given().isEmpty()
                                ? "no files"
                                : String.valueOf(revisions.file().size()),
                        differ + " of " + figures.size(),
                        count(LimitDifference.Outcome.LOST),
                        count(LimitDifference.Outcome.GAINED)));
    }

    private static Cell headline(Findings findings, String label) {
        return Headlines.of(findings.steadyState()).stream()
                .filter(line -> line.label().equals(label))
                .findFirst()
                .map(line -> line.isGood() ? Cell.of(line.text()) : new Cell(line.text(), Cell.Tone.BAD))
                .orElse(Cell.of("–"));
    }

    private String count(LimitDifference.Outcome outcome) {
        return String.valueOf(Stream.concat(revisions.limits().stream(), revisions.ratings().stream())
                .filter(limit -> limit.outcome() == outcome)
                .count());
    }

    private void addFile(String heading, List<Difference> changes) {
        boolean ofFile = changes.equals(revisions.file());
        if (changes.isEmpty()) {
            if (ofFile && !revisions.before().given().isEmpty()) {
                page.heading(heading).paragraph("Nothing: both files say the same.");
            }
            return;
        }
        PageTable table = PageTable.headed("key", "before", "after", "difference");
        changes.forEach(change -> table.row(
                change.words(),
                BesideTables.value(change, change.before(), true),
                BesideTables.value(change, change.after(), true),
                change.told()));
        page.heading(heading).table(table);
    }

    private void addLimits(String heading, String kind, List<LimitDifference> limits) {
        if (limits.isEmpty()) {
            return;
        }
        PageTable table = PageTable.headed(kind, "before", "after", "from before to after");
        limits.forEach(limit -> table.row(List.of(
                Cell.of(limit.limit().toString()),
                checked(limit.before()),
                checked(limit.after()),
                new Cell(limit.outcome().toString(), tone(limit)))));
        page.heading(heading).table(table);
    }

    private static Cell checked(@Nullable LimitCheck check) {
        return Cell.of(BesideTables.verdict(check));
    }

    private static Cell.Tone tone(LimitDifference limit) {
        LimitCheck now = limit.after();
        return now == null || !now.isKnown() ? Cell.Tone.OPEN : now.isMet() ? Cell.Tone.GOOD : Cell.Tone.BAD;
    }

    private static PageTable table(List<Difference> figures) {
        PageTable table = PageTable.headed("figure", "before", "after", "difference", "place in figures.json");
        figures.forEach(figure -> table.row(
                BesideTables.shortly(figure),
                together(BesideTables.value(figure, figure.before(), false)),
                together(BesideTables.value(figure, figure.after(), false)),
                figure.told(),
                figure.key()));
        return table;
    }

    private static String together(String quantity) {
        return quantity.length() < 20 ? quantity.replace(' ', '\u00a0') : quantity;
    }

    private void addStages() {
        var one = before().converter().circuit();
        var other = after().converter().circuit();
        if (Schematic.svg(one).equals(Schematic.svg(other))) {
            page.heading("Stage, the same in both").schematic(one);
        } else {
            page.heading("Stage before").schematic(one);
            page.heading("Stage after").schematic(other);
        }
    }

    private void addFigures(List<Difference> figures) {
        GROUPS.forEach((start, heading) -> {
            List<Difference> inGroup = figures.stream()
                    .filter(figure -> group(figure.key()).equals(start))
                    .toList();
            if (!inGroup.isEmpty()) {
                page.heading(heading).table(table(inGroup));
            }
        });
    }

    private static String group(String place) {
        return GROUPS.keySet().stream().filter(place::startsWith).findFirst().orElse("");
    }

    private void addText(String heading, Revisions.Revision revision) {
        if (!revision.given().isEmpty()) {
            page.heading(heading).verbatim(revision.given());
        }
    }
}
