package org.voltsecond.losses;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/**
 * Temperatures at which the losses of a converter, at the values that its parts have there, leave by the thermal resistances.
 *
 * <p>How far that is from running away: a small rise of the temperatures raises the losses, and these the temperatures; the factor
 * from the one to the other, the largest eigenvalue of thermal resistances times the derivatives of the losses by the temperatures, is a
 * loop gain. At 1 no temperature balances.
 *
 * <pre>{@code
 * HeatedBody transistor = HeatedBody.of("Q1", 60).withResistance(TemperatureCurve.linear(0.006, 25));
 * HeatBalance balance = HeatModel.at(50, transistor).balance(steady).get();
 * double junction = balance.temperature("Q1"); // 60.58 °C
 * double margin = 1 - balance.loopGain(); // 0.9495
 * double efficiency = balance.budget().efficiency(); // 92.77 %
 * }</pre>
 *
 * @param model the thermal model
 * @param steady the steady state with the values of the parts at these temperatures
 * @param temperatures of each body, °C
 * @param powers what each body turns into heat, W
 * @param derivatives of the losses by the temperatures, W/K: row by row the losses of a body
 * @param loopGain below 1; negative where losses fall as it gets hotter
 * @param runawayAmbient the ambient above which there is no balance, °C; the reason where there is none
 * @param capacitors currents, hot spots and lives of the capacitors
 */
public record HeatBalance(
        HeatModel model,
        ConverterSteadyState steady,
        Map<String, Double> temperatures,
        Map<String, Double> powers,
        List<List<Double>> derivatives,
        double loopGain,
        Result<Double> runawayAmbient,
        List<CapacitorStress> capacitors) {
    /**
     * Copies the maps.
     *
     * @param model the thermal model
     * @param steady the steady state at these temperatures
     * @param temperatures of each body, °C
     * @param powers what each body turns into heat, W
     * @param derivatives of the losses by the temperatures, W/K
     * @param loopGain below 1
     * @param runawayAmbient °C, or the reason
     * @param capacitors currents, hot spots and lives of the capacitors
     */
    public HeatBalance {
        temperatures = Collections.unmodifiableMap(new LinkedHashMap<>(temperatures));
        powers = Collections.unmodifiableMap(new LinkedHashMap<>(powers));
        derivatives = derivatives.stream().map(List::copyOf).toList();
        capacitors = List.copyOf(capacitors);
    }

    /**
     * Returns the temperature of a body.
     *
     * @param body its name
     * @return °C
     * @throws IllegalArgumentException if there is no such body
     */
    public double temperature(String body) {
        Double found = temperatures.get(body);
        if (found == null) {
            throw new IllegalArgumentException(
                    "there is no heated body '" + body + "'; there are " + temperatures.keySet());
        }
        return found;
    }

    /**
     * Returns the losses at these temperatures.
     *
     * @return conduction and the losses of the models
     */
    public LossBudget budget() {
        return LossBudget.of(steady, model.models());
    }

    /**
     * Returns temperatures of sinks.
     *
     * @return °C by name
     */
    public Map<String, Double> sinkTemperatures() {
        Map<String, Double> found = new LinkedHashMap<>();
        model.sinks().forEach((name, resistance) -> {
            double power = 0;
            for (HeatedBody body : model.bodies()) {
                power += body.sink().equals(name) ? powers.getOrDefault(body.name(), 0.0) : 0;
            }
            found.put(name, model.ambient() + resistance * power);
        });
        return found;
    }

    @Override
    public String toString() {
        StringBuilder text = new StringBuilder("at an ambient of " + Quantity.format(model.ambient(), Unit.CELSIUS, 4));
        temperatures.forEach((body, temperature) ->
                text.append(", ").append(body).append(' ').append(Quantity.format(temperature, Unit.CELSIUS, 4)));
        return text.toString();
    }
}
