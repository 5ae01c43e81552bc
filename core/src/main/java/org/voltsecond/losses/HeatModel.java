package org.voltsecond.losses;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.units.Result;

/**
 * How the heat of a converter leaves it: bodies, the sinks that they share, and the ambient. Values of parts hold at the reference
 * temperatures that the bodies say; {@link #balance} finds the temperatures at which losses and values agree.
 *
 * <pre>{@code
 * HeatedBody transistor = HeatedBody.of("Q1", 60).withResistance(TemperatureCurve.linear(0.006, 25));
 * HeatModel heat = HeatModel.at(50, transistor, HeatedBody.of("D1", 60).withForwardDrop(-0.001, 25));
 * HeatBalance balance = heat.balance(steady).get();
 * double junction = balance.temperature("Q1"); // 60.70 °C
 * }</pre>
 *
 * @param ambient temperature around the converter, °C; above absolute zero
 * @param bodies what has a temperature of its own
 * @param sinks thermal resistance of each sink to the ambient, K/W, by its name; more than 0
 * @param models losses beyond conduction
 * @param capacitors what capacitors stand; each has its temperature from its rating, or is one of the bodies
 */
public record HeatModel(
        double ambient,
        List<HeatedBody> bodies,
        Map<String, Double> sinks,
        List<LossModel> models,
        List<CapacitorRating> capacitors) {
    /** Absolute zero, °C (exact by definition of the degree Celsius). */
    public static final double ABSOLUTE_ZERO = -273.15;

    /**
     * Checks the values.
     *
     * @param ambient °C
     * @param bodies what has a temperature of its own
     * @param sinks thermal resistance of each sink to the ambient, K/W
     * @param models losses beyond conduction
     * @param capacitors what capacitors stand
     * @throws IllegalArgumentException telling every fault, if a value is out of its range, a body is given twice, or a sink is not given
     */
    public HeatModel {
        bodies = List.copyOf(bodies);
        sinks = new LinkedHashMap<>(sinks);
        models = List.copyOf(models);
        capacitors = List.copyOf(capacitors);
        List<String> faults = new ArrayList<>();
        if (!(ambient > ABSOLUTE_ZERO && ambient < Double.POSITIVE_INFINITY)) {
            faults.add("the ambient must be above " + ABSOLUTE_ZERO + " °C but was " + ambient + " °C");
        }
        sinks.forEach((name, resistance) -> {
            if (!(resistance > 0 && resistance < Double.POSITIVE_INFINITY)) {
                faults.add("sink " + name + " must have more than 0 K/W but had " + resistance + " K/W");
            }
        });
        List<String> names = new ArrayList<>();
        List<String> parts = new ArrayList<>();
        for (HeatedBody body : bodies) {
            for (String part : body.parts()) {
                if (parts.contains(part)) {
                    faults.add("part " + part + " heats body " + body.name() + " and another one");
                }
                parts.add(part);
            }
            if (names.contains(body.name())) {
                faults.add("body " + body.name() + " is given twice");
            }
            names.add(body.name());
            if (!body.sink().isEmpty() && !sinks.containsKey(body.sink())) {
                faults.add(
                        "body " + body.name() + " is on sink " + body.sink() + ", but the sinks are " + sinks.keySet());
            }
        }
        if (!faults.isEmpty()) {
            throw new IllegalArgumentException("heat: " + String.join("; ", faults));
        }
    }

    /**
     * Returns a model of bodies without sinks, with conduction losses only.
     *
     * @param ambient °C
     * @param bodies what has a temperature of its own
     * @return the model
     * @throws IllegalArgumentException if a value is out of its range, or a body is given twice
     */
    public static HeatModel at(double ambient, HeatedBody... bodies) {
        return new HeatModel(ambient, List.of(bodies), Map.of(), List.of(), List.of());
    }

    /**
     * Adds bodies.
     *
     * @param more what has a temperature of its own
     * @return the same with these bodies
     * @throws IllegalArgumentException if a body is given twice, or a sink is not given
     */
    public HeatModel with(HeatedBody... more) {
        List<HeatedBody> all = new ArrayList<>(bodies);
        all.addAll(List.of(more));
        return new HeatModel(ambient, all, sinks, models, capacitors);
    }

    /**
     * Adds losses beyond conduction.
     *
     * @param more the losses
     * @return the same with these losses
     */
    public HeatModel with(List<? extends LossModel> more) {
        List<LossModel> all = new ArrayList<>(models);
        all.addAll(more);
        return new HeatModel(ambient, bodies, sinks, all, capacitors);
    }

    /**
     * Adds a sink.
     *
     * @param name its name
     * @param resistance to the ambient, K/W; more than 0
     * @return the same with this sink
     * @throws IllegalArgumentException if the resistance is out of its range
     */
    public HeatModel withSink(String name, double resistance) {
        Map<String, Double> all = new LinkedHashMap<>(sinks);
        all.put(name, resistance);
        return new HeatModel(ambient, bodies, all, models, capacitors);
    }

    /**
     * Adds what a capacitor stands.
     *
     * @param rating of the capacitor
     * @return the same with this rating
     */
    public HeatModel with(CapacitorRating rating) {
        List<CapacitorRating> all = new ArrayList<>(capacitors);
        all.add(rating);
        return new HeatModel(ambient, bodies, sinks, models, all);
    }

    /**
     * Finds the temperatures, and the steady state at them.
     *
     * @param steady a steady state, with the values that hold at the reference temperatures
     * @return what is found; the reason if losses rise faster with the temperature than heat leaves (thermal runaway), or if there is no
     *     steady state at such temperatures
     * @throws IllegalArgumentException if a part or a loss model does not fit the converter
     */
    public Result<HeatBalance> balance(ConverterSteadyState steady) {
        return new HeatSearch(this, steady).balance();
    }
}
