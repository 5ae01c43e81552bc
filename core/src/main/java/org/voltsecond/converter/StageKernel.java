package org.voltsecond.converter;

import java.util.Arrays;
import java.util.Map;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.voltsecond.characteristic.Junction;
import org.voltsecond.circuit.Part;
import org.voltsecond.numeric.RoundOff;
import org.voltsecond.numeric.UnitPolynomial;
import org.voltsecond.stage.Topology;

/**
 * The periodic orbit of one of the three stages in its usual order of events (on, off, and idle if the rectifier comes
 * down to zero): a named numeric kernel for studies of very many values. With i the inductor current, w the magnitude of
 * the capacitor voltage and kappa 1 where the inductor feeds the output,
 *
 * <pre>
 *   L i' = E - (R + kappa rho) i - kappa (alpha w - rho0),   C w' = kappa alpha i - gamma w - J
 * </pre>
 *
 * <p>solved by Taylor polynomials to round-off, as the engine does; nothing is compiled, and no memory is taken for a
 * solution. Whatever is not certain to be in that order is left to the engine: {@link #solve} then says false.
 * One instance serves one thread.
 */
final class StageKernel {
    /** The stages whose equations are here: nothing but this names a stage. */
    private static final Map<Topology, KernelFigures.Kind> KINDS = Map.of(
            Topology.BUCK, KernelFigures.Kind.BUCK,
            Topology.BOOST, KernelFigures.Kind.BOOST,
            Topology.INVERTING_BUCK_BOOST, KernelFigures.Kind.INVERTING);

    /** The parts that these equations know of; a stage with more is left to the engine. */
    private static final Set<String> PARTS = Set.of("V1", "Q1", "D2", "D1", "Q2", "D3", "L1", "C1", "R1", "I1");

    static final int ON = 0;
    static final int OFF = 1;
    static final int IDLE = 2;
    private static final int MOST_DEGREE = 30;
    /** So large may the norm of the dynamics over an interval be; the terms of its polynomial then lose one digit at most. */
    private static final double LONGEST = 3;

    private static final int MOST_STEPS = 30;

    final KernelFigures.Kind kind;
    final boolean constantCurrent;
    private final boolean synchronous;
    private final boolean suitable;
    private final double guess;
    /** Drops of the body diodes of transistor and synchronous rectifier; infinite where there is none. */
    private final double transistorDrop;

    private final double rectifierDrop;

    double input;
    double onOhm;
    double forwardDrop;
    double slopeOhm;
    /** Output voltage: alpha w + kappa rho i - rho0. */
    double alpha;

    double rho;
    double rho0;
    /** Load: conductance, or constant current. */
    double loadConductance;

    double loadCurrent;
    private double gamma;
    private double capacitance;
    private double inductance;
    private double coilOhm;
    private double period;

    int intervals;
    final double[] duration = new double[3];
    final int[] degree = new int[3];
    /** Coefficients of i and w over each interval, the variable going from 0 to 1. */
    final double[][] current = new double[3][MOST_DEGREE + 1];

    final double[][] voltage = new double[3][MOST_DEGREE + 1];

    /** Taylor rows: for each power the factors of i, of w, and the constant, for i then for w. */
    private final double[][] rows = new double[2][6 * (MOST_DEGREE + 1)];

    private final double[] onChange = new double[6];
    private final double[] offChange = new double[6];
    private double startCurrent;
    private double startVoltage;
    private double restChange;

    private StageKernel(KernelFigures.Kind kind, Blueprint values, double guess) {
        this.kind = kind;
        constantCurrent = values.load().isConstantCurrent();
        synchronous = values.isSynchronous();
        Part.Switch transistor =
                (Part.Switch) values.power().part(values.roles().transistor());
        suitable = !values.input().oscillates()
                && transistor.forwardDrop() == 0
                && values.power().parts().stream()
                        .noneMatch(part -> values.power().bends(part.name())
                                || (part instanceof Part.Rectifier d
                                        && !d.junction().equals(Junction.IDEAL)))
                && (constantCurrent || !values.load().hasCurrent());
        transistorDrop = drop(values.bodyDiode(values.roles().transistor()));
        rectifierDrop =
                synchronous ? drop(values.bodyDiode(values.roles().synchronous().get(0))) : Double.POSITIVE_INFINITY;
        this.guess = guess;
    }

    private static double drop(Part.@Nullable Rectifier bodyDiode) {
        return bodyDiode == null ? Double.POSITIVE_INFINITY : bodyDiode.forwardDrop();
    }

    /**
     * A kernel for converters like this one, whose orbit is the first guess in discontinuous conduction; null for a stage whose
     * equations are not here.
     */
    static @Nullable StageKernel like(Converter converter, double @Nullable [] orbit) {
        KernelFigures.Kind kind = KINDS.get(converter.topology());
        if (kind == null || !PARTS.containsAll(converter.values().partNames())) {
            return null;
        }
        double guess = orbit == null ? converter.inputVoltage() : Math.abs(orbit[1]);
        return new StageKernel(kind, converter.values(), guess);
    }

    /** Finds the orbit of a stage with these values, by {@link StageValue#index()}. */
    boolean solve(double[] value) {
        return solveTwoWay(value) && (synchronous || isOneWay()) && bodyDiodesBlock();
    }

    /** Makes of the two-way orbit just found that of a rectifier which blocks. */
    private boolean isOneWay() {
        if (startCurrent > 0) {
            return isContinuous();
        }
        double twoWayVoltage = startVoltage;
        // near the boundary of conduction the two-way orbit is the better place to begin
        return (closeDiscontinuous(guess) || closeDiscontinuous(twoWayVoltage)) && isDiscontinuous();
    }

    /**
     * Finds the orbit as if the rectifier carried current both ways, so that it has no idle interval. Right at the boundary
     * of conduction that is the orbit of the stage, and it depends smoothly on the values there.
     */
    boolean solveTwoWay(double[] value) {
        if (!suitable) {
            return false;
        }
        take(value);
        period = 1 / value[StageValue.FREQUENCY.index()];
        double onTime = value[StageValue.DUTY_CYCLE.index()] * period;
        duration[ON] = onTime;
        duration[OFF] = period - onTime;
        if (!(onTime > 0 && onTime < period && isSane())) {
            return false;
        }
        boolean direct = kind == KernelFigures.Kind.BUCK;
        double onSource = input;
        double offSource = (kind == KernelFigures.Kind.BOOST ? input : 0) - forwardDrop;
        if (!expand(ON, onSource, onOhm + coilOhm, direct ? 1 : 0) || !expand(OFF, offSource, slopeOhm + coilOhm, 1)) {
            return false;
        }
        change(ON, onChange);
        change(OFF, offChange);
        if (!closeLinear()) {
            return false;
        }
        intervals = 2;
        follow(ON, startCurrent, startVoltage);
        follow(OFF, UnitPolynomial.sum(current[ON], degree[ON]), UnitPolynomial.sum(voltage[ON], degree[ON]));
        return true;
    }

    /** The current with which the period begins, over that with which the off interval does. */
    double margin() {
        if (intervals > 2) {
            return -duration[IDLE] / period;
        }
        return startCurrent / current[OFF][0];
    }

    /** Whether input and load are of a kind that these equations know of. */
    boolean isSuitable() {
        return suitable;
    }

    boolean isSynchronous() {
        return synchronous;
    }

    private void take(double[] value) {
        input = value[StageValue.INPUT_VOLTAGE.index()];
        inductance = value[StageValue.INDUCTANCE.index()];
        coilOhm = value[StageValue.INDUCTOR_RESISTANCE.index()];
        capacitance = value[StageValue.CAPACITANCE.index()];
        onOhm = value[StageValue.ON_RESISTANCE.index()];
        forwardDrop = synchronous ? 0 : value[StageValue.FORWARD_DROP.index()];
        slopeOhm = value[StageValue.RECTIFIER_RESISTANCE.index()];
        double series = value[StageValue.CAPACITOR_RESISTANCE.index()];
        if (constantCurrent) {
            loadConductance = 0;
            loadCurrent = value[StageValue.LOAD_CURRENT.index()];
            alpha = 1;
            gamma = 0;
        } else {
            double ohm = value[StageValue.LOAD_RESISTANCE.index()];
            loadConductance = 1 / ohm;
            loadCurrent = 0;
            alpha = ohm / (ohm + series);
            gamma = 1 / (ohm + series);
        }
        rho = alpha * series;
        rho0 = series * loadCurrent;
    }

    /** Values that no stage can have are for the checks of the stage to name. */
    private boolean isSane() {
        return input > 0
                && inductance > 0
                && capacitance > 0
                && coilOhm >= 0
                && onOhm >= 0
                && slopeOhm >= 0
                && forwardDrop >= 0
                && rho >= 0
                && alpha > 0
                && gamma >= 0
                && loadCurrent >= 0
                && input + inductance + capacitance + coilOhm + onOhm + slopeOhm + forwardDrop + rho + rho0 + gamma
                        < Double.POSITIVE_INFINITY;
    }

    /** The Taylor rows of an interval; false if it is too long for one polynomial. */
    private boolean expand(int interval, double source, double ohm, int kappa) {
        double h = duration[interval];
        double a11 = -(ohm + kappa * rho) / inductance * h;
        double a12 = -kappa * alpha / inductance * h;
        double a21 = kappa * alpha / capacitance * h;
        double a22 = -gamma / capacitance * h;
        double b1 = (source + kappa * rho0) / inductance * h;
        double b2 = -loadCurrent / capacitance * h;
        double size = Math.max(-a11, -a22) + Math.sqrt(-a12 * a21);
        if (!(size <= LONGEST)) {
            return false;
        }
        double[] row = rows[interval];
        row[0] = 1;
        row[4] = 1;
        row[1] = row[2] = row[3] = row[5] = 0;
        int k = 0;
        double term = 1;
        while (k < MOST_DEGREE && (k < 3 || term > RoundOff.OF_A_SERIES)) {
            k++;
            term *= size / k;
            int to = 6 * k;
            int from = to - 6;
            double share = 1.0 / k;
            for (int c = 0; c < 3; c++) {
                row[to + c] = share * (a11 * row[from + c] + a12 * row[from + 3 + c]);
                row[to + 3 + c] = share * (a21 * row[from + c] + a22 * row[from + 3 + c]);
            }
            if (k == 1) {
                row[to + 2] += b1;
                row[to + 5] += b2;
            }
        }
        degree[interval] = k;
        return true;
    }

    /** The flow over a whole interval less the identity, which loses no digits. */
    private void change(int interval, double[] into) {
        double[] row = rows[interval];
        for (int c = 0; c < 6; c++) {
            double sum = 0;
            for (int k = degree[interval]; k > 0; k--) {
                sum += row[6 * k + c];
            }
            into[c] = sum;
        }
    }

    /** The state that on and off interval together bring back to itself. */
    private boolean closeLinear() {
        double[] p = onChange;
        double[] q = offChange;
        double m11 = -(p[0] + q[0] + q[0] * p[0] + q[1] * p[3]);
        double m12 = -(p[1] + q[1] + q[0] * p[1] + q[1] * p[4]);
        double m21 = -(p[3] + q[3] + q[3] * p[0] + q[4] * p[3]);
        double m22 = -(p[4] + q[4] + q[3] * p[1] + q[4] * p[4]);
        double d1 = p[2] + q[2] + q[0] * p[2] + q[1] * p[5];
        double d2 = p[5] + q[5] + q[3] * p[2] + q[4] * p[5];
        double determinant = m11 * m22 - m12 * m21;
        startCurrent = (m22 * d1 - m12 * d2) / determinant;
        startVoltage = (m11 * d2 - m21 * d1) / determinant;
        double lost = Math.abs(m11 * m22) + Math.abs(m12 * m21);
        return Math.abs(determinant) > 1e-6 * lost && Math.abs(startCurrent) + Math.abs(startVoltage) < 1e300;
    }

    /** The polynomials of an interval from its start. */
    private void follow(int interval, double i, double w) {
        double[] row = rows[interval];
        for (int k = 0; k <= degree[interval]; k++) {
            int at = 6 * k;
            current[interval][k] = row[at] * i + row[at + 1] * w + row[at + 2];
            voltage[interval][k] = row[at + 3] * i + row[at + 4] * w + row[at + 5];
        }
    }

    // ---------------------------------------------------------------------------------- discontinuous conduction

    /** Newton's method on the capacitor voltage at the start; the current is zero there. */
    private boolean closeDiscontinuous(double begin) {
        double rest = period - duration[ON];
        double w = begin;
        for (int step = 0; step < MOST_STEPS; step++) {
            double u = fall(w);
            if (!rest(u, rest - u * duration[OFF])) {
                return false;
            }
            double change = gain(u) / -gainByVoltage(u);
            w += change;
            // the next step would be about the square of this one
            if (Math.abs(change) <= 1e-9 * Math.abs(w)) {
                u = fall(w);
                return rest(u, rest - u * duration[OFF]) && settle(u, rest - u * duration[OFF]);
            }
        }
        return false;
    }

    /**
     * What a period adds to the capacitor voltage, from the changes of its intervals: beside a large capacitor each is far
     * smaller than the rounding of the voltage itself.
     */
    private double gain(double u) {
        return UnitPolynomial.change(voltage[ON], degree[ON], 1)
                + UnitPolynomial.change(voltage[OFF], degree[OFF], u)
                + UnitPolynomial.change(voltage[IDLE], degree[IDLE], 1);
    }

    /** The derivative of the gain. The current is zero as the idle interval begins, so that its beginning does not matter. */
    private double gainByVoltage(double u) {
        double[] row = rows[OFF];
        double off = 0;
        for (int k = degree[OFF]; k > 0; k--) {
            off = (off + row[6 * k + 3] * onChange[1] + row[6 * k + 4] * (1 + onChange[4])) * u;
        }
        double until = onChange[4] + off;
        return until + restChange * (1 + until);
    }

    private boolean settle(double u, double rest) {
        double power = 1;
        for (int k = 0; k <= degree[OFF]; k++) {
            current[OFF][k] *= power;
            voltage[OFF][k] *= power;
            power *= u;
        }
        duration[OFF] *= u;
        duration[IDLE] = rest;
        degree[IDLE] = Math.max(1, degree[IDLE]);
        Arrays.fill(current[IDLE], 0);
        startCurrent = 0;
        startVoltage = voltage[ON][0];
        intervals = 3;
        return true;
    }

    // ----------------------------------------------------------------------------- whether the order is the usual one

    /** The current stays above zero and the rectifier blocks while the transistor conducts. */
    private boolean isContinuous() {
        return UnitPolynomial.least(current[OFF], degree[OFF]) > 0
                && UnitPolynomial.least(current[ON], degree[ON]) > 0
                && blocksWhileOn();
    }

    /** The current rises from zero, and in the idle interval the rectifier blocks. */
    private boolean isDiscontinuous() {
        double[] w = voltage[IDLE];
        double least = alpha * Math.min(w[0], UnitPolynomial.sum(w, degree[IDLE])) - rho0;
        double source = kind == KernelFigures.Kind.BOOST ? input : 0;
        return UnitPolynomial.rises(current[ON], degree[ON]) && blocksWhileOn() && least > source - forwardDrop;
    }

    private boolean blocksWhileOn() {
        double highest = UnitPolynomial.reach(current[ON], degree[ON]);
        double source = kind == KernelFigures.Kind.BOOST ? 0 : input;
        double least =
                kind == KernelFigures.Kind.BUCK ? 0 : alpha * UnitPolynomial.least(voltage[ON], degree[ON]) - rho0;
        return onOhm * highest - source - least < forwardDrop;
    }

    /** Neither body diode comes into conduction: by bounds, so that what is not certain is left to the engine. */
    private boolean bodyDiodesBlock() {
        if (transistorDrop == Double.POSITIVE_INFINITY && rectifierDrop == Double.POSITIVE_INFINITY) {
            return true;
        }
        double back = Math.max(
                0,
                -Math.min(
                        UnitPolynomial.least(current[ON], degree[ON]),
                        UnitPolynomial.least(current[OFF], degree[OFF])));
        double highest = Math.max(
                UnitPolynomial.reach(current[ON], degree[ON]), UnitPolynomial.reach(current[OFF], degree[OFF]));
        double least = alpha
                        * Math.min(
                                UnitPolynomial.least(voltage[ON], degree[ON]),
                                UnitPolynomial.least(voltage[OFF], degree[OFF]))
                - rho0;
        boolean channels = onOhm * back < transistorDrop && slopeOhm * highest < rectifierDrop;
        boolean offBlocks = switch (kind) {
            case BUCK -> slopeOhm * back - forwardDrop < input + transistorDrop;
            case BOOST -> least + forwardDrop - (rho + slopeOhm) * back > -transistorDrop;
            case INVERTING -> -least - forwardDrop + (rho + slopeOhm) * back < input + transistorDrop;
        };
        double source = kind == KernelFigures.Kind.BOOST ? 0 : input;
        double opposed = kind == KernelFigures.Kind.BUCK ? 0 : least - rho * back;
        boolean onBlocks = onOhm * highest - source - opposed < rectifierDrop;
        return channels && offBlocks && onBlocks && idleBlocks();
    }

    /** The inductor of a buck stage puts the output on the open transistor while the rectifier blocks. */
    private boolean idleBlocks() {
        return intervals < 3
                || kind != KernelFigures.Kind.BUCK
                || alpha * Math.max(voltage[IDLE][0], UnitPolynomial.sum(voltage[IDLE], degree[IDLE])) - rho0
                        < input + transistorDrop;
    }

    // ------------------------------------------------------------------------------------------- within a period

    /** Follows the on and the off interval from a current of zero; the part of the off interval until the current is zero again, or NaN. */
    private double fall(double w) {
        follow(ON, 0, w);
        follow(OFF, UnitPolynomial.sum(current[ON], degree[ON]), UnitPolynomial.sum(voltage[ON], degree[ON]));
        double[] i = current[OFF];
        int top = degree[OFF];
        double slack = -i[1];
        for (int k = 2; k <= top; k++) {
            slack -= k * Math.abs(i[k]);
        }
        // falls all the way, and is below zero at the end: there is one zero, and Newton's method finds it
        if (!(slack > 0 && i[0] > 0 && UnitPolynomial.sum(i, top) <= 0)) {
            return Double.NaN;
        }
        double u = Math.min(1, -i[0] / i[1]);
        for (int step = 0; step < MOST_STEPS; step++) {
            double change = UnitPolynomial.at(i, top, u) / UnitPolynomial.slopeAt(i, top, u);
            u = Math.min(1, Math.max(0, u - change));
            if (Math.abs(change) <= 0x1p-52 * u) {
                break;
            }
        }
        return u;
    }

    /** The capacitor alone with the load, from a part of the off interval on; false if that is no sound question. */
    private boolean rest(double u, double time) {
        double rate = -gamma / capacitance * time;
        if (!(u > 0 && time >= 0 && rate >= -LONGEST)) {
            return false;
        }
        double[] w = voltage[IDLE];
        w[0] = UnitPolynomial.at(voltage[OFF], degree[OFF], u);
        w[1] = rate * w[0] - loadCurrent / capacitance * time;
        double term = rate;
        double change = rate;
        int k = 1;
        while (k < MOST_DEGREE && Math.abs(term) > RoundOff.OF_A_SERIES) {
            k++;
            term *= rate / k;
            change += term;
            w[k] = rate / k * w[k - 1];
        }
        degree[IDLE] = k;
        restChange = change;
        return true;
    }
}
