package org.voltsecond.plot.explain;

import java.util.ArrayList;
import java.util.List;
import java.util.function.ToDoubleFunction;
import org.voltsecond.converter.LinearRegulator;
import org.voltsecond.losses.EfficiencyCurve;
import org.voltsecond.plot.BarBuilder;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * A switching converter beside a linear regulator in its place: their heat, and how long a battery at their input lasts. The linear one
 * takes no current for itself, which is its best. The battery is one of constant voltage and of a capacity that does not hang on
 * the current: its own losses and its age are not in it. Immutable.
 *
 * <pre>{@code
 * EfficiencyCurve curve = EfficiencyCurve.of(rail, 5, List.of(), EfficiencyCurve.loads(milli(20), 2, 9));
 * LinearBeside beside = LinearBeside.of(curve, 60); // a battery of 60 A h
 * LinearBeside.At full = beside.loads().get(8);
 * double linear = full.linearHeat(); // 14.00 W
 * double switching = full.switchingHeat(); // 0.7506 W
 * double longer = full.switchingHours() / full.linearHours(); // 2.232
 * beside.heat("Logic rail: heat").writePng(folder.resolve("linear-heat.png"));
 * beside.life("Logic rail: days from 60 A h").writePng(folder.resolve("battery-life.png"));
 * }</pre>
 *
 * @param capacity charge of the battery, A h
 * @param inputVoltage V
 * @param outputVoltage V
 * @param loads from the lightest load to the heaviest
 */
public record LinearBeside(double capacity, double inputVoltage, double outputVoltage, List<At> loads) {
    private static final double HOURS_PER_DAY = 24;
    private static final int DIGITS = 3;

    /** More bars than this do not fit on a screen. */
    private static final int MOST_BARS = 6;

    /**
     * Both at one load.
     *
     * @param loadCurrent A
     * @param linearHeat W
     * @param switchingHeat W
     * @param linearHours how long the battery lasts, h
     * @param switchingHours how long the battery lasts, h
     */
    public record At(
            double loadCurrent, double linearHeat, double switchingHeat, double linearHours, double switchingHours) {}

    /**
     * Makes the list unmodifiable.
     *
     * @param capacity charge of the battery, A h
     * @param inputVoltage V
     * @param outputVoltage V
     * @param loads from the lightest load to the heaviest
     */
    public LinearBeside {
        loads = List.copyOf(loads);
    }

    /**
     * Compares.
     *
     * @param curve losses of the switching converter over load
     * @param capacity charge of the battery, A h; more than 0
     * @return the comparison
     * @throws IllegalArgumentException if the capacity is not more than 0, no load could be reached, or no linear regulator can stand there
     */
    public static LinearBeside of(EfficiencyCurve curve, double capacity) {
        if (!(capacity > 0 && capacity < Double.POSITIVE_INFINITY)
                || curve.points().isEmpty()
                || curve.linearLimit().isEmpty()) {
            throw new IllegalArgumentException(
                    "a comparison with a linear regulator needs a battery of more than 0 A h, a load, and an output below the input, but got "
                            + capacity + " A h, " + curve.points().size() + " loads and " + curve.outputVoltage()
                            + " V from "
                            + curve.inputVoltage() + " V");
        }
        LinearRegulator linear = LinearRegulator.of(curve.inputVoltage(), curve.outputVoltage());
        List<At> loads = new ArrayList<>();
        for (EfficiencyCurve.Point point : curve.points()) {
            double energy = capacity * curve.inputVoltage(); // W h
            double switching = point.budget().outputPower() + point.budget().total();
            loads.add(new At(
                    point.loadCurrent(),
                    linear.loss(point.loadCurrent()),
                    point.budget().total(),
                    energy / linear.inputPower(point.loadCurrent()),
                    energy / switching));
        }
        return new LinearBeside(capacity, curve.inputVoltage(), curve.outputVoltage(), loads);
    }

    /**
     * Draws the heat of both as bars to scale, at up to six loads.
     *
     * @param title in bold at the top
     * @return the picture
     */
    public Picture heat(String title) {
        BarBuilder bars = Pictures.bars(title, "heat", Unit.WATT)
                .subtitle(voltage(inputVoltage) + " to " + voltage(outputVoltage)
                        + "; quiescent current of the linear regulator neglected");
        int step = Math.max(1, (loads.size() + MOST_BARS - 1) / MOST_BARS);
        for (int k = (loads.size() - 1) % step; k < loads.size(); k += step) {
            String load = "at " + Quantity.format(loads.get(k).loadCurrent, Unit.AMPERE, DIGITS);
            bars.bar(load, "linear", loads.get(k).linearHeat).bar(load, "switching", loads.get(k).switchingHeat);
        }
        return bars.build();
    }

    /**
     * Draws over the load how many days the battery lasts with each.
     *
     * @param title in bold at the top
     * @return the picture
     * @throws IllegalArgumentException if there is but one load
     */
    public Picture life(String title) {
        return Pictures.lines(title)
                .subtitle("battery of " + Quantity.format(capacity, Unit.ONE, DIGITS) + " A·h at "
                        + voltage(inputVoltage) + "; self-discharge, ageing and low temperature neglected")
                .x("Load current", Unit.AMPERE)
                .logarithmicX()
                .y("Days", Unit.ONE)
                .line("switching", column(At::loadCurrent), days(At::switchingHours))
                .line("linear", column(At::loadCurrent), days(At::linearHours))
                .build();
    }

    private double[] column(ToDoubleFunction<At> what) {
        return loads.stream().mapToDouble(what).toArray();
    }

    private double[] days(ToDoubleFunction<At> hours) {
        return loads.stream()
                .mapToDouble(at -> hours.applyAsDouble(at) / HOURS_PER_DAY)
                .toArray();
    }

    private static String voltage(double value) {
        return Quantity.format(value, Unit.VOLT, DIGITS);
    }
}
