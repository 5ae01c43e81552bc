package org.voltsecond.converter;

import org.voltsecond.analysis.Parameter;
import org.voltsecond.analysis.Sensitivities;

/**
 * The exact derivatives of the figures of a steady state by every value of its stage, from that one orbit; see
 * {@link Sensitivities}. Safe to use from any thread.
 *
 * <pre>{@code
 * StageMeasurement output = StageMeasurement.of(StageMeasurement.Measure.MEAN, StageSignal.OUTPUT_VOLTAGE);
 * double perVolt =
 *         steady.sensitivities().of(output).withRespectTo(StageValue.INPUT_VOLTAGE); // 0.4366 V for each volt
 * }</pre>
 */
public final class StageSensitivities {
    private final ConverterSteadyState steady;
    private final Sensitivities sensitivities;

    StageSensitivities(ConverterSteadyState steady) {
        this.steady = steady;
        this.sensitivities = steady.periodic().sensitivities();
    }

    /**
     * Chooses a figure.
     *
     * @param figure the figure
     * @return its derivatives
     */
    public OfFigure of(StageMeasurement figure) {
        return new OfFigure(figure);
    }

    /** The derivatives of one figure. */
    public final class OfFigure {
        private final StageMeasurement figure;

        private OfFigure(StageMeasurement figure) {
            this.figure = figure;
        }

        /**
         * Returns the derivative by one value.
         *
         * @param value a value that the converter has
         * @return change of the figure for each unit of the value, in the units of both
         * @throws IllegalArgumentException if the converter has no such value
         * @throws org.voltsecond.analysis.NoSteadyStateException if a changed value has no steady state of its own
         */
        public double withRespectTo(StageValue value) {
            Converter converter = steady.converter();
            value.requireOf(converter);
            double sum = 0;
            for (Parameter parameter : value.parameters(converter)) {
                sum += figure.derivative(steady, sensitivities.to(parameter));
            }
            return value.sign(converter) * sum;
        }

        /**
         * Returns the derivative by a value of the regulator or of a part of the circuit.
         *
         * @param parameter for example {@link Parameter#reference()} or {@link Parameter#divider()}
         * @return change of the figure for each unit of the parameter, in the units of both
         * @throws IllegalArgumentException if the circuit has no such part, or a regulator decides on the times of the drive
         * @throws UnsupportedOperationException if no regulator with such a value of its own drives the converter
         * @throws org.voltsecond.analysis.NoSteadyStateException if a changed value has no steady state of its own
         */
        public double withRespectTo(Parameter parameter) {
            return figure.derivative(steady, sensitivities.to(parameter));
        }

        @Override
        public String toString() {
            return "derivatives of " + figure + " of the " + steady;
        }
    }

    @Override
    public String toString() {
        return "derivatives of the " + steady;
    }
}
