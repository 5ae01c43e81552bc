package org.voltsecond.plot.page;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;

import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.engine.Piece;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/** What a page is made of, and that text stays text wherever it is put. */
class PageTest {
    private static final String HOSTILE =
            "</script><script>bad()</script></title></style><img src=x onerror='bad()'> \"&amp; \u202eabc\u0007 ]]> -->";

    private static Waveform wave(String name) {
        return Waveform.of(name, Unit.VOLT, List.of(Piece.of(0, 1e-3, new double[] {0, 1})));
    }

    private static String hostilePage() {
        Circuit circuit = Circuit.builder()
                .voltageSource(HOSTILE, "<in>", Circuit.GROUND, 12)
                .resistor("<b>R1", "<in>", Circuit.GROUND, 2)
                .build();
        return Page.titled(HOSTILE)
                .heading(HOSTILE)
                .paragraph(HOSTILE)
                .cautions(List.of(HOSTILE))
                .highlights(List.of(HOSTILE), List.of(HOSTILE))
                .table(PageTable.headed(HOSTILE, HOSTILE).row(HOSTILE, HOSTILE))
                .verbatim(HOSTILE + "\n" + HOSTILE)
                .schematic(circuit)
                .waveforms(WaveformFigure.over(HOSTILE, 0, 1e-3)
                        .panel(wave(HOSTILE))
                        .mark(0, HOSTILE))
                .html();
    }

    @Test
    void hostileTextIsNeverMarkup() {
        String html = hostilePage();
        assertThat(html)
                .doesNotContain("<script>bad", "<img", "<b>", "<in>", "\u202e", "\u0007")
                .contains("&lt;/script&gt;&lt;script&gt;bad()", "\\u202eabc\\u0007", "&lt;b&gt;R1");
        assertThat(Pattern.compile("<script").matcher(html).results()).hasSize(3);
        assertThat(Pattern.compile("</script").matcher(html).results()).hasSize(3);
        assertThat(Pattern.compile("</style").matcher(html).results()).hasSize(1);
    }

    @Test
    void pageAsksForNothingFromElsewhere() {
        String html = hostilePage();
        assertThat(html).contains("default-src 'none'").doesNotContain("@import", "url(", "<link", "<iframe");
        assertThat(Pattern.compile("<\\w+(?:\\s+[\\w-]+(?:=\"[^\"]*\")?)*\\s+(src|srcset|data)=")
                        .matcher(html.substring(0, html.indexOf("uPlot 1.6.30")))
                        .results())
                .isEmpty();
        assertThat(Pattern.compile("href=\"(?!#part-)").matcher(html).find()).isFalse();
    }

    /** Drawings name their clips alike; in one page each name must be its own, and titles stay as they are. */
    @Test
    void picturesDoNotShareTheirNames() {
        Picture picture = Pictures.stack()
                .title("id=\"a\" url(#b) " + HOSTILE)
                .panel(wave("one"))
                .build();
        String html = Page.titled("t")
                .picture(picture, HOSTILE)
                .picture(picture, "again")
                .html();
        assertThat(html).doesNotContain("<script", "<img").contains("id=\"a\" url(#b)", "aria-label=\"again\"");
        List<String> names = Pattern.compile("<[^>]*\\bid=\"([^\"]*)\"")
                .matcher(html)
                .results()
                .map(found -> found.group(1))
                .toList();
        assertThat(names).hasSizeGreaterThan(4).doesNotHaveDuplicates();
        assertThat(html).contains("url(#picture-1-clipPath1)", "url(#picture-2-clipPath1)");
    }

    /** A map has thousands of rectangles of a few looks: each look is said once, under a name of its drawing alone. */
    @Test
    void aLookOfManyElementsIsSaidOnce() {
        Picture picture = Pictures.stack().title("one").panel(wave("one")).build();
        String html = Page.titled("t").picture(picture, "shown").html();
        String drawing = html.substring(html.indexOf("<div class=\"roomy\">"), html.indexOf("<div class=\"slim\">"));
        Map<String, Long> styles = values(drawing, "\\bstyle=\"([^\"]*)\"");
        Map<String, Long> classes = values(drawing, "\\bclass=\"(picture-1-[^\"]*)\"");
        assertThat(styles.values()).allMatch(uses -> uses < 4);
        assertThat(classes).hasSizeGreaterThan(2).allSatisfy((name, uses) -> {
            assertThat(uses).isGreaterThanOrEqualTo(4);
            assertThat(drawing).containsOnlyOnce("." + name + "{");
        });
        Map<String, Long> before = values(picture.svg(), "\\bstyle=\"([^\"]*)\"");
        assertThat(sum(styles) + sum(classes)).isEqualTo(sum(before));
        assertThat(values(drawing, "\\{([^}]*)\\}").keySet())
                .map(look -> look.replace("#picture-1-", "#").replaceAll("[; :]+", " "))
                .isSubsetOf(before.keySet().stream()
                        .map(look -> look.replaceAll("[; :]+", " "))
                        .toList());
    }

    private static Map<String, Long> values(String text, String pattern) {
        return Pattern.compile(pattern)
                .matcher(text)
                .results()
                .collect(Collectors.groupingBy(found -> found.group(1), Collectors.counting()));
    }

    private static long sum(Map<String, Long> uses) {
        return uses.values().stream().mapToLong(Long::longValue).sum();
    }

    /** A wide picture on a telephone is either cut or has text of four pixels. */
    @Test
    void aTelephoneGetsAPictureOfItsOwn() {
        Picture picture = Pictures.stack().title("one").panel(wave("one")).build();
        String html = Page.titled("t").picture(picture, "shown").html();
        assertThat(html)
                .containsSubsequence(
                        "<div class=\"roomy\"><svg", "0 0 " + picture.width() + " ", "<div class=\"slim\"><svg")
                .contains("viewBox=\"0 0 440 ")
                .containsPattern("max-width: 600px\\) \\{\\s*\\.picture \\.roomy \\{ display: none")
                .doesNotContainPattern("\\.picture svg \\{[^}]*min-width");
    }

    @Test
    void theScriptComesWithItsLicence() {
        assertThat(hostilePage())
                .contains("The MIT License (MIT)", "Permission is hereby granted", "THE SOFTWARE IS PROVIDED \"AS IS\"")
                .contains("var uPlot=");
        assertThat(Page.titled("plain").paragraph("no waveforms").html()).doesNotContain("<script");
    }

    @Test
    void readsOnTelephonesInTheDarkAndOnPaper() {
        assertThat(hostilePage())
                .startsWith("<!DOCTYPE html>")
                .contains(
                        "width=device-width", "prefers-color-scheme: dark", "@media print", "<meta charset=\"utf-8\">");
    }

    /** What may have to be scrolled can be reached without a mouse, and says what it is. */
    @Test
    void scrollingBoxesAreWithinReachOfTheKeyboard() {
        String html = Page.titled("t")
                .table(PageTable.headed("part", "loss").row("Q1", "1 W"))
                .verbatim("name = 1")
                .html();
        assertThat(html)
                .contains(
                        "<div class=\"wide\" tabindex=\"0\" role=\"region\" aria-label=\"table of part, loss\">",
                        "<pre dir=\"ltr\" tabindex=\"0\" role=\"region\" aria-label=\"text of a file\">");
    }

    /** Rounded to pixels, a ramp that climbs by less than one would be a stair. */
    @Test
    void curvesKeepTheFractionsOfPixels() {
        assertThat(hostilePage()).contains("pxAlign: 0");
    }

    @Test
    void aTableHoldsItsShape() {
        PageTable table = PageTable.headed("limit", "verdict");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> table.row("one"))
                .withMessageContaining("2 columns [limit, verdict] but the row has 1 cells");
        table.row(List.of(Cell.of("droop"), new Cell("not met", Cell.Tone.BAD)));
        assertThat(Page.titled("t").table(table).html())
                .contains("<th scope=\"row\"><bdi>droop</bdi></th>", "<td class=\"bad\"><bdi>✗ not met</bdi></td>");
    }

    /** What has more columns than a telephone shows is read there row by row; a grid of kinds stays a grid. */
    @Test
    void aWideTableIsReadRowByRowOnATelephone() {
        PageTable wide =
                PageTable.headed("part", "peak \"current\"", "RMS", "loss").row("Q1", "2 A", "1 A", "0.1 W");
        assertThat(Page.titled("t").table(wide).html())
                .contains(
                        "<table class=\"cards\">",
                        "<td data-label=\"peak &quot;current&quot;\"><bdi>2 A</bdi></td>",
                        ".cards td::before { content: attr(data-label)");
        PageTable grid = PageTable.headed("input", "1 A", "2 A", "3 A")
                .row(List.of(
                        Cell.of("9 V"),
                        new Cell("dis", Cell.Tone.SECOND),
                        new Cell("con", Cell.Tone.FIRST),
                        new Cell("con", Cell.Tone.FIRST)));
        assertThat(Page.titled("t").table(grid).html()).doesNotContain("class=\"cards\"");
    }

    @Test
    void refusesWhatDoesNotFit() {
        assertThatIllegalArgumentException().isThrownBy(() -> WaveformFigure.over("empty", 1, 1));
        assertThatIllegalArgumentException()
                .isThrownBy(() -> WaveformFigure.over("f", 0, 1).panel())
                .withMessageContaining("at least one waveform");
        assertThatIllegalArgumentException()
                .isThrownBy(() -> WaveformFigure.over("f", 0, 1).columns(0));
        assertThatIllegalArgumentException().isThrownBy(() -> Page.titled("t").highlights(List.of("a"), List.of()));
    }
}
