package org.voltsecond.losses;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.analysis.Parameter;
import org.voltsecond.analysis.Sensitivities;
import org.voltsecond.analysis.Sensitivity;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.PartValue;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.numeric.Eigenvalues;
import org.voltsecond.numeric.Matrices;

/**
 * What a converter loses with the values that its parts have at some temperatures, and how that goes with these: of conduction exact, from
 * the derivatives by part values; of loss models by central differences, taken when first asked for and after {@link #forgetModels}.
 */
final class HotLosses {
    /** Step of a difference, K: losses are so nearly straight over it that the third derivative plays no part. */
    private static final double DIFFERENCE = 0.5;

    private final HeatModel model;
    private final ConverterSteadyState cold;
    private final Converter converter;
    private final int n;
    private final double[][] resistances;
    private final List<List<String>> heating = new ArrayList<>();
    private final List<List<Varied>> varied = new ArrayList<>();
    /** Derivatives of the losses of models; null before they are known. */
    private double @Nullable [][] modelSlopes;

    HotLosses(HeatModel model, ConverterSteadyState steady) {
        this.model = model;
        cold = steady;
        converter = steady.converter();
        n = model.bodies().size();
        resistances = resistances();
        List<PartValue> values = PartValue.all(converter.circuit());
        for (HeatedBody body : model.bodies()) {
            for (String part : body.parts()) {
                converter.circuit().part(part); // refuses what is not there
            }
            heating.add(heating(body));
            varied.add(varied(body, values));
        }
    }

    /** A value that goes with the temperature of a body. */
    private record Varied(PartValue value, HeatedBody body) {
        boolean isResistance() {
            return value.quantity().endsWith("resistance");
        }

        double at(double temperature) {
            TemperatureCurve curve = body.curve();
            double of = isResistance()
                    ? curve == null ? value.value() : value.value() * curve.factorAt(temperature)
                    : value.value() + body.dropCoefficient() * (temperature - body.dropReference());
            return Math.max(0, of);
        }

        double slopeAt(double temperature) {
            TemperatureCurve curve = body.curve();
            if (!(at(temperature) > 0)) {
                return 0;
            }
            return isResistance()
                    ? curve == null ? 0 : value.value() * curve.slopeAt(temperature)
                    : body.dropCoefficient();
        }
    }

    private static List<Varied> varied(HeatedBody body, List<PartValue> values) {
        return values.stream()
                .filter(value -> body.parts().stream()
                        .anyMatch(part ->
                                value.part().equals(part) || value.part().startsWith(part + ".")))
                .filter(value -> value.value() > 0)
                .map(value -> new Varied(value, body))
                .filter(each -> each.isResistance()
                        ? body.curve() != null
                        : each.value().quantity().equals("forward_drop") && body.dropCoefficient() != 0)
                .toList();
    }

    private List<String> heating(HeatedBody body) {
        List<String> all = new ArrayList<>();
        for (String part : body.parts()) {
            all.addAll(
                    converter.circuit().part(part) instanceof Part.Switch
                            ? converter.withBodyDiodes(List.of(part))
                            : List.of(part));
        }
        return all;
    }

    private double[][] resistances() {
        double[][] matrix = new double[n][n];
        for (int i = 0; i < n; i++) {
            HeatedBody body = model.bodies().get(i);
            matrix[i][i] = body.resistance();
            for (int j = 0; j < n; j++) {
                boolean shared = !body.sink().isEmpty()
                        && body.sink().equals(model.bodies().get(j).sink());
                matrix[i][j] += shared ? model.sinks().getOrDefault(body.sink(), 0.0) : 0;
            }
        }
        return matrix;
    }

    /** The converter at some temperatures: losses, their derivatives, and R times these. */
    record Point(
            double[] temperatures, ConverterSteadyState steady, double[] powers, double[][] slopes, double[][] gains) {
        double loopGain() {
            return Eigenvalues.of(gains).stream()
                    .mapToDouble(each -> each.real())
                    .max()
                    .orElse(0);
        }

        /** By how much the temperatures lie above what the losses make of them, but for the ambient. */
        double[] rises(double[][] resistances) {
            double[] left = temperatures.clone();
            for (int i = 0; i < left.length; i++) {
                left[i] -= Matrices.dot(resistances[i], 0, powers, 0, powers.length);
            }
            return left;
        }
    }

    /** The thermal resistances, K/W: how much the losses of one body heat another. */
    double[][] thermal() {
        return resistances;
    }

    /** Takes the derivatives of loss models anew, at the temperatures that are asked for next. */
    void forgetModels() {
        modelSlopes = null;
    }

    Point at(double[] temperatures, ConverterSteadyState near) {
        ConverterSteadyState steady = steady(temperatures, near);
        double[] powers = total(steady);
        double[][] slopes = conductionSlopes(temperatures, steady);
        if (modelSlopes == null) {
            modelSlopes =
                    model.models().isEmpty() ? new double[n][n] : differences(temperatures, steady, this::ofModels);
        }
        double[][] gains = new double[n][n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                slopes[i][j] += modelSlopes[i][j];
            }
        }
        for (int i = 0; i < n; i++) {
            for (int j = 0; j < n; j++) {
                for (int k = 0; k < n; k++) {
                    gains[i][j] += resistances[i][k] * slopes[k][j];
                }
            }
        }
        return new Point(temperatures, steady, powers, slopes, gains);
    }

    private ConverterSteadyState steady(double[] temperatures, ConverterSteadyState near) {
        Converter there = converter;
        for (int j = 0; j < n; j++) {
            for (Varied each : varied.get(j)) {
                there = there.with(each.value().name(), each.at(temperatures[j]));
            }
        }
        return there == converter ? cold : there.steadyStateNear(near);
    }

    private double[] total(ConverterSteadyState steady) {
        double[] powers = conduction(steady);
        double[] more = ofModels(steady);
        for (int i = 0; i < n; i++) {
            powers[i] += more[i];
        }
        return powers;
    }

    private double[] conduction(ConverterSteadyState steady) {
        return ofBodies(steady.lossesByPart());
    }

    private double[] ofModels(ConverterSteadyState steady) {
        double[] powers = new double[n];
        for (LossModel each : model.models()) {
            double[] more = ofBodies(each.powers(steady));
            for (int i = 0; i < n; i++) {
                powers[i] += more[i];
            }
        }
        return powers;
    }

    private double[] ofBodies(Map<String, Double> byPart) {
        double[] powers = new double[n];
        for (int i = 0; i < n; i++) {
            for (String part : heating.get(i)) {
                powers[i] += byPart.getOrDefault(part, 0.0);
            }
        }
        return powers;
    }

    /** Exact, but for sources that change with time and states that nothing brings back: of these there are differences alone. */
    private double[][] conductionSlopes(double[] temperatures, ConverterSteadyState steady) {
        if (!steady.periodic().circuit().sourceStates().isEmpty()) {
            return differences(temperatures, steady, this::conduction);
        }
        try {
            Sensitivities sensitivities = steady.periodic().sensitivities();
            double[][] slopes = new double[n][n];
            for (int j = 0; j < n; j++) {
                for (Varied each : varied.get(j)) {
                    Sensitivity by = sensitivities.to(Parameter.of(each.value().name()));
                    double slope = each.slopeAt(temperatures[j]);
                    for (int i = 0; i < n; i++) {
                        for (String part : heating.get(i)) {
                            slopes[i][j] += slope * by.meanLoss(part);
                        }
                    }
                }
            }
            return slopes;
        } catch (NoSteadyStateException e) {
            return differences(temperatures, steady, this::conduction);
        }
    }

    /** Losses of a steady state, body by body. */
    private interface Losses {
        double[] of(ConverterSteadyState steady);
    }

    private double[][] differences(double[] temperatures, ConverterSteadyState near, Losses losses) {
        double[][] slopes = new double[n][n];
        for (int j = 0; j < n; j++) {
            if (!varied.get(j).isEmpty()) {
                double[] moved = temperatures.clone();
                moved[j] = temperatures[j] + DIFFERENCE;
                double[] above = losses.of(steady(moved, near));
                moved[j] = temperatures[j] - DIFFERENCE;
                double[] below = losses.of(steady(moved, near));
                for (int i = 0; i < n; i++) {
                    slopes[i][j] = (above[i] - below[i]) / (2 * DIFFERENCE);
                }
            }
        }
        return slopes;
    }
}
