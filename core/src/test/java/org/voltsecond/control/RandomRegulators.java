package org.voltsecond.control;

import java.util.List;
import java.util.Random;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Stages.Values;
import org.voltsecond.control.VoltageMode.Edge;

/**
 * Random regulators of every kind on random stages, with the limits that each promises to keep.
 *
 * @param beginOfPeriod from where to count the periods of one pulse each, in periods
 */
record RandomRegulators(
        DrivenCircuit driven,
        boolean onePulsePerPeriod,
        double beginOfPeriod,
        double maximumDutyCycle,
        double shortestOnTime,
        double longestOnTime,
        double shortestOffTime) {

    private static final double NONE = Double.POSITIVE_INFINITY;

    /** What a kind promises. */
    private record Promise(Regulator regulator, boolean onePulse, double begin, double duty, double[] times) {}

    static RandomRegulators of(long seed) {
        Random random = new Random(seed);
        double period = 1e-6 * Math.exp(3 * random.nextDouble());
        double input = 5 + 40 * random.nextDouble();
        double duty = 0.15 + 0.6 * random.nextDouble();
        int stage = random.nextInt(3);
        double output = stage == 0 ? duty * input : stage == 1 ? input / (1 - duty) : input * duty / (1 - duty);
        double load = 0.5 + 30 * random.nextDouble();
        double current = output / load / (stage == 0 ? 1 : 1 - duty);
        Values values = new Values(
                input,
                (stage == 0 ? output * (1 - duty) : input * duty)
                        * period
                        / (current * (0.1 + 2.5 * random.nextDouble())),
                period / (load * (0.002 + 0.05 * random.nextDouble())),
                load,
                some(random, 0.02 * load),
                some(random, 0.05 * output),
                some(random, 0.02 * load),
                some(random, 0.02 * load),
                some(random, 0.03 * load));
        Circuit circuit = switch (stage) {
            case 0 -> Stages.buckWithBodyDiode(values);
            case 1 -> Stages.boost(values);
            default -> Stages.inverting(values);
        };
        Plant plant = stage == 2 ? Stages.plantOfInverting(circuit) : Stages.plant(circuit);
        Promise promise = promise(random, period, output, current, values);
        DrivenCircuit driven = DrivenCircuit.builder(circuit)
                .controlledBy(promise.regulator().on(plant))
                .change(60.37 * period, circuit.withResistance("R1", load * (0.2 + 4 * random.nextDouble())))
                .change(120.5 * period, circuit.withVoltage("V1", input * (0.8 + 0.4 * random.nextDouble())))
                .build();
        return new RandomRegulators(
                driven,
                promise.onePulse(),
                promise.begin(),
                promise.duty(),
                promise.times()[0],
                promise.times()[1],
                promise.times()[2]);
    }

    private static double some(Random random, double largest) {
        return random.nextInt(3) == 0 ? 0 : largest * random.nextDouble();
    }

    private static Promise promise(Random random, double period, double output, double current, Values values) {
        double frequency = 1 / period;
        double reference = output * (0.1 + 0.9 * random.nextDouble());
        double divider = reference / output;
        double maximum = 0.5 + 0.45 * random.nextDouble();
        double softStart = random.nextInt(3) == 0 ? 40 * period * random.nextDouble() : 0;
        double gain = Math.exp(-4 + 5 * random.nextDouble()) / reference;
        Compensator compensator = random.nextInt(4) == 0
                ? Compensator.proportional(gain, 0.2)
                : random.nextBoolean()
                        ? Compensator.type2(gain * frequency / 20, frequency / 40, frequency / 2)
                        : Compensator.type3(
                                gain * frequency / 20, frequency / 60, frequency / 40, frequency / 2, frequency);
        double sense = 0.5 / current;
        double[] noTimes = {0, NONE, 0};
        switch (random.nextInt(8)) {
            case 0, 1 -> {
                Edge edge = List.of(Edge.TRAILING, Edge.LEADING, Edge.BOTH).get(random.nextInt(3));
                VoltageMode regulator = VoltageMode.of(frequency, reference, divider, compensator)
                        .withModulation(edge, true)
                        .withMaximumDutyCycle(maximum)
                        .withSoftStart(softStart);
                return new Promise(
                        random.nextBoolean() ? regulator.withControlLimits(-0.2, 0.9) : regulator,
                        true,
                        // the pulse of a triangle lies around its valley, on the clock edge
                        edge == Edge.BOTH ? 0.5 : 0,
                        maximum,
                        noTimes);
            }
            case 2 -> {
                double slope = random.nextDouble() * output / values.inductance();
                Regulator regulator = CurrentMode.peak(frequency, reference, divider, compensator, sense)
                        .withSlopeCompensation(slope)
                        .withBlankingTime(0.1 * random.nextInt(3) * period)
                        .withMaximumDutyCycle(maximum)
                        .withControlLimits(0, 1)
                        .withSoftStart(softStart);
                return new Promise(regulator, true, 0, maximum, noTimes);
            }
            case 3 -> {
                Regulator regulator = CurrentMode.valley(frequency, reference, divider, compensator, sense)
                        .withSlopeCompensation(random.nextDouble() * values.input() / values.inductance())
                        .withBlankingTime(0.1 * random.nextInt(3) * period)
                        .withMaximumDutyCycle(maximum)
                        .withControlLimits(0, 1)
                        .withSoftStart(softStart);
                return new Promise(regulator, true, 0, maximum, noTimes);
            }
            case 4 -> {
                double longest = 2 * period;
                double off = 0.2 * random.nextDouble() * period;
                Regulator regulator = Hysteretic.voltageBand(frequency, reference, divider, 0.03 * reference)
                        .withMaximumOnTime(longest)
                        .withMinimumOffTime(off)
                        .withSoftStart(softStart);
                return new Promise(regulator, false, 0, 1, new double[] {0, longest, off});
            }
            case 5 -> {
                Regulator regulator = Hysteretic.currentBand(
                                frequency,
                                reference,
                                divider,
                                compensator,
                                sense,
                                current * (0.2 + random.nextDouble()))
                        .withControlLimits(0, 1)
                        .withDelay(0.05 * random.nextInt(3) * period)
                        .withSoftStart(softStart);
                return new Promise(regulator, false, 0, 1, noTimes);
            }
            case 6 -> {
                double on = period * (0.1 + 0.6 * random.nextDouble());
                double off = period * (0.1 + 0.3 * random.nextDouble());
                Regulator regulator = ConstantOnTime.of(frequency, reference, divider, on, off)
                        .withSoftStart(softStart);
                return new Promise(regulator, false, 0, 1, new double[] {on, on, off});
            }
            default -> {
                SampledControl regulator = SampledControl.of(
                                frequency, reference, divider, 0.3 * gain, -0.2 * gain, 0.01 * gain)
                        .withDenominator(-0.9, -0.1)
                        .withSampling(0.25 * random.nextInt(4), 0.4 * random.nextInt(4) * period)
                        .withMaximumDutyCycle(maximum)
                        .withSoftStart(softStart);
                return new Promise(
                        random.nextBoolean() ? regulator.withQuantisedDutyCycle(100) : regulator,
                        true,
                        0,
                        maximum,
                        noTimes);
            }
        }
    }
}
