package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.control.Regulator.SensedPeriod;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.numeric.RoundOff;
import org.voltsecond.numeric.UnitPolynomial;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * The transfer function from the error voltage to the control voltage, as a chain of blocks: an integrator or a plain
 * gain, then a lead-lag block {@code (1 + s/wz)/(1 + s/wp)} for each pair of a zero and a pole. The names proportional,
 * type I, type II and type III are those of the trade (H. D. Venable, The K factor: a new mathematical tool for stability
 * analysis and synthesis, Powercon 10, 1983, from memory). Immutable.
 *
 * <pre>{@code
 * Compensator lag = Compensator.type2(1500, 4557, kilo(100)); // integrator 1/s, zero and pole Hz
 * Compensator lead = Compensator.type3(3000, 4000, 5000, kilo(60), kilo(150)); // two zeros, two poles
 * Regulator regulator = VoltageMode.of(kilo(300), 1, 0.2, lead).withRamp(0, 1);
 * }</pre>
 */
public final class Compensator {
    private final boolean integrates;
    private final double gain;
    private final double bias;
    private final List<LeadLag> blocks;

    /** Angular frequencies of the zero and the pole, 1/s. */
    private record LeadLag(double zero, double pole) {
        /**
         * Makes of u the y of {@code x' = wp (u - x), y = d u + (1 - d) x}, with the x that comes back to itself: the series of what
         * u makes of a lag at rest, and of how a lag dies out.
         */
        boolean follow(double[] duration, double[][] curve, int[] degree) {
            int intervals = curve.length;
            double[][] made = new double[intervals][];
            double[][] left = new double[intervals][];
            double lag = 0;
            double share = 1;
            for (int k = 0; k < intervals; k++) {
                double constants = pole * duration[k];
                if (!(constants <= LONGEST)) {
                    return false;
                }
                int top = top(constants, degree[k]);
                made[k] = series(constants, top, curve[k], 0);
                left[k] = series(constants, top, new double[top + 1], 1);
                degree[k] = top;
                lag = lag * UnitPolynomial.sum(left[k], top) + UnitPolynomial.sum(made[k], top);
                share *= UnitPolynomial.sum(left[k], top);
            }
            if (!(1 - share > LEAST_DECAY)) {
                return false;
            }
            lag /= 1 - share;
            double direct = pole / zero;
            for (int k = 0; k < intervals; k++) {
                double start = lag;
                lag = start * UnitPolynomial.sum(left[k], degree[k]) + UnitPolynomial.sum(made[k], degree[k]);
                for (int j = 0; j <= degree[k]; j++) {
                    curve[k][j] = direct * curve[k][j] + (1 - direct) * (start * left[k][j] + made[k][j]);
                }
            }
            return true;
        }

        /** How far the series goes: until what follows is below the rounding of a lag that starts at 1. */
        private static int top(double constants, int least) {
            double term = 1;
            int top = 0;
            while (top < SensedPeriod.HIGHEST_DEGREE && (top <= least || term > RoundOff.OF_A_SERIES)) {
                top++;
                term *= constants / top;
            }
            return top;
        }

        private static double[] series(double constants, int top, double[] u, double start) {
            double[] x = new double[top + 1];
            x[0] = start;
            for (int j = 0; j < top; j++) {
                x[j + 1] = constants * (u[j] - x[j]) / (j + 1);
            }
            return x;
        }
    }

    private Compensator(boolean integrates, double gain, double bias, List<LeadLag> blocks) {
        this.integrates = integrates;
        this.gain = gain;
        this.bias = bias;
        this.blocks = List.copyOf(blocks);
    }

    /**
     * Returns a plain gain.
     *
     * @param gain control voltage over error voltage; more than 0
     * @return the compensator
     */
    public static Compensator proportional(double gain) {
        return proportional(gain, 0);
    }

    /**
     * Returns a plain gain with a control voltage at zero error.
     *
     * @param gain control voltage over error voltage; more than 0
     * @param bias control voltage at zero error, V
     * @return the compensator
     */
    public static Compensator proportional(double gain, double bias) {
        return new Compensator(false, gain, bias, List.of());
    }

    /**
     * Returns a plain integrator: {@code K/s}.
     *
     * @param integratorGain K, 1/s; more than 0
     * @return the compensator
     */
    public static Compensator type1(double integratorGain) {
        return new Compensator(true, integratorGain, 0, List.of());
    }

    /**
     * Returns an integrator with a zero and a pole: {@code K/s (1 + s/wz)/(1 + s/wp)}.
     *
     * @param integratorGain K, 1/s; more than 0
     * @param zero frequency of the zero, Hz; more than 0
     * @param pole frequency of the pole, Hz; more than 0
     * @return the compensator
     */
    public static Compensator type2(double integratorGain, double zero, double pole) {
        return new Compensator(true, integratorGain, 0, List.of(block(zero, pole)));
    }

    /**
     * Returns an integrator with two zeros and two poles.
     *
     * @param integratorGain K, 1/s; more than 0
     * @param firstZero Hz; more than 0
     * @param secondZero Hz; more than 0
     * @param firstPole Hz; more than 0
     * @param secondPole Hz; more than 0
     * @return the compensator
     */
    public static Compensator type3(
            double integratorGain, double firstZero, double secondZero, double firstPole, double secondPole) {
        return new Compensator(
                true, integratorGain, 0, List.of(block(firstZero, firstPole), block(secondZero, secondPole)));
    }

    private static LeadLag block(double zero, double pole) {
        return new LeadLag(2 * Math.PI * zero, 2 * Math.PI * pole);
    }

    /**
     * Returns everything that is wrong with the values.
     *
     * @return one line for each fault
     */
    public List<String> faults() {
        List<String> faults = new ArrayList<>();
        if (!(gain > 0 && gain < Double.POSITIVE_INFINITY)) {
            faults.add("the gain of the compensator must be more than 0 and finite but was " + gain
                    + (integrates ? " 1/s" : ""));
        }
        if (!Double.isFinite(bias)) {
            faults.add("the bias of the compensator must be finite but was " + bias + " V");
        }
        for (LeadLag block : blocks) {
            checkFrequency(faults, "zero", block.zero());
            checkFrequency(faults, "pole", block.pole());
        }
        return faults;
    }

    private static void checkFrequency(List<String> faults, String what, double angular) {
        if (!(angular > 0 && angular < Double.POSITIVE_INFINITY)) {
            faults.add("the " + what + " of the compensator must be more than 0 Hz and finite but was "
                    + angular / (2 * Math.PI) + " Hz");
        }
    }

    /** Whether the control voltage rests only where the mean error is zero. */
    boolean integrates() {
        return integrates;
    }

    /** States: the control voltage, if there is an integrator, then one for each block. */
    List<Controller.OwnState> states(double clockPeriod) {
        List<Controller.OwnState> states = new ArrayList<>();
        if (integrates) {
            states.add(new Controller.OwnState("output of the compensator", SCALE * balance(), 0));
        }
        for (int i = 0; i < blocks.size(); i++) {
            states.add(new Controller.OwnState("lag " + (i + 1) + " of the compensator", SCALE, 0));
        }
        return states;
    }

    /** Volts beside the square root of joules of a power stage: a few millijoules for a volt. */
    private static final double SCALE = 0x1p-8;

    /**
     * Makes the rate of the output by the lags and the rates of the lags by the output of one size: the former holds the
     * product of all ratios of pole to zero, the latter does not. Without it the norm of the dynamics, which limits how far
     * one polynomial reaches, would be many times that of the fastest pole.
     */
    private double balance() {
        double ratio = 1;
        for (LeadLag block : blocks) {
            ratio *= block.pole() / block.zero();
        }
        return 1 / Math.sqrt(Math.min(Math.max(ratio, 0x1p-20), 0x1p20));
    }

    /**
     * The compensator while the circuit is in one configuration and its own output is free. A block from u to y has
     * {@code x' = wp (u - x), y = d u + (1 - d) x} with {@code d = wp/wz}. With y as a state in place of u no digits are
     * lost: {@code u = x + (y - x)/d, x' = wz (y - x), y' = d u' + (1 - d) x'}. These are the voltages of the capacitors
     * in the network that makes such a block at the output of a transconductance amplifier.
     */
    Realisation realise(Sensing sensing, int firstState, AffineForm error) {
        if (!integrates) {
            return new Realisation(List.of(), error.times(gain).plus(bias), false);
        }
        AffineForm output = sensing.own(firstState);
        List<AffineForm> lagRates = new ArrayList<>();
        AffineForm after = output;
        for (int i = blocks.size() - 1; i >= 0; i--) {
            LeadLag block = blocks.get(i);
            AffineForm lag = sensing.own(firstState + 1 + i);
            AffineForm across = after.plus(-1, lag);
            lagRates.add(0, across.times(block.zero()));
            after = lag.plus(block.zero() / block.pole(), across);
        }
        AffineForm rate = error.times(gain);
        for (int i = 0; i < blocks.size(); i++) {
            double direct = blocks.get(i).pole() / blocks.get(i).zero();
            rate = rate.times(direct).plus(1 - direct, lagRates.get(i));
        }
        List<AffineForm> rates = new ArrayList<>(List.of(rate));
        rates.addAll(lagRates);
        return new Realisation(rates, output, true);
    }

    /**
     * A compensator in its place.
     *
     * @param rates rate of each state
     * @param output the control voltage
     * @param outputIsState whether the output is the first state; otherwise it follows the error without delay
     */
    record Realisation(List<AffineForm> rates, AffineForm output, boolean outputIsState) {}

    /** An interval may be so many time constants of a pole long: a polynomial of the highest degree is then right to round-off. */
    private static final double LONGEST = 6;

    /** A lag that a period hardly brings back has no digits to tell where it comes back from. */
    private static final double LEAST_DECAY = 1e-6;

    /**
     * Makes of an error that repeats itself the rate of the control voltage, V/s; exact but for round-off.
     *
     * @param duration of each interval, s
     * @param curve the error in each, as coefficients over 0 to 1; overwritten
     * @param degree of each; overwritten
     * @return false if there is no integrator, or an interval is too long beside a pole
     */
    boolean rateOf(double[] duration, double[][] curve, int[] degree) {
        boolean known = integrates;
        for (LeadLag block : blocks) {
            known = known && block.follow(duration, curve, degree);
        }
        for (int k = 0; k < curve.length; k++) {
            for (int j = 0; j <= degree[k]; j++) {
                curve[k][j] *= gain;
            }
        }
        return known;
    }

    @Override
    public String toString() {
        StringBuilder text = new StringBuilder(integrates ? "integrator of " + gain + " 1/s" : "gain of " + gain);
        for (LeadLag block : blocks) {
            text.append(", zero ").append(hertz(block.zero())).append(", pole ").append(hertz(block.pole()));
        }
        return text.toString();
    }

    private static String hertz(double angular) {
        return Quantity.format(angular / (2 * Math.PI), Unit.HERTZ, 4);
    }
}
