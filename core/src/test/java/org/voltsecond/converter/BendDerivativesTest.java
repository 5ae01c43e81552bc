package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.analysis.Parameter;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.circuit.PartValue;
import org.voltsecond.control.Drive;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;

/** Derivatives by every number of parts that bend, against central differences. */
class BendDerivativesTest {
    private static final double STEP = 1e-4;
    private static final double SMALL_STEP = 4e-6;

    private static Converter converter(Topology topology, Load load, double duty) {
        return PowerStage.of(topology)
                .input(12)
                .inductor(micro(22), milli(30))
                .saturation(new Bend(1.1, micro(14)), new Bend(1.4, micro(8)), new Bend(20, micro(4)))
                .outputCapacitor(micro(10), milli(20))
                .bias(new Bend(2.5, micro(7)), new Bend(4.9, micro(5)), new Bend(5.03, micro(4)))
                .transistor(milli(80), 0.2)
                .rectifier(0.4, milli(20))
                .load(load)
                .drive(Drive.fixedDuty(duty, kilo(300)));
    }

    @ParameterizedTest
    @ValueSource(strings = {"resistor", "diodes", "battery", "discontinuous", "inverting", "boost"})
    void agreeWithDifferences(String kind) {
        Converter converter = switch (kind) {
            case "diodes" -> converter(Topology.BUCK, Load.lightEmittingDiodes(2, 2.2, 0.2), 0.45);
            case "battery" -> converter(Topology.BUCK, Load.battery(4, 0.5), 0.45);
            case "discontinuous" -> converter(Topology.BUCK, Load.resistor(12), 0.3);
            case "inverting" -> converter(Topology.INVERTING_BUCK_BOOST, Load.power(2.5, 2), 0.32);
            case "boost" -> converter(Topology.BOOST, Load.power(20, 4), 0.3);
            default -> converter(Topology.BUCK, Load.resistor(3.6), 0.45);
        };
        ConverterSteadyState steady = converter.steadyState();
        int checked = 0;
        for (PartValue value : PartValue.all(converter.circuit())) {
            boolean power = converter.load().toString().contains("W");
            if (value.value() == 0 || (power && !value.name().matches("R1.*|L1.*n.1..*"))) {
                continue;
            }
            double derivative = steady.periodic()
                    .sensitivities()
                    .to(Parameter.of(value.name()))
                    .mean(converter.outputVoltage());
            // between steps as large as a segment of the hyperbola its bends lie
            double step = power ? SMALL_STEP : STEP;
            double expected = difference(converter, value, step);
            double coarse = difference(converter, value, 2 * step);
            double richardson = (4 * expected - coarse) / 3;
            double size = Math.abs(steady.of(converter.outputVoltage()).mean());
            assertThat(derivative * value.value())
                    .as(value.name())
                    .isCloseTo(richardson * value.value(), within(2e-8 * size));
            checked++;
        }
        assertThat(checked).isGreaterThan(3);
    }

    private static double difference(Converter converter, PartValue value, double step) {
        double up = mean(converter.with(value.name(), value.value() * (1 + step)));
        double down = mean(converter.with(value.name(), value.value() * (1 - step)));
        return (up - down) / (2 * step * value.value());
    }

    private static double mean(Converter converter) {
        return converter.steadyState().of(converter.outputVoltage()).mean();
    }

    @Test
    void aBendThatIsNotThereIsRefused() {
        Converter converter = converter(Topology.BUCK, Load.resistor(3.6), 0.45);
        assertThatThrownBy(() -> converter
                        .steadyState()
                        .periodic()
                        .sensitivities()
                        .to(Parameter.of("L1.saturation[7].inductance")))
                .hasMessageContaining("L1.saturation[7]");
    }
}
