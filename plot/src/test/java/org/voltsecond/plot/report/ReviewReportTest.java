package org.voltsecond.plot.report;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.voltsecond.design.DesignException;
import org.voltsecond.design.DesignFile;
import org.voltsecond.figures.LimitCheck;
import org.voltsecond.figures.PlacedFigure;
import org.voltsecond.review.Provenance;
import org.voltsecond.review.Review;
import org.voltsecond.review.StressCheck;

/** What is told of a design with [ratings] and [corners]: figures, report and terminal hold the numbers of the library. */
class ReviewReportTest {
    private static final String RAIL = """
            stage = { topology = "buck" }
            input = { voltage = "12 V" }
            inductor = { inductance = "22 µH", resistance = "30 mΩ" }
            output_capacitor = { capacitance = "47 µF", resistance = "5 mΩ" }
            transistor = { on_resistance = "80 mΩ" }
            rectifier = { forward_drop = "0.4 V", resistance = "20 mΩ" }
            load = { resistance = "2.5 Ω" }
            drive = { kind = "fixed-duty", duty_cycle = 0.45, switching_frequency = "300 kHz" }
            transient = { duration = "1 ms" }
            """;

    private static final String REVIEWED = RAIL + """
            limits = { transistor_voltage = "15.4 V" }
            [corners]
            input = { from = "9 V", to = "15 V" }
            load = { from = "0.2 A", to = "2 A" }
            [ratings]
            derating = 0.8
            [ratings.parts]
            transistor = { voltage = "19 V", current = "20 A" }
            inductor = { current = "4 A" }
            """;

    private static Findings found(String text) {
        try {
            return Findings.of(DesignFile.parse("rail.toml", "rail", text));
        } catch (DesignException e) {
            throw new AssertionError(e);
        }
    }

    private static Map<String, Object> figures(Findings found) {
        return found.figures().stream()
                .filter(figure -> figure.value() != null)
                .collect(Collectors.toMap(PlacedFigure::place, figure -> Objects.requireNonNull(figure.value())));
    }

    @Test
    void figuresAreThoseOfTheReview() {
        Findings found = found(REVIEWED);
        Review review = Objects.requireNonNull(found.review());
        Map<String, Object> figures = figures(found);
        double volt = review.stresses().get(0).check().value().get();
        assertThat(figures)
                .containsEntry("ratings/0/rating", "transistor.voltage")
                .containsEntry("ratings/0/part", "Q1")
                .containsEntry("ratings/0/value", volt)
                .containsEntry("ratings/0/allowed", 19 * 0.8)
                .containsEntry("ratings/0/margin", 19 * 0.8 - volt)
                .containsEntry("ratings/0/met", false)
                .containsEntry("ratings/1/met", true)
                .containsEntry("ratings/2/where", "start")
                .containsEntry("corners/5/input_voltage", 15.0)
                .containsEntry("corners/5/transistor_voltage", volt)
                .containsEntry("corners/0/conduction", "discontinuous")
                .containsEntry(
                        "line_regulation/change",
                        Objects.requireNonNull(review.regulation()).line().get().change());
        assertThat(figures).doesNotContainKey("corners/6/input_voltage");
    }

    /** Limits are held against the same corners: 15 V behind a drop of 0.44 V at full load. */
    @Test
    void limitsCountAtTheCornersToo() {
        LimitCheck check = found(REVIEWED).checks().get(0);
        assertThat(check.where()).isEqualTo("corner 15 V, 2 A");
        assertThat(check.isMet()).isFalse();
        assertThat(found(RAIL + "limits = { transistor_voltage = \"15.4 V\" }\n")
                        .checks()
                        .get(0)
                        .isMet())
                .isTrue();
    }

    @Test
    void whatIsNotMetStandsAtTheTop() {
        Findings found = found(REVIEWED);
        List<String> table = SummaryTable.of(found);
        StressCheck voltage = Objects.requireNonNull(found.review()).stresses().get(0);
        assertThat(voltage.line())
                .startsWith("transistor voltage of Q1 15.4")
                .contains("(corner 15 V, 2 A), 19.00 V rated, 15.20 V allowed: not met, by 2");
        assertThat(table.subList(0, 5))
                .anyMatch(line -> line.contains("ratings  ")
                        && line.contains("2 of 3 not met: transistor voltage of Q1, inductor peak current of L1"));
        assertThat(table)
                .anyMatch(line -> line.startsWith("  rating ") && line.endsWith(voltage.line()))
                .noneMatch(line -> line.contains("transistor peak current"))
                .anyMatch(line ->
                        line.contains("dropout  ") && line.contains("none: a fixed duty cycle regulates nothing"));
        String page = Report.of(found).html().replace('\u00a0', ' ');
        assertThat(page.indexOf("2 of 3 not met")).isBetween(0, page.indexOf("Cautions</bdi></h2>"));
        assertThat(page.substring(page.indexOf("Ratings</bdi></h2>")))
                .contains("6 corners of input and load")
                .contains(voltage.verdict());
        assertThat(page.substring(page.indexOf("Corners</bdi></h2>")))
                .contains("line regulation")
                .contains("discontinuous");
    }

    @Test
    void whatIsMetIsToldInOneLine() {
        List<String> table =
                SummaryTable.of(found(REVIEWED.replace("19 V", "30 V").replace("\"4 A\"", "\"40 A\"")));
        assertThat(table.subList(0, 3)).noneMatch(line -> line.contains("ratings"));
        assertThat(table).anyMatch(line -> line.contains("3 met; tightest: "));
        assertThat(SummaryTable.of(found(RAIL))).noneMatch(line -> line.contains("rating") || line.contains("dropout"));
        assertThat(found(RAIL).review()).isNull();
    }

    /** printf abc | sha256sum */
    @Test
    void everyReportTellsOfWhatItWasMade() {
        Report report = new Report(found(RAIL), false, false, "abc", false);
        String hash = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        String date = Provenance.of("abc").date().get().toString();
        assertThat(report.figuresJson())
                .contains("\"design_sha256\" : \"" + hash + "\"")
                .contains("\"date\" : \"" + date + "\"")
                .contains("\"version\" : \"")
                .contains(Provenance.ASSUMPTIONS.get(0));
        assertThat(Report.of(found(RAIL)).figuresJson())
                .contains("\"reason\" : \"design_sha256: there is no design file\"");
        String page = Report.of(found(RAIL)).html();
        assertThat(page.substring(page.indexOf("About this report</bdi></h2>")))
                .contains(date)
                .contains("none: there is no design file")
                .contains(Provenance.ASSUMPTIONS.get(6));
    }
}
