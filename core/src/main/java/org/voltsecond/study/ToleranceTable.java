package org.voltsecond.study;

import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.voltsecond.figures.StageFigure;
import org.voltsecond.units.JsonText;
import org.voltsecond.units.Quantity;

/**
 * First order, worst case and random designs side by side. Immutable.
 *
 * <pre>{@code
 * StageFigure output = StageFigure.of(StageMeasurement.Measure.MEAN, StageSignal.OUTPUT_VOLTAGE);
 * List<Tolerance> tolerances = List.of(Tolerance.relative(rail, StageValue.INPUT_VOLTAGE, 0.05));
 * ToleranceTable table = ToleranceStudy.of(rail, tolerances, List.of(output)).run(1000, 1, Execution.standard());
 * double nominal = table.rows().get(0).nominal(); // 5.025 V
 * double deviation = table.rows().get(0).drawn().standardDeviation(); // 0.152 V
 * }</pre>
 *
 * @param tolerances the tolerances of the values
 * @param rows one for each figure
 * @param designs how many designs were drawn
 * @param seed that chose them
 * @param failures designs without a steady state
 */
public record ToleranceTable(
        List<Tolerance> tolerances, List<Row> rows, int designs, long seed, List<MonteCarloResult.Failure> failures) {

    /**
     * Makes the lists unmodifiable.
     *
     * @param tolerances the tolerances of the values
     * @param rows one for each figure
     * @param designs how many designs were drawn
     * @param seed that chose them
     * @param failures designs without a steady state
     */
    public ToleranceTable {
        tolerances = List.copyOf(tolerances);
        rows = List.copyOf(rows);
        failures = List.copyOf(failures);
    }

    /**
     * One figure.
     *
     * @param figure the figure
     * @param nominal its value where all values are nominal
     * @param shares what the full tolerance of each value does to it, to first order and with its sign, in the order of
     *     the tolerances
     * @param worstCase its lowest and its highest value within the tolerances, of exact steady states
     * @param drawn how it is spread over random designs
     */
    public record Row(
            StageFigure figure,
            double nominal,
            List<Double> shares,
            WorstCase worstCase,
            MonteCarloResult.Spread drawn) {
        /**
         * Makes the list unmodifiable.
         *
         * @param figure the figure
         * @param nominal its value where all values are nominal
         * @param shares what the full tolerance of each value does to it
         * @param worstCase its lowest and its highest value within the tolerances
         * @param drawn how it is spread over random designs
         */
        public Row {
            shares = List.copyOf(shares);
        }

        /**
         * Returns how far the figure would lie from its nominal value if all tolerances added up and the derivatives
         * held that far. They do not, so that designs may lie beyond; what none does is {@link #worstCase()}.
         *
         * @return 0 or more, in the unit of the figure
         */
        public double firstOrder() {
            return shares.stream().mapToDouble(Math::abs).sum();
        }

        /**
         * Returns the root of the sum of the squares of the shares, to first order: how far the figure lies at most for
         * nearly all designs if the values are independent of each other.
         *
         * @return 0 or more, in the unit of the figure
         */
        public double rootSumSquare() {
            return Math.sqrt(shares.stream().mapToDouble(share -> share * share).sum());
        }
    }

    /**
     * Returns the standard deviation of a figure that follows from the derivatives and from how the values are spread; to
     * first order what random designs have.
     *
     * @param row one of {@link #rows()}
     * @return 0 or more, in the unit of the figure
     */
    public double expectedDeviation(Row row) {
        double sum = 0;
        for (int k = 0; k < tolerances.size(); k++) {
            double share =
                    row.shares().get(k) * tolerances.get(k).distribution().standardDeviation();
            sum += share * share;
        }
        return Math.sqrt(sum);
    }

    private static final int DIGITS = 5;
    private static final int DIGITS_OF_WIDTH = 3;

    /**
     * Returns the table for a reader.
     *
     * @return lines of text, units with each number
     */
    public String toText() {
        StringBuilder text = new StringBuilder();
        line(
                text,
                "figure",
                "nominal",
                "first order ±",
                "root-sum-square ±",
                "worst case: from",
                "to",
                "drawn: mean",
                "deviation",
                "from",
                "to");
        for (Row row : rows) {
            MonteCarloResult.Spread drawn = row.drawn();
            line(
                    text,
                    row.figure().toString(),
                    in(row, row.nominal(), DIGITS),
                    in(row, row.firstOrder(), DIGITS_OF_WIDTH),
                    in(row, row.rootSumSquare(), DIGITS_OF_WIDTH),
                    in(row, row.worstCase().lowest(), DIGITS),
                    in(row, row.worstCase().highest(), DIGITS),
                    in(row, drawn.mean(), DIGITS),
                    in(row, drawn.standardDeviation(), DIGITS_OF_WIDTH),
                    in(row, drawn.minimum(), DIGITS),
                    in(row, drawn.maximum(), DIGITS));
        }
        text.append(designs).append(" designs drawn, seed ").append(seed);
        text.append(", ").append(failures.size()).append(" without a steady state\n");
        return text.toString();
    }

    private static String in(Row row, double value, int digits) {
        return Double.isNaN(value)
                ? "none"
                : Quantity.format(value, row.figure().unit(), digits);
    }

    private static void line(StringBuilder text, String first, String... others) {
        text.append(String.format(Locale.ROOT, "%-34s", first));
        for (String other : others) {
            text.append(String.format(Locale.ROOT, " %17s", other));
        }
        text.append('\n');
    }

    /**
     * Returns the table for other programs: comma-separated, one heading line, SI units, all digits.
     *
     * @return lines of text
     */
    public String toCsv() {
        StringBuilder csv = new StringBuilder("figure,unit");
        for (ToleranceFigure told : ToleranceFigure.values()) {
            csv.append(',').append(told.words());
        }
        csv.append('\n');
        for (Row row : rows) {
            csv.append('"')
                    .append(row.figure())
                    .append("\",")
                    .append(row.figure().unit().symbol());
            for (ToleranceFigure told : ToleranceFigure.values()) {
                csv.append(',').append(told.value(this, row));
            }
            csv.append('\n');
        }
        return csv.toString();
    }

    /**
     * Returns the table as JSON, SI units; a number that does not exist is null.
     *
     * @return the text
     */
    public String toJson() {
        StringBuilder json = new StringBuilder("{\n\"designs\": ")
                .append(designs)
                .append(", \"seed\": ")
                .append(seed)
                .append(", \"failures\": ")
                .append(failures.size())
                .append(",\n\"tolerances\": [");
        json.append(tolerances.stream()
                .map(tolerance ->
                        "\n{\"value\": " + JsonText.quoted(tolerance.value().toString()) + ", \"unit\": "
                                + JsonText.quoted(tolerance.value().unit().symbol()) + ", \"half_width\": "
                                + JsonText.number(tolerance.halfWidth()) + "}")
                .collect(Collectors.joining(",")));
        return json.append("\n],\n\"figures\": [")
                .append(rows.stream().map(this::json).collect(Collectors.joining(",")))
                .append("\n]\n}\n")
                .toString();
    }

    private String json(Row row) {
        StringBuilder json =
                new StringBuilder("\n{\"name\": " + JsonText.quoted(row.figure().words()) + ", \"unit\": "
                        + JsonText.quoted(row.figure().unit().symbol()));
        for (ToleranceFigure told : ToleranceFigure.values()) {
            json.append(", ")
                    .append(JsonText.quoted(told.key()))
                    .append(": ")
                    .append(JsonText.number(told.value(this, row)));
        }
        return json.append(", \"shares\": ")
                .append(JsonText.numbers(row.shares()))
                .append('}')
                .toString();
    }
}
