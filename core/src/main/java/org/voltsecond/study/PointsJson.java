package org.voltsecond.study;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.figures.Figure;
import org.voltsecond.units.JsonText;
import org.voltsecond.units.Result;

/** Operating points in a row as fields of JSON: an array for the mode of conduction, for each figure, and for the reasons. */
final class PointsJson {
    private PointsJson() {}

    static String of(List<Figure<ConverterSteadyState>> figures, List<Result<OperatingPoint>> results) {
        StringBuilder json = new StringBuilder("\"conduction\": ")
                .append(JsonText.texts(results.stream()
                        .map(result -> result.map(
                                        point -> point.conduction().name().toLowerCase(Locale.ROOT))
                                .orElse(""))
                        .toList()))
                .append(",\n\"reason\": ")
                .append(JsonText.texts(results.stream().map(Result::reason).toList()))
                .append(",\n\"figures\": [");
        List<String> arrays = new ArrayList<>();
        for (int k = 0; k < figures.size(); k++) {
            int figure = k;
            arrays.add("\n{\"name\": " + JsonText.quoted(figures.get(k).words()) + ", \"unit\": "
                    + JsonText.quoted(figures.get(k).unit().symbol()) + ", \"values\": "
                    + JsonText.numbers(results.stream()
                            .map(result -> result.map(point -> point.values().get(figure))
                                    .orElse(Double.NaN))
                            .toList())
                    + "}");
        }
        return json.append(String.join(",", arrays)).append("\n]").toString();
    }
}
