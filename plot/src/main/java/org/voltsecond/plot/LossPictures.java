package org.voltsecond.plot;

import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import org.voltsecond.losses.CapacitorRating;
import org.voltsecond.losses.CapacitorStress;
import org.voltsecond.losses.EfficiencyCurve;
import org.voltsecond.losses.HeatBalance;
import org.voltsecond.losses.HeatedBody;
import org.voltsecond.losses.LossBudget;
import org.voltsecond.losses.LossEntry;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Pictures of efficiency and losses, and of the temperatures that these make.
 *
 * <pre>{@code
 * List<LossModel> models = List.of(new OverlapLoss(nano(15), nano(20)), new GateChargeLoss(nano(9), 5));
 * LossBudget budget = LossBudget.of(steady, models);
 * LossPictures.losses("Logic rail at 2 A", budget).writePng(folder.resolve("losses.png"));
 * }</pre>
 */
public final class LossPictures {
    private static final int DIGITS = 3;
    private static final double PER_CENT = 100;

    private LossPictures() {}

    /**
     * Draws efficiency over load on a logarithmic axis, with what a linear regulator in the same place cannot exceed.
     *
     * @param title in bold at the top
     * @param curve the efficiency at two loads or more
     * @return the picture
     * @throws IllegalArgumentException if the curve has less than two points
     */
    public static Picture efficiency(String title, EfficiencyCurve curve) {
        // a regulator that does not hold the output may draw less where more was asked for
        List<EfficiencyCurve.Point> points = curve.points().stream()
                .sorted(Comparator.comparingDouble(EfficiencyCurve.Point::loadCurrent))
                .toList();
        double[] loads =
                points.stream().mapToDouble(EfficiencyCurve.Point::loadCurrent).toArray();
        double[] efficiencies = points.stream()
                .mapToDouble(point -> point.budget().efficiency())
                .toArray();
        LineBuilder picture = Pictures.lines(title)
                .subtitle(curve.topology() + ", " + Quantity.format(curve.inputVoltage(), Unit.VOLT, DIGITS) + " in, "
                        + Quantity.format(curve.outputVoltage(), Unit.VOLT, DIGITS) + " out")
                .x("Load current", Unit.AMPERE)
                .logarithmicX()
                .yInPercent("Efficiency")
                .yRange(0, 1)
                .line("switching stage", loads, efficiencies);
        if (curve.linearLimit().isPresent()) {
            double[] linear = new double[loads.length];
            Arrays.fill(linear, curve.linearLimit().getAsDouble());
            picture.line("linear regulator, at best", loads, linear);
        }
        return picture.build();
    }

    /**
     * Draws one row for each part, its losses end to end by their cause.
     *
     * @param title in bold at the top
     * @param budget the losses
     * @return the picture
     */
    public static Picture losses(String title, LossBudget budget) {
        BarBuilder picture = Pictures.bars(title, "loss", Unit.WATT)
                .subtitle("output " + Quantity.format(budget.outputPower(), Unit.WATT, DIGITS) + ", losses "
                        + Quantity.format(budget.total(), Unit.WATT, DIGITS) + ", efficiency "
                        + Quantity.format(PER_CENT * budget.efficiency(), Unit.ONE, DIGITS) + " %")
                .stacked();
        for (LossEntry entry : budget.entries()) {
            picture.bar(entry.part(), entry.cause(), entry.power());
        }
        return picture.build();
    }

    /**
     * Draws the temperature of each body and each capacitor as a bar that begins at the ambient, with a mark where what it stands ends.
     *
     * @param title in bold at the top
     * @param balance the temperatures
     * @return the picture
     * @throws IllegalArgumentException if there is no temperature
     */
    public static Picture temperatures(String title, HeatBalance balance) {
        double ambient = balance.model().ambient();
        BarBuilder picture = Pictures.bars(title, "temperature", Unit.CELSIUS)
                .subtitle("ambient " + Quantity.format(ambient, Unit.CELSIUS, DIGITS) + "; thermal loop gain "
                        + Quantity.format(balance.loopGain(), Unit.ONE, DIGITS) + ", runaway at 1"
                        + (balance.runawayAmbient().exists()
                                ? ", which is at an ambient of "
                                        + Quantity.format(
                                                balance.runawayAmbient().get(), Unit.CELSIUS, DIGITS)
                                : ""))
                .from(ambient);
        for (HeatedBody body : balance.model().bodies()) {
            picture.bar(body.name(), Math.max(ambient, balance.temperature(body.name())));
            picture.mark(body.name(), body.maximum());
        }
        for (CapacitorStress stress : balance.capacitors()) {
            CapacitorRating rating = stress.rating();
            if (rating != null
                    && stress.hotSpot().exists()
                    && !balance.temperatures().containsKey(stress.part())) {
                picture.bar(stress.part(), stress.hotSpot().get());
                picture.mark(stress.part(), rating.maximum());
            }
        }
        return picture.build();
    }
}
