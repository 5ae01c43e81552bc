package org.voltsecond.losses;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Map;
import java.util.Objects;
import java.util.Random;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.ShrinkingMode;
import net.jqwik.api.statistics.Statistics;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Drive;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Result;

/** Whatever the stage and its thermal resistances: temperatures are those that the losses make, or there are none. */
class HeatProperties {
    private static double between(Random random, double low, double high) {
        return low * Math.pow(high / low, random.nextDouble());
    }

    private static Converter converter(Random random) {
        PowerStage parts = (random.nextBoolean() ? PowerStage.buck() : PowerStage.boost())
                .input(12)
                .inductor(between(random, 5e-6, 50e-6), between(random, 0.01, 0.2))
                .outputCapacitor(between(random, 2e-5, 2e-4), between(random, 0.002, 0.05))
                .transistor(between(random, 0.02, 0.4))
                .rectifier(between(random, 0.2, 0.8), between(random, 0.005, 0.1))
                .load(Load.resistor(between(random, 2, 200)));
        Converter open = parts.drive(Drive.fixedDuty(0.3 + 0.2 * random.nextDouble(), 300e3));
        double output = Math.abs(open.steadyState().of(open.outputVoltage()).mean());
        return random.nextInt(3) > 0
                ? open
                : open.withRegulator(VoltageMode.of(300e3, 1, 1 / output, Compensator.type2(100, 4557, 100e3)));
    }

    @Property(tries = 30, seed = "4205", shrinking = ShrinkingMode.OFF)
    void lossesAndTemperaturesAgree(@ForAll long seed) {
        Random random = new Random(seed);
        Converter converter = converter(random);
        double sink = between(random, 1, 60);
        double[] own = {between(random, 1, 150), between(random, 1, 80), between(random, 5, 100)};
        double ambient = -20 + 80 * random.nextDouble();
        HeatModel model = HeatModel.at(ambient)
                .withSink("S", sink)
                .with(
                        HeatedBody.of("Q1", own[0]).onSink("S").withResistance(TemperatureCurve.linear(0.007, 25)),
                        HeatedBody.of("D1", own[1]).onSink("S").withForwardDrop(-0.0015, 25),
                        HeatedBody.of("L1", own[2]).withResistance(TemperatureCurve.copper(20)));
        Result<HeatBalance> found = model.balance(converter.steadyState());
        Statistics.label("balanced").collect(found.exists());
        if (!found.exists()) {
            assertThat(found.reason()).contains("thermal runaway");
            return;
        }
        HeatBalance balance = found.get();
        double q = balance.temperature("Q1");
        double d = balance.temperature("D1");
        double l = balance.temperature("L1");
        Converter hot = converter
                .with("Q1.on_resistance", value(converter, "Q1.on_resistance") * (1 + 0.007 * (q - 25)))
                .with("D1.forward_drop", Math.max(0, value(converter, "D1.forward_drop") - 0.0015 * (d - 25)))
                .with("L1.resistance", value(converter, "L1.resistance") * (1 + 0.00393 * (l - 20)));
        ConverterSteadyState steady = hot.steadyState();
        Map<String, Double> heat = steady.lossesByPart();
        double shared = ambient + sink * (watt(heat, "Q1") + watt(heat, "D1"));
        assertThat(q).isCloseTo(shared + own[0] * watt(heat, "Q1"), within(1e-6));
        assertThat(d).isCloseTo(shared + own[1] * watt(heat, "D1"), within(1e-6));
        assertThat(l).isCloseTo(ambient + own[2] * watt(heat, "L1"), within(1e-6));
        assertThat(balance.loopGain()).isLessThan(1);
        balance.runawayAmbient().ifExists(highest -> assertThat(highest).isGreaterThan(ambient));
    }

    private static double value(Converter converter, String name) {
        return org.voltsecond.circuit.PartValue.of(converter.circuit(), name).value();
    }

    private static double watt(Map<String, Double> heat, String part) {
        return Objects.requireNonNull(heat.get(part), part);
    }
}
