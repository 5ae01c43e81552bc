package org.voltsecond.plot.beside;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.voltsecond.figures.Headlines;
import org.voltsecond.figures.LimitCheck;
import org.voltsecond.figures.Told;
import org.voltsecond.revision.Difference;
import org.voltsecond.revision.LimitDifference;
import org.voltsecond.units.JsonText;
import org.voltsecond.units.Printable;
import org.voltsecond.units.Quantity;

/** Differences as text: for a terminal, for a program, and in the words of a page. */
final class BesideTables {
    /** What one looks at first, by places in figures.json. */
    private static final List<String> FIRST = List.of(
            "steady_state/conduction",
            "steady_state/duty_cycle",
            "steady_state/signals/output_voltage/mean",
            "steady_state/signals/output_voltage/peak_to_peak",
            "steady_state/signals/inductor_current/peak_to_peak",
            "steady_state/signals/inductor_current/maximum",
            "steady_state/power/efficiency",
            "losses/total",
            "losses/efficiency",
            "steady_state/regulation/in_regulation",
            "steady_state/stability/stable",
            "frequency_response/loop_gain/crossover_frequency",
            "frequency_response/loop_gain/phase_margin",
            "frequency_response/loop_gain/gain_margin",
            "transient/start/overshoot",
            "transient/start/settling_time",
            "transient/changes/0/droop",
            "transient/changes/0/overshoot",
            "transient/changes/0/settling_time");

    private static final int DIGITS = 4;
    /** More changes of the file than this are told on the page. */
    private static final int MOST_TOLD = 20;

    private BesideTables() {}

    /** The figures that one looks at first, as far as there are such. */
    static List<Difference> first(List<Difference> figures) {
        Map<String, Difference> byPlace =
                figures.stream().collect(Collectors.toMap(Difference::key, each -> each, (one, other) -> one));
        return FIRST.stream()
                .flatMap(place -> Optional.ofNullable(byPlace.get(place)).stream())
                .toList();
    }

    /** A value of a figure, or of a key with all its digits. */
    static String value(Difference difference, @Nullable Object value, boolean exactly) {
        if (value == null) {
            return "–";
        }
        if (value instanceof Double number) {
            return exactly
                    ? Quantity.format(number, difference.unit())
                    : Told.quantity(number, difference.unit(), DIGITS);
        }
        return value instanceof Boolean flag ? (flag ? "yes" : "no") : value.toString();
    }

    /** Bound and value of both, and what became of the limit. */
    static String told(LimitDifference limit) {
        LimitCheck before = limit.before();
        LimitCheck after = limit.after();
        if (before == null || after == null) {
            return limit.limit() + ", " + limit.outcome() + ": " + verdict(before == null ? after : before);
        }
        String stated = before.bound() == after.bound() ? after.stated() : before.stated() + " -> " + after.stated();
        return limit.limit() + " " + before.found() + " -> " + after.found() + ", " + stated + ": " + limit.outcome();
    }

    static String verdict(@Nullable LimitCheck check) {
        return check == null ? "–" : check.found() + ", " + check.stated() + ": " + check.verdict();
    }

    static List<String> summary(Revisions revisions) {
        List<String> lines = new ArrayList<>();
        List<Difference> figures = revisions.figures();
        lines.add(Printable.of(revisions.before().label()) + " (before) beside "
                + Printable.of(revisions.after().label()) + " (after)");
        addChanges(
                lines, "changed", revisions.file(), !revisions.before().given().isEmpty());
        addChanges(lines, "changed in proposal", revisions.proposed(), false);
        addHeadlines(lines, revisions);
        long same = figures.stream().filter(Difference::isSame).count();
        lines.add(row("figures", (figures.size() - same) + " differ, " + same + " are the same"));
        for (Difference figure : first(figures)) {
            if (!figure.isSame()) {
                lines.add(row("figure", shortly(figure) + ": " + fromTo(figure, false)));
            }
        }
        for (LimitDifference limit : revisions.limits()) {
            lines.add(row("limit", told(limit)));
        }
        revisions.ratings().forEach(rating -> lines.add(row("rating", told(rating))));
        return lines;
    }

    private static void addChanges(List<String> lines, String label, List<Difference> changes, boolean compared) {
        if (changes.isEmpty() && compared) {
            lines.add(row(label, "nothing: both files say the same"));
        }
        for (Difference change : changes.subList(0, Math.min(MOST_TOLD, changes.size()))) {
            lines.add(row(label, change.words() + ": " + fromTo(change, true)));
        }
        if (changes.size() > MOST_TOLD) {
            lines.add(row(label, (changes.size() - MOST_TOLD) + " more keys"));
        }
    }

    private static String fromTo(Difference difference, boolean exactly) {
        String told = difference.told();
        boolean alone = difference.before() == null || difference.after() == null;
        return alone
                ? told + ": "
                        + value(
                                difference,
                                difference.before() == null ? difference.after() : difference.before(),
                                exactly)
                : value(difference, difference.before(), exactly) + " -> "
                        + value(difference, difference.after(), exactly)
                        + (difference.absolute().isPresent() ? ", " + told : "");
    }

    /** With what it belongs to, where there are several of a kind. */
    static String shortly(Difference figure) {
        String place = figure.key();
        return (place.startsWith("transient/start/")
                        ? "start, "
                        : place.startsWith("transient/changes/0/") ? "first change, " : "")
                + figure.words();
    }

    /** What is bad, and what only one of them has. */
    private static void addHeadlines(List<String> lines, Revisions revisions) {
        List<Headlines.Line> before = Headlines.of(revisions.before().findings().steadyState());
        List<Headlines.Line> after = Headlines.of(revisions.after().findings().steadyState());
        before.stream()
                .filter(line -> !line.isGood() || !after.contains(line))
                .forEach(line -> lines.add(row(line.label(), "before: " + line.text())));
        after.stream()
                .filter(line -> !line.isGood() || !before.contains(line))
                .forEach(line -> lines.add(row(line.label(), "after: " + line.text())));
    }

    private static String row(String label, String value) {
        return String.format(Locale.ROOT, "  %-22s%s", label, Printable.all(value.replace('\u00a0', ' ')));
    }

    /** One line for each figure, in SI units. */
    static String csv(List<Difference> figures) {
        StringBuilder csv = new StringBuilder("figure,unit,before,after,difference,relative difference\n");
        for (Difference figure : figures) {
            csv.append(cell(figure.key()))
                    .append(',')
                    .append(cell(figure.unit().symbol()))
                    .append(',')
                    .append(cell(plain(figure.before())))
                    .append(',')
                    .append(cell(plain(figure.after())))
                    .append(',')
                    .append(plain(figure.absolute()))
                    .append(',')
                    .append(plain(figure.relative()))
                    .append('\n');
        }
        return csv.toString();
    }

    private static String plain(@Nullable Object value) {
        return value == null ? "" : value.toString();
    }

    private static String plain(OptionalDouble value) {
        return value.isPresent() ? JsonText.number(value.getAsDouble()) : "";
    }

    /** Quoted where it has to be, after RFC 4180. */
    private static String cell(String text) {
        return text.chars().anyMatch(c -> c == ',' || c == '"' || c == '\n')
                ? '"' + text.replace("\"", "\"\"") + '"'
                : text;
    }

    static String json(Revisions revisions) {
        List<String> members = new ArrayList<>();
        members.add("\"before\": " + revision(revisions.before()));
        members.add("\"after\": " + revision(revisions.after()));
        members.add("\"file\": "
                + array(revisions.file().stream().map(BesideTables::object).toList()));
        if (!revisions.proposed().isEmpty()) {
            members.add("\"proposed\": "
                    + array(revisions.proposed().stream()
                            .map(BesideTables::object)
                            .toList()));
        }
        members.add("\"figures\": "
                + array(revisions.figures().stream().map(BesideTables::object).toList()));
        members.add("\"limits\": "
                + array(revisions.limits().stream().map(BesideTables::object).toList()));
        members.add("\"ratings\": "
                + array(revisions.ratings().stream().map(BesideTables::object).toList()));
        members.add("\"cautions\": "
                + array(revisions.cautions().stream().map(JsonText::quoted).toList()));
        return "{\n  " + String.join(",\n  ", members) + "\n}\n";
    }

    private static String revision(Revisions.Revision revision) {
        return "{\"label\": " + JsonText.quoted(revision.label()) + ", \"name\": "
                + JsonText.quoted(revision.findings().name()) + "}";
    }

    private static String array(List<String> items) {
        return items.isEmpty() ? "[]" : "[\n    " + String.join(",\n    ", items) + "\n  ]";
    }

    private static String object(Difference difference) {
        List<String> members = new ArrayList<>();
        members.add("\"key\": " + JsonText.quoted(difference.key()));
        members.add("\"unit\": " + JsonText.quoted(difference.unit().symbol()));
        addValue(members, "before", difference.before());
        addValue(members, "after", difference.after());
        difference.absolute().ifPresent(number -> members.add("\"absolute\": " + JsonText.number(number)));
        difference.relative().ifPresent(number -> members.add("\"relative\": " + JsonText.number(number)));
        members.add("\"same\": " + difference.isSame());
        return "{" + String.join(", ", members) + "}";
    }

    /** Absent where the revision has no such thing, null where it does not exist. */
    private static void addValue(List<String> members, String name, @Nullable Object value) {
        if (value != null) {
            members.add(JsonText.quoted(name) + ": "
                    + (value instanceof Double number
                            ? JsonText.number(number)
                            : value.equals(Difference.NONE)
                                    ? "null"
                                    : value instanceof String text ? JsonText.quoted(text) : value.toString()));
        }
    }

    private static String object(LimitDifference limit) {
        List<String> members = new ArrayList<>();
        members.add("\"limit\": " + JsonText.quoted(limit.limit().key()));
        members.add("\"outcome\": " + JsonText.quoted(limit.outcome().name().toLowerCase(Locale.ROOT)));
        addCheck(members, "before", limit.before());
        addCheck(members, "after", limit.after());
        return "{" + String.join(", ", members) + "}";
    }

    private static void addCheck(List<String> members, String name, @Nullable LimitCheck check) {
        if (check != null) {
            String value =
                    check.value().exists() ? JsonText.number(check.value().get()) : "null";
            members.add(
                    JsonText.quoted(name) + ": {\"bound\": " + JsonText.number(check.bound()) + ", \"value\": " + value
                            + ", \"where\": " + JsonText.quoted(check.where()) + ", \"met\": " + check.isMet()
                            + ", \"verdict\": " + JsonText.quoted(check.verdict()) + "}");
        }
    }
}
