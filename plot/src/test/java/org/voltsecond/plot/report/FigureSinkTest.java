package org.voltsecond.plot.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonPointer;
import com.fasterxml.jackson.core.JsonToken;
import java.io.IOException;
import java.util.LinkedHashMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.voltsecond.design.Design;
import org.voltsecond.design.DesignException;
import org.voltsecond.design.DesignFile;
import org.voltsecond.figures.PlacedFigure;
import org.voltsecond.units.JsonText;
import org.voltsecond.units.Unit;

/** Whoever takes the figures one by one gets each at the place at which figures.json has it, with all digits. */
class FigureSinkTest {
    private static final String RAIL = """
            stage = { topology = "buck", phases = 2 }
            input = { voltage = "12 V" }
            inductor = { inductance = "22 µH" }
            output_capacitor = { capacitance = "47 µF", resistance = "5 mΩ" }
            rectifier = { forward_drop = "0.4 V", resistance = "20 mΩ" }
            load = { current = "2 A" }
            drive = { kind = "fixed-duty", duty_cycle = 0.45, switching_frequency = "300 kHz" }
            transient = { duration = "0.2 ms", start = "steady-state", change = [ { time = "0.1 ms", load = { current = "1 A" } } ] }
            limits = { output_ripple = "50 mV" }
            """;

    @Test
    void everyValueHasThePlaceThatTheFileHas() throws IOException, DesignException {
        Design design = DesignFile.parse("rail.toml", "rail", RAIL);
        Findings found = Findings.of(design);
        FigureSink.Places places = new FigureSink.Places();
        FiguresJson.write(found, places);
        Map<String, @Nullable Object> kept = new LinkedHashMap<>();
        places.figures().forEach(entry -> kept.put("/" + entry.place(), entry.value()));
        Map<String, @Nullable Object> file = parsed(Report.of(found).figuresJson());
        // of what the file was made is no figure
        assertThat(file.keySet().removeIf(place -> place.startsWith("/about/"))).isTrue();
        assertThat(kept).hasSameSizeAs(places.figures()).isEqualTo(file);
        assertThat(kept)
                .containsKeys(
                        "/steady_state/signals/inductor_currents/1/maximum",
                        "/transient/changes/0/droop",
                        "/checks/0/margin");
        assertThat(places.figures())
                .filteredOn(entry -> entry.place().endsWith("/power/efficiency"))
                .singleElement()
                .satisfies(entry -> assertThat(entry.words()).isEqualTo("efficiency"));
        assertThat(places.figures())
                .filteredOn(entry ->
                        entry.place().equals("checks/0/bound") || entry.place().endsWith("inductor_currents/1/maximum"))
                .extracting(PlacedFigure::unit)
                .containsExactly(Unit.AMPERE, Unit.ONE);
    }

    /** What follows from one operating point is answered; what takes many designs is left to the report. */
    @Test
    void anAnswerTellsAllLossesThatTheFileAsksForAndLeavesOutTheirCurveOverTheLoad() throws DesignException {
        Design plain = DesignFile.parse("rail.toml", "rail", RAIL);
        Design asking = DesignFile.parse(
                "rail.toml", "rail", RAIL + "losses = { gate_charge = \"9 nC\", gate_voltage = \"5 V\" }\n");
        assertThat(PageAnswer.of(plain, false).sections().get("Losses")).doesNotContain("gate");
        assertThat(PageAnswer.of(asking, false).sections().get("Losses")).contains("gate");
        Map<String, String> answered = PageAnswer.of(asking, false).figures();
        FigureSink.Places places = new FigureSink.Places();
        assertThatCode(() -> FiguresJson.write(Findings.of(asking), places)).doesNotThrowAnyException();
        assertThat(places.figures())
                .filteredOn(entry -> entry.place().startsWith("losses/"))
                .hasSizeGreaterThan(8)
                .filteredOn(entry -> !entry.place().contains("efficiency_over_load"))
                .isNotEmpty()
                .allSatisfy(entry -> assertThat(answered)
                        .containsEntry(
                                entry.place(),
                                entry.value() instanceof Double number
                                        ? JsonText.number(number)
                                        : JsonText.quoted(String.valueOf(entry.value()))));
        assertThat(answered.keySet()).noneMatch(place -> place.contains("efficiency_over_load"));
    }

    private static Map<String, @Nullable Object> parsed(String json) throws IOException {
        Map<String, @Nullable Object> values = new LinkedHashMap<>();
        try (JsonParser parser = new JsonFactory().createParser(json)) {
            for (JsonToken token = parser.nextToken(); token != null; token = parser.nextToken()) {
                if (token.isScalarValue()) {
                    Object value = token.isNumeric()
                            ? Double.valueOf(parser.getText())
                            : token == JsonToken.VALUE_NULL
                                    ? null
                                    : token.isBoolean() ? (Object) (token == JsonToken.VALUE_TRUE) : parser.getText();
                    JsonPointer place = parser.getParsingContext().pathAsPointer();
                    values.put(place.toString(), value);
                }
            }
        }
        return values;
    }
}
