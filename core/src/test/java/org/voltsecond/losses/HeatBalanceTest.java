package org.voltsecond.losses;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;
import static org.voltsecond.units.Si.nano;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Drive;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Result;

/** Temperatures of parts against closed forms, and their derivatives against differences. */
class HeatBalanceTest {
    private static Converter buck(double duty, Load load) {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(load)
                .drive(Drive.fixedDuty(duty, kilo(300)));
    }

    /** A transistor that is closed for ever carries the current of the load: P = R I² (1 + a (T - T0)) in closed form. */
    private static ConverterSteadyState closed(double ampere) {
        return buck(1, Load.current(ampere)).steadyState();
    }

    @ParameterizedTest
    @CsvSource({"2, 40, 0.006, 25, 60", "2, -20, 0.006, 25, 100", "5, 85, 0.0039, 20, 30", "1, 40, -0.004, 25, 500"})
    void aResistorOfConstantCurrentIsInClosedForm(
            double ampere, double ambient, double coefficient, double reference, double resistance) {
        double atReference = 0.08 * ampere * ampere;
        double loop = coefficient * resistance * atReference;
        double expected = (ambient + resistance * atReference * (1 - coefficient * reference)) / (1 - loop);
        HeatedBody transistor =
                HeatedBody.of("Q1", resistance).withResistance(TemperatureCurve.linear(coefficient, reference));
        HeatBalance balance =
                HeatModel.at(ambient, transistor).balance(closed(ampere)).get();
        assertThat(balance.temperature("Q1")).isCloseTo(expected, within(1e-9));
        assertThat(balance.loopGain()).isCloseTo(loop, within(1e-10));
        assertThat(balance.powers().get("Q1")).isCloseTo((expected - ambient) / resistance, within(1e-9));
        assertThat(balance.runawayAmbient().exists()).isFalse();
    }

    @Test
    void atALoopGainOfOneNoTemperatureBalances() {
        TemperatureCurve curve = TemperatureCurve.linear(0.006, 25);
        double critical = 1 / (0.006 * 0.08 * 4);
        HeatedBody below = HeatedBody.of("Q1", 0.5 * critical).withResistance(curve);
        HeatedBody above = HeatedBody.of("Q1", 1.0001 * critical).withResistance(curve);
        assertThat(HeatModel.at(25, below).balance(closed(2)).get().temperature("Q1"))
                .isCloseTo(25 + 0.5 * critical * 0.32 / 0.5, within(1e-8));
        Result<HeatBalance> none = HeatModel.at(25, above).balance(closed(2));
        assertThat(none.exists()).isFalse();
        assertThat(none.reason()).contains("thermal runaway", "25.00 °C", "at any ambient");
    }

    /** A resistance that rises faster from 125 °C on: there the loop gain passes 1, and there the ambient is highest. */
    @Test
    void theRunawayAmbientLiesAtTheKneeOfATable() {
        TemperatureCurve curve = new TemperatureCurve(List.of(
                new TemperatureCurve.Point(25, 1),
                new TemperatureCurve.Point(125, 1.6),
                new TemperatureCurve.Point(175, 3)));
        double cold = 0.08 * 4;
        double resistance = 150; // loop gain 0.288 below 125 °C, 1.344 above
        double highest = 125 - resistance * cold * 1.6;
        HeatModel model = HeatModel.at(40, HeatedBody.of("Q1", resistance).withResistance(curve));
        HeatBalance balance = model.balance(closed(2)).get();
        assertThat(balance.loopGain()).isCloseTo(resistance * cold * 0.006, within(1e-10));
        assertThat(balance.runawayAmbient().get()).isCloseTo(highest, within(1e-3));
        HeatModel hotter =
                HeatModel.at(highest + 0.1, HeatedBody.of("Q1", resistance).withResistance(curve));
        assertThat(hotter.balance(closed(2)).reason()).contains("thermal runaway", "up to an ambient of 48.20 °C");
        HeatModel just =
                HeatModel.at(highest - 0.1, HeatedBody.of("Q1", resistance).withResistance(curve));
        assertThat(just.balance(closed(2)).get().temperature("Q1")).isBetween(124.0, 125.0);
    }

    /** The same beside a coil on the same sink: at the knee of the transistor the temperature of the coil is linear in what is known. */
    @Test
    void theRunawayOfOneBodyCarriesTheOthersAlong() {
        TemperatureCurve curve = new TemperatureCurve(List.of(
                new TemperatureCurve.Point(25, 1),
                new TemperatureCurve.Point(125, 1.6),
                new TemperatureCurve.Point(175, 3)));
        double sink = 10;
        double[] own = {150, 40};
        double transistor = 0.08 * 4 * 1.6;
        double coil = 0.03 * 4;
        double coldCoil = coil * (1 - 0.00393 * 20);
        double winding = (125 - own[0] * transistor + own[1] * coldCoil) / (1 - own[1] * coil * 0.00393);
        double heat = coil * (1 + 0.00393 * (winding - 20));
        double highest = 125 - sink * (transistor + heat) - own[0] * transistor;
        HeatModel model = HeatModel.at(0)
                .withSink("S", sink)
                .with(
                        HeatedBody.of("Q1", own[0]).onSink("S").withResistance(curve),
                        HeatedBody.of("L1", own[1]).onSink("S").withResistance(TemperatureCurve.copper(20)));
        HeatBalance balance = model.balance(closed(2)).get();
        assertThat(balance.runawayAmbient().get()).isCloseTo(highest, within(2e-3));
        HeatModel hotter = new HeatModel(highest + 0.1, model.bodies(), model.sinks(), List.of(), List.of());
        assertThat(hotter.balance(closed(2)).reason()).contains("thermal runaway", "up to an ambient of");
    }

    /** The input of a load of constant power grows with the resistance before it: i = (V - sqrt(V² - 4 R P)) / (2 R) in closed form. */
    @Test
    void aLoadOfConstantPowerRunsAwayAtTheTopOfTheAmbient() {
        Converter rail = PowerStage.buck()
                .input(6)
                .inductor(micro(22), 0)
                .outputCapacitor(micro(47), milli(5))
                .transistor(0.4)
                .rectifier(0.4, milli(20))
                .load(Load.power(6, 2))
                .drive(Drive.fixedDuty(1, kilo(300)));
        HeatedBody transistor = HeatedBody.of("Q1", 100).withResistance(TemperatureCurve.linear(0.005, 25));
        HeatBalance balance =
                HeatModel.at(0, transistor).balance(rail.steadyState()).get();
        double hot = balance.temperature("Q1");
        // the load's chords are off by 1e-7 of the current
        assertThat(ambient(hot, 100)).isCloseTo(0, within(1e-4));
        double highest = Double.NEGATIVE_INFINITY;
        for (double temperature = 0; temperature < 500; temperature += 0.01) {
            highest = Math.max(highest, ambient(temperature, 100));
        }
        assertThat(balance.runawayAmbient().get()).isCloseTo(highest, within(0.02));
    }

    private static double ambient(double temperature, double thermal) {
        double ohm = 0.4 * (1 + 0.005 * (temperature - 25));
        double ampere = (6 - Math.sqrt(36 - 4 * ohm * 6)) / (2 * ohm);
        return temperature - thermal * ohm * ampere * ampere;
    }

    private static final List<LossModel> MODELS = List.of(
            new OverlapLoss(nano(15), nano(20)),
            new ReverseRecoveryLoss(nano(20), nano(10)),
            new CoreLoss(new SteinmetzMaterial(0.25, 1.6, 2.5), 12e-6, 0.4e-6, 12));

    /** Transistor and rectifier share a sink, the coil is of copper, losses of all kinds count. */
    private static HeatModel shared() {
        return HeatModel.at(45)
                .withSink("S", 20)
                .with(
                        HeatedBody.of("Q1", 8).onSink("S").withResistance(TemperatureCurve.linear(0.006, 25)),
                        HeatedBody.of("D1", 6)
                                .onSink("S")
                                .withForwardDrop(-0.001, 25)
                                .withResistance(TemperatureCurve.linear(0.003, 25)),
                        HeatedBody.of("L1", 40).withResistance(TemperatureCurve.copper(20)))
                .with(MODELS);
    }

    private static Converter regulated(double load) {
        VoltageMode loop = VoltageMode.of(kilo(300), 1, 0.2, Compensator.type2(1500, 4557, kilo(100)))
                .withMaximumDutyCycle(0.95);
        return buck(0.45, Load.resistor(load)).withRegulator(loop);
    }

    /** Fixed and regulated, continuous and discontinuous: reckoned again from the values at the temperatures that were found. */
    @ParameterizedTest
    @CsvSource({"false, 2.5", "false, 60", "true, 2.5", "true, 60"})
    void lossesAtTheTemperaturesMakeTheTemperatures(boolean isRegulated, double load) {
        Converter rail = isRegulated ? regulated(load) : buck(0.45, Load.resistor(load));
        HeatBalance balance = shared().balance(rail.steadyState()).get();
        double[] powers = powers(rail, balance, "", 0);
        double sink = 45 + 20 * (powers[0] + powers[1]);
        assertThat(balance.sinkTemperatures().get("S")).isCloseTo(sink, within(1e-6));
        assertThat(balance.temperature("Q1")).isCloseTo(sink + 8 * powers[0], within(1e-6));
        assertThat(balance.temperature("D1")).isCloseTo(sink + 6 * powers[1], within(1e-6));
        assertThat(balance.temperature("L1")).isCloseTo(45 + 40 * powers[2], within(1e-6));
        assertThat(balance.loopGain()).isBetween(-0.1, 0.2).isNotZero();
        int column = 0;
        for (String body : List.of("Q1", "D1", "L1")) {
            double[] above = powers(rail, balance, body, 0.5);
            double[] below = powers(rail, balance, body, -0.5);
            for (int row = 0; row < 3; row++) {
                assertThat(balance.derivatives().get(row).get(column))
                        .as("losses %d by temperature %s", row, body)
                        .isCloseTo(above[row] - below[row], within(1e-7 * powers[row]));
            }
            column++;
        }
        LossBudget cold = LossBudget.of(rail.steadyState(), MODELS);
        assertThat(balance.budget().total("inductor")).isGreaterThan(cold.total("inductor"));
    }

    /** The losses of transistor, rectifier and coil with all values written out, one temperature moved. */
    private static double[] powers(Converter rail, HeatBalance balance, String moved, double by) {
        double q = balance.temperature("Q1") + (moved.equals("Q1") ? by : 0);
        double d = balance.temperature("D1") + (moved.equals("D1") ? by : 0);
        double l = balance.temperature("L1") + (moved.equals("L1") ? by : 0);
        ConverterSteadyState hot = rail.with("Q1.on_resistance", 0.08 * (1 + 0.006 * (q - 25)))
                .with("D1.forward_drop", 0.4 - 0.001 * (d - 25))
                .with("D1.resistance", 0.02 * (1 + 0.003 * (d - 25)))
                .with("L1.resistance", 0.03 * (1 + 0.00393 * (l - 20)))
                .steadyState();
        LossBudget budget = LossBudget.of(hot, MODELS);
        return new double[] {budget.total("transistor"), budget.total("rectifier"), budget.total("inductor")};
    }

    @Test
    void allFaultsAreToldAtOnce() {
        assertThatThrownBy(() -> new HeatModel(
                        -300,
                        List.of(HeatedBody.of("Q1", 1).onSink("S"), HeatedBody.of("Q1", 1)),
                        java.util.Map.of("T", 0.0),
                        List.of(),
                        List.of()))
                .hasMessageContaining("above -273.15 °C but was -300.0 °C")
                .hasMessageContaining("sink T must have more than 0 K/W but had 0.0 K/W")
                .hasMessageContaining("body Q1 is given twice")
                .hasMessageContaining("part Q1 heats body Q1 and another one")
                .hasMessageContaining("body Q1 is on sink S, but the sinks are [T]");
        assertThatThrownBy(() -> HeatedBody.of("Q1", 0)).hasMessageContaining("more than 0 K/W but was 0.0 K/W");
        assertThatThrownBy(() -> new TemperatureCurve(
                        List.of(new TemperatureCurve.Point(25, 1), new TemperatureCurve.Point(25, -1))))
                .hasMessageContaining("must ascend")
                .hasMessageContaining("at 25.0 °C must be more than 0 but was -1.0");
        assertThatThrownBy(() -> HeatModel.at(25, HeatedBody.of("Q7", 1)).balance(closed(1)))
                .hasMessageContaining("Q7");
    }
}
