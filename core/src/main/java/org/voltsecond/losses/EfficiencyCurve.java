package org.voltsecond.losses;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.DutyCycleSearch;
import org.voltsecond.converter.LinearRegulator;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.stage.Topology;

/**
 * Efficiency over load, of the kind that the converter has, at a constant output voltage: at every load the duty cycle is the one that gives that output, in
 * whichever mode the converter then conducts.
 *
 * <pre>{@code
 * List<LossModel> models = List.of(new OverlapLoss(nano(15), nano(20)), new GateChargeLoss(nano(9), 5));
 * EfficiencyCurve curve = EfficiencyCurve.of(rail, 5, models, EfficiencyCurve.loads(milli(20), 2, 9));
 * EfficiencyCurve.Point full = curve.points().get(8);
 * double efficiency = full.budget().efficiency(); // 91.77 %
 * double linear = curve.linearLimit().orElseThrow(); // 41.67 %
 * }</pre>
 *
 * @param topology the stage
 * @param inputVoltage V
 * @param outputVoltage magnitude, V
 * @param points the loads that could be reached, as they were asked for
 * @param failures why the others could not, by load current in A
 */
public record EfficiencyCurve(
        Topology topology,
        double inputVoltage,
        double outputVoltage,
        List<Point> points,
        Map<Double, String> failures) {
    /**
     * One load.
     *
     * @param loadCurrent mean, A; of a regulated converter the one that its own output drives
     * @param dutyCycle from 0 to 1
     * @param conduction mode of conduction
     * @param budget the losses
     */
    public record Point(double loadCurrent, double dutyCycle, Conduction conduction, LossBudget budget) {}

    /**
     * Creates a curve.
     *
     * @param topology the stage
     * @param inputVoltage V
     * @param outputVoltage magnitude, V
     * @param points the loads that could be reached, as they were asked for
     * @param failures why the others could not, by load current in A
     */
    public EfficiencyCurve {
        points = List.copyOf(points);
        failures = Map.copyOf(failures);
    }

    /**
     * Works out a curve. A regulated converter sets its own output, and its frequency if it runs freely.
     *
     * @param converter a converter; of its own load the kind stays, of a fixed drive the duty cycle is ignored
     * @param outputVoltage magnitude of the mean output voltage, V; more than 0; of a regulated converter the one that its
     *     loads are reckoned from
     * @param models losses beyond conduction
     * @param loadCurrents mean load currents, A; more than 0
     * @return the curve
     * @throws IllegalArgumentException if a value is out of its range or a model does not fit the converter
     */
    public static EfficiencyCurve of(
            Converter converter, double outputVoltage, List<? extends LossModel> models, double... loadCurrents) {
        List<Point> points = new ArrayList<>();
        Map<Double, String> failures = new LinkedHashMap<>();
        for (double current : loadCurrents) {
            Converter loaded = converter.withLoad(converter.load().drawing(current, outputVoltage));
            try {
                ConverterSteadyState here = converter.isRegulated()
                        ? loaded.steadyState()
                        : DutyCycleSearch.steadyStateFor(loaded, outputVoltage);
                points.add(point(here, current, models));
            } catch (NoSteadyStateException | SwitchingException e) {
                failures.put(current, String.valueOf(e.getMessage()));
            }
        }
        return new EfficiencyCurve(converter.topology(), converter.inputVoltage(), outputVoltage, points, failures);
    }

    private static Point point(ConverterSteadyState steady, double current, List<? extends LossModel> models) {
        Converter converter = steady.converter();
        // its output need not be the one that its load was reckoned from
        double mean = converter.isRegulated()
                ? Math.abs(steady.of(converter.loadCurrent()).mean())
                : current;
        return new Point(mean, steady.dutyCycle(), steady.conduction(), LossBudget.of(steady, models));
    }

    /**
     * Returns what a linear regulator in the same place cannot exceed.
     *
     * @return V_out / V_in; empty where there can be no linear regulator, which neither steps up nor inverts
     */
    public OptionalDouble linearLimit() {
        return !topology.isInverting() && outputVoltage <= inputVoltage
                ? OptionalDouble.of(
                        LinearRegulator.of(inputVoltage, outputVoltage).efficiencyLimit())
                : OptionalDouble.empty();
    }

    /**
     * Returns load currents at equal ratios, for a logarithmic axis.
     *
     * @param lowest A; more than 0
     * @param highest A; more than the lowest
     * @param count how many, at least 2
     * @return the currents, ascending, both ends included
     * @throws IllegalArgumentException if an argument is out of its range
     */
    public static double[] loads(double lowest, double highest, int count) {
        if (!(lowest > 0 && lowest < highest && highest < Double.POSITIVE_INFINITY && count >= 2)) {
            throw new IllegalArgumentException("loads of an efficiency curve: two or more from a lowest above 0 A to a "
                    + "higher highest are valid but " + count + " from " + lowest + " A to " + highest
                    + " A were asked for");
        }
        double step = StrictMath.log(highest / lowest) / (count - 1);
        return IntStream.range(0, count)
                .mapToDouble(k -> k == count - 1 ? highest : lowest * StrictMath.exp(k * step))
                .toArray();
    }
}
