package org.voltsecond.study;

import java.util.Locale;
import org.voltsecond.study.ToleranceTable.Row;
import org.voltsecond.units.Result;

/**
 * What a {@link ToleranceTable} tells of each figure, in that figure's unit.
 *
 * <pre>{@code
 * ToleranceTable table = ToleranceStudy.of(
 *                 rail, List.of(Tolerance.relative(rail, StageValue.INDUCTANCE, 0.2)), Figures.usual())
 *         .run(100, 1, Execution.standard());
 * double highest =
 *         ToleranceFigure.DRAWN_MAXIMUM.of(table, table.rows().get(3)).get(); // 2.297 A
 * }</pre>
 */
public enum ToleranceFigure {
    /** Where all values are nominal. */
    NOMINAL("it does not exist"),
    /** Half width, all tolerances together, to first order. */
    FIRST_ORDER("its derivative does not exist"),
    /** Half width, tolerances that are independent of each other, to first order. */
    ROOT_SUM_SQUARE("its derivative does not exist"),
    /** Standard deviation, to first order. */
    EXPECTED_DEVIATION("its derivative does not exist"),
    /** The larger distance of the two ends of the worst case from the nominal value. */
    WORST_CASE("no corner has it"),
    /** The lowest that was found within the tolerances. */
    WORST_CASE_MINIMUM("no corner has it"),
    /** The highest that was found within the tolerances. */
    WORST_CASE_MAXIMUM("no corner has it"),
    /** Mean of the designs drawn at random. */
    DRAWN_MEAN("no design has it"),
    /** Standard deviation of the designs drawn at random. */
    DRAWN_DEVIATION("it takes two designs"),
    /** The lowest of the designs drawn at random. */
    DRAWN_MINIMUM("no design has it"),
    /** The highest of the designs drawn at random. */
    DRAWN_MAXIMUM("no design has it");

    private final String missing;

    ToleranceFigure(String missing) {
        this.missing = missing;
    }

    /** {@return its name in files, such as "first_order"} */
    public String key() {
        return name().toLowerCase(Locale.ROOT);
    }

    /** {@return its name in headings, such as "first order"} */
    public String words() {
        return this == ROOT_SUM_SQUARE ? "root-sum-square" : key().replace('_', ' ');
    }

    /**
     * Reads a row.
     *
     * @param table the table
     * @param row one of its rows
     * @return the number, in the unit of the row's figure, or why there is none
     */
    public Result<Double> of(ToleranceTable table, Row row) {
        return Result.finite(value(table, row), missing);
    }

    double value(ToleranceTable table, Row row) {
        return switch (this) {
            case NOMINAL -> row.nominal();
            case FIRST_ORDER -> row.firstOrder();
            case ROOT_SUM_SQUARE -> row.rootSumSquare();
            case EXPECTED_DEVIATION -> table.expectedDeviation(row);
            case WORST_CASE -> row.worstCase().farthestFrom(row.nominal());
            case WORST_CASE_MINIMUM -> row.worstCase().lowest();
            case WORST_CASE_MAXIMUM -> row.worstCase().highest();
            case DRAWN_MEAN -> row.drawn().mean();
            case DRAWN_DEVIATION -> row.drawn().standardDeviation();
            case DRAWN_MINIMUM -> row.drawn().minimum();
            case DRAWN_MAXIMUM -> row.drawn().maximum();
        };
    }
}
