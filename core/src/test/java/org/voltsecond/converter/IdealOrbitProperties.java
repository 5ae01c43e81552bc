package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.Random;
import net.jqwik.api.Assume;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.control.Drive;
import org.voltsecond.reference.IdealOrbit;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.PlainStages;
import org.voltsecond.stage.Topology;

/**
 * Steady states of ideal stages with capacitors of any size, against {@link IdealOrbit} in 40-digit arithmetic, against the
 * closed forms of {@link ConversionRatio}, cold and from nearby, and close to the boundary of
 * conduction, where the map has a kink.
 */
class IdealOrbitProperties {
    private static final double ACCURACY = 1e-12;
    /** What the clock and the zero of a current are resolved to, in parts of the period or of the peak. */
    private static final double AT_THE_KINK = 1e-10;

    /** A stage of ideal parts and a load as many times that of the boundary as it says. */
    private record Ideal(
            Topology topology,
            double input,
            double inductance,
            double capacitance,
            double dutyCycle,
            double frequency,
            double lighter) {
        static Ideal of(long seed, boolean nearTheBoundary) {
            Random random = new Random(seed);
            double exponent = random.nextDouble();
            double lighter = nearTheBoundary
                    ? 1 + (random.nextBoolean() ? 1 : -1) * Math.pow(10, -2 - 8 * exponent)
                    : Math.pow(10, -1 + 3 * exponent);
            return new Ideal(
                    PlainStages.ALL.get(random.nextInt(3)),
                    5 + 20 * random.nextDouble(),
                    1e-6 * Math.pow(100, random.nextDouble()),
                    1e-6 * Math.pow(1e5, random.nextDouble()),
                    0.1 + 0.8 * random.nextDouble(),
                    1e5 * Math.pow(10, random.nextDouble()),
                    lighter);
        }

        Ideal with(double otherLighter) {
            return new Ideal(topology, input, inductance, capacitance, dutyCycle, frequency, otherLighter);
        }

        Ideal withCapacitance(double other) {
            return new Ideal(topology, input, inductance, other, dutyCycle, frequency, lighter);
        }

        double load() {
            return 2 * inductance * frequency / ConversionRatio.criticalK(topology, dutyCycle) * lighter;
        }

        double ratio() {
            return ConversionRatio.of(
                    topology, dutyCycle, ConversionRatio.parameterK(inductance, load(), 1 / frequency));
        }

        /** The order of events is the usual one where the output hardly swings. */
        boolean isUsual() {
            return inductance * capacitance * frequency * frequency > 2 && load() * capacitance * frequency > 4;
        }

        Converter converter() {
            PowerStage stage = switch (topology.key()) {
                case "buck" -> PowerStage.buck();
                case "boost" -> PowerStage.boost();
                default -> PowerStage.invertingBuckBoost();
            };
            return stage.input(input)
                    .inductor(inductance, 0)
                    .outputCapacitor(capacitance, 0)
                    .load(Load.resistor(load()))
                    .drive(Drive.fixedDuty(dutyCycle, frequency));
        }

        IdealOrbit expected() {
            double[] values = {input, inductance, capacitance, load(), dutyCycle, frequency};
            return IdealOrbit.of(topology, values, Math.abs(input * ratio()));
        }
    }

    private static void check(ConverterSteadyState steady, IdealOrbit expected, double accuracy) {
        double[] state = steady.periodic().state();
        double peak = steady.of(steady.converter().inductorCurrent()).maximum();
        assertThat(state[0]).isCloseTo(expected.current(), within(accuracy * peak));
        assertThat(Math.abs(state[1])).isCloseTo(expected.voltage(), within(accuracy * expected.voltage()));
    }

    @Property(tries = 300)
    void aColdSearchFindsTheOrbit(@ForAll long seed) {
        Ideal ideal = Ideal.of(seed, false);
        Assume.that(ideal.isUsual());
        ConverterSteadyState steady = ideal.converter().steadyState();
        IdealOrbit expected = ideal.expected();
        check(steady, expected, ACCURACY);
        assertThat(steady.conduction())
                .isEqualTo(expected.isDiscontinuous() ? Conduction.DISCONTINUOUS : Conduction.CONTINUOUS);
    }

    @Property(tries = 300)
    void closeToTheBoundaryItDoesNotMatterWhereTheSearchStarts(@ForAll long seed) {
        Ideal ideal = Ideal.of(seed, true);
        Assume.that(ideal.isUsual());
        IdealOrbit expected = ideal.expected();
        Converter converter = ideal.converter();
        ConverterSteadyState cold = converter.steadyState();
        boolean atTheKink = Math.abs(cold.conductionMargin()) < AT_THE_KINK;
        check(cold, expected, atTheKink ? AT_THE_KINK : ACCURACY);
        for (double lighter : new double[] {1 - 1e-3, 1 + 1e-3, 1 - 1e-6, 1 + 1e-6, 0.5, 3}) {
            ConverterSteadyState neighbour =
                    ideal.with(ideal.lighter() * lighter).converter().steadyState();
            check(converter.steadyStateNear(neighbour), expected, atTheKink ? AT_THE_KINK : ACCURACY);
        }
    }

    /**
     * The formulas are those of a capacitor without end: what a finite one adds is a power series in 1 / C, of which three
     * doublings of the capacitance take the first three terms away (Richardson).
     */
    @Property(tries = 200)
    void theConversionRatioIsThatOfTheClosedForm(@ForAll long seed) {
        Ideal ideal = Ideal.of(seed, false);
        double ripple = 1 / (ideal.load() * ideal.capacitance() * ideal.frequency())
                + 1 / (ideal.inductance() * ideal.capacitance() * ideal.frequency() * ideal.frequency());
        Assume.that(ripple < 3e-3 && Math.abs(ideal.lighter() - 1) > 30 * ripple);
        double[] ratio = new double[4];
        for (int k = 0; k < ratio.length; k++) {
            ConverterSteadyState steady = ideal.withCapacitance(ideal.capacitance() * (1 << k))
                    .converter()
                    .steadyState();
            ratio[k] = steady.of(steady.converter().outputVoltage()).mean() / ideal.input();
            assertThat(steady.conduction())
                    .isEqualTo(ideal.lighter() > 1 ? Conduction.DISCONTINUOUS : Conduction.CONTINUOUS);
        }
        for (int term = 1; term < ratio.length; term++) {
            for (int k = 0; k + term < ratio.length; k++) {
                ratio[k] = ratio[k + 1] + (ratio[k + 1] - ratio[k]) / ((1 << term) - 1);
            }
        }
        assertThat(ratio[0]).isCloseTo(ideal.ratio(), within(1e-10 * Math.abs(ideal.ratio())));
    }
}
