package org.voltsecond.losses;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.StageLosses;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Where the watts go: conduction, exact for every part, and what models add to it.
 *
 * <pre>{@code
 * LossBudget budget =
 *         LossBudget.of(steady, List.of(new OverlapLoss(nano(15), nano(20)), new GateChargeLoss(nano(9), 5)));
 * double transistor = budget.total("transistor"); // 279.6 mW
 * double efficiency = budget.efficiency(); // 91.80 %
 * }</pre>
 *
 * @param outputPower what the load takes, W
 * @param entries the losses, conduction first; those of models as they were given
 */
public record LossBudget(double outputPower, List<LossEntry> entries) {
    /**
     * Creates a budget.
     *
     * @param outputPower what the load takes, W
     * @param entries the losses, conduction first; those of models as they were given
     */
    public LossBudget {
        entries = List.copyOf(entries);
    }

    /**
     * Works out a budget.
     *
     * @param steady a periodic steady state
     * @param models losses beyond conduction
     * @return the budget
     * @throws IllegalArgumentException if a model does not fit the converter
     */
    public static LossBudget of(ConverterSteadyState steady, List<? extends LossModel> models) {
        List<LossEntry> entries = new ArrayList<>();
        steady.heat()
                .groups()
                .forEach((place, power) -> entries.add(new LossEntry(place, LossEntry.CONDUCTION, power)));
        Map<String, String> places = new HashMap<>();
        StageLosses.told(steady.converter()).forEach((words, parts) -> parts.forEach(part -> places.put(part, words)));
        for (LossModel model : models) {
            Map<String, Double> byPlace = new LinkedHashMap<>();
            model.powers(steady)
                    .forEach((part, power) -> byPlace.merge(places.getOrDefault(part, part), power, Double::sum));
            byPlace.forEach((place, power) -> entries.add(new LossEntry(place, model.cause(), power)));
        }
        return new LossBudget(steady.outputPower(), entries);
    }

    /**
     * Returns all losses together.
     *
     * @return the sum, W
     */
    public double total() {
        return entries.stream().mapToDouble(LossEntry::power).sum();
    }

    /**
     * Returns all losses of a part together.
     *
     * @param part in words or by its name, as its entries tell it
     * @return the sum, W
     */
    public double total(String part) {
        return entries.stream()
                .filter(entry -> entry.part().equals(part))
                .mapToDouble(LossEntry::power)
                .sum();
    }

    /**
     * Returns the efficiency with all losses.
     *
     * @return output power over the sum of output power and losses, from 0 to 1; not a number if both are 0
     */
    public double efficiency() {
        return outputPower / (outputPower + total());
    }

    /** {@return the sums, then each loss on a line of its own} */
    @Override
    public String toString() {
        StringBuilder text = new StringBuilder("losses " + Quantity.format(total(), Unit.WATT, 4)
                + " beside an output of " + Quantity.format(outputPower, Unit.WATT, 4));
        entries.forEach(entry -> text.append("\n  ").append(entry));
        return text.toString();
    }
}
