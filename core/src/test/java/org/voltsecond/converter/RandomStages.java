package org.voltsecond.converter;

import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.RandomDistribution;
import org.voltsecond.stage.PlainStages;
import org.voltsecond.stage.Topology;

/** Stages drawn at random over wide ranges, all quantities evenly in their logarithm. */
final class RandomStages {
    private RandomStages() {}

    /**
     * Any stage: 1 V to 100 V, 1 kHz to 10 MHz, 0.1 Ω to 1 kΩ of load, K = 2L/(RT) from 1e-3 to 1e3, an output capacitor of
     * 0.1 to 1e5 T/R, duty cycle 0.02 to 0.98; each loss is zero or up to a tenth of the load.
     */
    static Arbitrary<StageSpec> any() {
        return of(log(1e-3, 1e3), log(0.1, 1e5), duty(0.02, 0.98));
    }

    /** Stages whose currents and voltages settle within some hundred periods. */
    static Arbitrary<StageSpec> settling() {
        return of(log(1e-2, 10), log(1, 30), duty(0.05, 0.9));
    }

    private static Arbitrary<StageSpec> of(Arbitrary<Double> k, Arbitrary<Double> periods, Arbitrary<Double> duty) {
        Arbitrary<double[]> main = Combinators.combine(log(1, 100), log(1e3, 1e7), log(0.1, 1e3), k, periods, duty)
                .as((input, hertz, ohm, kay, count, d) -> new double[] {input, hertz, ohm, kay, count, d});
        Arbitrary<double[]> losses = Combinators.combine(
                        maybe(1e-5, 0.1), maybe(1e-5, 0.1), maybe(1e-5, 0.1), maybe(1e-4, 0.05), maybe(1e-5, 0.1))
                .as((coil, series, on, drop, slope) -> new double[] {coil, series, on, drop, slope});
        Arbitrary<Topology> topology = Arbitraries.of(PlainStages.ALL);
        Arbitrary<Boolean> yesOrNo = Arbitraries.of(true, false);
        return Combinators.combine(topology, yesOrNo, yesOrNo, main, losses).as(RandomStages::stage);
    }

    private static StageSpec stage(
            Topology topology, boolean synchronous, boolean constantCurrent, double[] main, double[] losses) {
        double input = main[0];
        double period = 1 / main[1];
        double ohm = main[2];
        return new StageSpec(
                topology,
                synchronous,
                constantCurrent,
                input,
                main[3] * ohm * period / 2,
                losses[0] * ohm,
                main[4] * period / ohm,
                losses[1] * ohm,
                losses[2] * ohm,
                synchronous ? 0 : losses[3] * input,
                losses[4] * ohm,
                constantCurrent ? current(input / ohm, main[3], main[5]) : ohm,
                main[5],
                main[1]);
    }

    /** A current at which a stage in discontinuous conduction does not step up to more than ten times its input. */
    private static double current(double unit, double k, double dutyCycle) {
        return unit * Math.max(0.1, dutyCycle * dutyCycle / (10 * k));
    }

    static Arbitrary<Double> log(double from, double to) {
        return fraction().map(u -> from * Math.pow(to / from, u));
    }

    static Arbitrary<Double> duty(double from, double to) {
        return fraction().map(u -> from + (to - from) * u);
    }

    private static Arbitrary<Double> fraction() {
        return Arbitraries.doubles().between(0, 1).ofScale(9).withDistribution(RandomDistribution.uniform());
    }

    /** Zero for one stage in four. */
    private static Arbitrary<Double> maybe(double from, double to) {
        return fraction().map(u -> u < 0.25 ? 0 : from * Math.pow(to / from, (u - 0.25) / 0.75));
    }
}
