package org.voltsecond.converter;

import java.util.List;
import java.util.Random;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Protection;
import org.voltsecond.control.Regulator;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.numeric.Complex;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.PlainStages;
import org.voltsecond.stage.Topology;

/**
 * Regulated converters as one might design them, drawn at random: the three stages, voltage mode and peak and valley current
 * mode, compensators of type 2 and 3 set by the averaged model of the stage (R. W. Erickson, D. Maksimovic, Fundamentals of
 * Power Electronics, from memory), with and without soft start, limits and protection. Not all of them are stable.
 */
final class RandomRails {
    private final Random random;
    private Topology topology = Topology.BUCK;
    private double frequency;
    private double input;
    private double output;
    private double ampere;
    private double henry;
    private double farad;
    private double series;
    private double duty;

    private RandomRails(long seed) {
        random = new Random(seed);
    }

    static Converter of(long seed) {
        return new RandomRails(seed).draw();
    }

    private double between(double low, double high) {
        return low * Math.exp(random.nextDouble() * Math.log(high / low));
    }

    private double linear(double low, double high) {
        return low + (high - low) * random.nextDouble();
    }

    private Converter draw() {
        random.nextDouble();
        topology = PlainStages.ALL.get(random.nextInt(3));
        frequency = between(50e3, 2e6);
        input = between(3, 60);
        duty = topology == Topology.BUCK ? linear(0.1, 0.85) : linear(0.15, 0.7);
        output = switch (topology.key()) {
            case "buck" -> input * duty;
            case "boost" -> input / (1 - duty);
            default -> input * duty / (1 - duty);
        };
        ampere = between(0.05, 20);
        double mean = topology == Topology.BUCK ? ampere : ampere / (1 - duty);
        double ripple = linear(0.15, 0.6) * mean;
        double onVolts = topology == Topology.BUCK ? input - output : input;
        henry = onVolts * duty / (frequency * ripple);
        double voltRipple = between(0.003, 0.02) * output;
        farad = topology == Topology.BUCK
                ? ripple / (8 * frequency * voltRipple)
                : ampere * duty / (frequency * voltRipple);
        farad *= between(1, 5);
        series = random.nextInt(3) == 0 ? 0 : 0.3 * voltRipple / (topology == Topology.BUCK ? ripple : mean + ripple);
        double part = random.nextBoolean() ? 1 : between(0.02, 1);
        boolean synchronous = random.nextBoolean();
        PowerStage stage = PowerStage.of(topology)
                .input(input)
                .inductor(henry, some(0.01 * output / mean))
                .outputCapacitor(farad, series)
                .transistor(some(0.01 * input / mean));
        if (synchronous) {
            stage = stage.synchronousRectifier(0.01 * output / mean, 0.7, 0.01 * output / mean);
        } else {
            stage = stage.rectifier(random.nextBoolean() ? 0 : Math.min(0.4, 0.1 * output), some(0.01 * output / mean));
        }
        Load load = random.nextInt(4) == 0 ? Load.current(part * ampere) : Load.resistor(output / ampere / part);
        stage = stage.bodyDiode(0.8, 0).load(load);
        Regulator regulator = random.nextBoolean() ? voltageMode() : currentMode(mean, ripple);
        if (random.nextBoolean()) {
            double peak = (mean + ripple) * linear(1.2, 2);
            Protection protection =
                    Protection.none().withCurrentLimit(peak, random.nextBoolean() ? 0 : 0.01 / frequency);
            regulator = regulator.withProtection(protection);
        }
        return stage.drive(regulator);
    }

    private double some(double largest) {
        return random.nextInt(3) == 0 ? 0 : largest * random.nextDouble();
    }

    private double reference() {
        return output * between(0.1, 1);
    }

    private double rest() {
        return topology == Topology.BUCK ? 1 : 1 - duty;
    }

    /** Frequency of the zero in the right half plane, Hz. */
    private double flyback() {
        double ohm = output / ampere;
        return topology == Topology.BUCK
                ? 1e300
                : rest() * rest() * ohm / henry / (2 * Math.PI) / (topology == Topology.BOOST ? 1 : duty);
    }

    private Regulator voltageMode() {
        double ramp = linear(0.8, 2);
        double reference = reference();
        double divider = reference / output;
        boolean type3 = random.nextBoolean();
        double resonance = rest() / Math.sqrt(henry * farad) / (2 * Math.PI);
        double crossover = Math.min(frequency * linear(0.03, 0.12), flyback() * linear(0.05, 0.25));
        if (!type3) {
            crossover = Math.min(crossover, resonance * linear(0.05, 0.3));
        }
        double lastPole = Math.min(flyback(), 0.6 * frequency);
        Complex s = new Complex(0, 2 * Math.PI * crossover);
        Complex zeros = type3
                ? lead(s, 0.7 * resonance, 0.5 * frequency).multiply(lead(s, 1.1 * resonance, lastPole))
                : lead(s, 0.8 * resonance, 0.5 * frequency);
        double loop = stage(s, input / rest() / rest() / ramp)
                        .multiply(zeros)
                        .divide(s)
                        .magnitude()
                * divider;
        Compensator compensator = type3
                ? Compensator.type3(1 / loop, 0.7 * resonance, 1.1 * resonance, 0.5 * frequency, lastPole)
                : Compensator.type2(1 / loop, 0.8 * resonance, 0.5 * frequency);
        VoltageMode mode =
                VoltageMode.of(frequency, reference, divider, compensator).withRamp(0, ramp);
        if (random.nextBoolean()) {
            mode = mode.withControlLimits(0, ramp);
        }
        if (random.nextBoolean()) {
            mode = mode.withMaximumDutyCycle(Math.min(0.95, duty + 0.15));
        }
        if (random.nextBoolean()) {
            mode = mode.withSoftStart(linear(50, 400) / frequency);
        }
        return random.nextInt(3) > 0
                ? mode
                : mode.withModulation(List.of(VoltageMode.Edge.values()).get(random.nextInt(3)), true);
    }

    /** From the duty cycle to the output by the averaged model. */
    private Complex stage(Complex s, double gain) {
        double w0 = rest() / Math.sqrt(henry * farad);
        double q = rest() * output / ampere * Math.sqrt(farad / henry);
        Complex resonance =
                Complex.ONE.add(s.multiply(1 / (q * w0))).add(s.multiply(s).multiply(1 / (w0 * w0)));
        return Complex.ONE
                .add(s.multiply(series * farad))
                .multiply(Complex.ONE.add(s.multiply(-1 / (2 * Math.PI * flyback()))))
                .multiply(gain)
                .divide(resonance);
    }

    private static Complex lead(Complex s, double zero, double pole) {
        return Complex.ONE
                .add(s.multiply(1 / (2 * Math.PI * zero)))
                .divide(Complex.ONE.add(s.multiply(1 / (2 * Math.PI * pole))));
    }

    private Regulator currentMode(double mean, double ripple) {
        double sense = linear(0.3, 1.2) / (mean + ripple);
        double reference = reference();
        double divider = reference / output;
        double ohm = output / ampere;
        double crossover = Math.min(frequency * linear(0.03, 0.1), flyback() * linear(0.05, 0.25));
        double low = 1 / (2 * Math.PI * ohm * farad);
        double zero = Math.max(low, crossover * linear(0.1, 0.4));
        double pole = Math.max(
                3 * crossover, Math.min(frequency * 0.5, series > 0 ? 1 / (2 * Math.PI * series * farad) : 1e300));
        boolean type3 = random.nextInt(4) == 0;
        double second = 0.45 * frequency;
        Complex s = new Complex(0, 2 * Math.PI * crossover);
        double direct = rest() * ohm / sense / (topology == Topology.BUCK ? 1 : 2);
        Complex plant = new Complex(direct, 0).divide(Complex.ONE.add(s.multiply(1 / (2 * Math.PI * low))));
        double loop = plant.multiply(lead(s, zero, pole)).divide(s).magnitude() * divider;
        if (type3) {
            loop *= lead(s, 3 * crossover, second).magnitude();
        }
        Compensator compensator = type3
                ? Compensator.type3(1 / loop, zero, 3 * crossover, pole, second)
                : Compensator.type2(1 / loop, zero, pole);
        double down = (topology == Topology.BOOST ? output - input : output) / henry;
        double up = (topology == Topology.BUCK ? input - output : input) / henry;
        double full = (mean + ripple) * sense * linear(1.5, 2.5);
        boolean limits = random.nextBoolean();
        boolean soft = random.nextBoolean();
        double softStart = linear(50, 400) / frequency;
        if (random.nextInt(3) == 0) {
            CurrentMode mode = CurrentMode.valley(frequency, reference, divider, compensator, sense)
                    .withSlopeCompensation(up * linear(0.4, 0.9));
            mode = limits ? mode.withControlLimits(-full, full) : mode;
            return soft ? mode.withSoftStart(softStart) : mode;
        }
        double slope = down * linear(0.4, 0.9);
        CurrentMode mode = CurrentMode.peak(frequency, reference, divider, compensator, sense)
                .withSlopeCompensation(slope);
        mode = limits ? mode.withControlLimits(0, full + slope * sense / frequency) : mode;
        mode = random.nextBoolean() ? mode.withMaximumDutyCycle(Math.min(0.95, duty + 0.15)) : mode;
        mode = random.nextBoolean() ? mode.withBlankingTime(0.02 / frequency) : mode;
        return soft ? mode.withSoftStart(softStart) : mode;
    }
}
