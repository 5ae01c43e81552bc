package org.voltsecond.reference;

import java.math.BigDecimal;
import java.math.MathContext;
import org.voltsecond.stage.Topology;

/**
 * The steady state of a stage of ideal parts in 40-digit decimal arithmetic, by Taylor series of the differential equations
 * and root search: an independent calculation for these tests, not published. Voltages are magnitudes. Only the usual orders
 * of events: the transistor conducts, then the rectifier, and if its current comes to zero, neither.
 */
public final class IdealOrbit {
    private static final MathContext DIGITS = new MathContext(45);
    private static final int TERMS = 70;
    private static final BigDecimal ZERO = BigDecimal.ZERO;
    private static final BigDecimal ONE = BigDecimal.ONE;

    private final Phase on;
    private final Phase off;
    private final Phase idle;
    private final BigDecimal onTime;
    private final BigDecimal rest;
    private BigDecimal current = ZERO;
    private BigDecimal voltage = ZERO;
    private boolean discontinuous;

    /** Inductor current and capacitor voltage: x' = a x + b. */
    private record Phase(BigDecimal[][] a, BigDecimal[] b) {
        BigDecimal rate(int i, BigDecimal[] x) {
            return a[i][0].multiply(x[0]).add(a[i][1].multiply(x[1])).add(b[i], DIGITS);
        }

        BigDecimal[] after(BigDecimal[] x, BigDecimal time) {
            BigDecimal[] sum = x.clone();
            BigDecimal[] term = {
                rate(0, x).multiply(time, DIGITS), rate(1, x).multiply(time, DIGITS),
            };
            for (int k = 2; k < TERMS; k++) {
                BigDecimal factor = time.divide(BigDecimal.valueOf(k), DIGITS);
                BigDecimal[] next = new BigDecimal[2];
                for (int i = 0; i < 2; i++) {
                    sum[i] = sum[i].add(term[i], DIGITS);
                    next[i] = a[i][0].multiply(term[0])
                            .add(a[i][1].multiply(term[1]))
                            .multiply(factor, DIGITS);
                }
                term = next;
            }
            return sum;
        }
    }

    private IdealOrbit(Topology topology, double[] values) {
        BigDecimal perInductance = ONE.divide(new BigDecimal(values[1]), DIGITS);
        BigDecimal perCapacitance = ONE.divide(new BigDecimal(values[2]), DIGITS);
        BigDecimal decay =
                perCapacitance.divide(new BigDecimal(values[3]), DIGITS).negate();
        BigDecimal driven = new BigDecimal(values[0]).multiply(perInductance, DIGITS);
        BigDecimal[][] coupled = {{ZERO, perInductance.negate()}, {perCapacitance, decay}};
        BigDecimal[][] apart = {{ZERO, ZERO}, {ZERO, decay}};
        on = new Phase(topology == Topology.BUCK ? coupled : apart, new BigDecimal[] {driven, ZERO});
        off = new Phase(coupled, new BigDecimal[] {topology == Topology.BOOST ? driven : ZERO, ZERO});
        idle = new Phase(apart, new BigDecimal[] {ZERO, ZERO});
        BigDecimal period = ONE.divide(new BigDecimal(values[5]), DIGITS);
        onTime = new BigDecimal(values[4]).multiply(period, DIGITS);
        rest = period.subtract(onTime);
    }

    /**
     * Works out the orbit.
     *
     * @param topology the stage
     * @param values input voltage, inductance, capacitance, load resistance, duty cycle, switching frequency; SI units
     * @param guess of the output voltage, V; for discontinuous conduction
     * @return the orbit
     */
    public static IdealOrbit of(Topology topology, double[] values, double guess) {
        IdealOrbit orbit = new IdealOrbit(topology, values);
        orbit.solveContinuous();
        if (orbit.current.signum() < 0) {
            orbit.solveDiscontinuous(guess);
        }
        return orbit;
    }

    /**
     * Works out how much current is left when the rectifier has conducted to the end of the period.
     *
     * @param topology the stage
     * @param values as for {@link #of}
     * @return the current if the rectifier could carry it both ways, A; zero at the boundary of conduction
     */
    public static double lastCurrent(Topology topology, double... values) {
        IdealOrbit orbit = new IdealOrbit(topology, values);
        orbit.solveContinuous();
        return orbit.current.doubleValue();
    }

    /** The map of the period is linear: solved by Cramer's rule. */
    private void solveContinuous() {
        BigDecimal[] constant = period(ZERO, ZERO);
        BigDecimal[] first = period(ONE, ZERO);
        BigDecimal[] second = period(ZERO, ONE);
        BigDecimal a = ONE.subtract(first[0]).add(constant[0]);
        BigDecimal b = constant[0].subtract(second[0]);
        BigDecimal c = constant[1].subtract(first[1]);
        BigDecimal d = ONE.subtract(second[1]).add(constant[1]);
        BigDecimal determinant = a.multiply(d).subtract(b.multiply(c));
        current = d.multiply(constant[0]).subtract(b.multiply(constant[1])).divide(determinant, DIGITS);
        voltage = a.multiply(constant[1]).subtract(c.multiply(constant[0])).divide(determinant, DIGITS);
    }

    private BigDecimal[] period(BigDecimal i, BigDecimal v) {
        return off.after(on.after(new BigDecimal[] {i, v}, onTime), rest);
    }

    /** The secant method on what a period changes. */
    private void solveDiscontinuous(double guess) {
        discontinuous = true;
        current = ZERO;
        BigDecimal before = new BigDecimal(guess);
        BigDecimal now = new BigDecimal(guess * (1 + 1e-7));
        BigDecimal changeBefore = changeOf(before);
        BigDecimal change = changeOf(now);
        for (int k = 0; k < 50 && change.compareTo(changeBefore) != 0; k++) {
            BigDecimal step = change.multiply(now.subtract(before)).divide(change.subtract(changeBefore), DIGITS);
            before = now;
            changeBefore = change;
            now = now.subtract(step, DIGITS);
            change = changeOf(now);
        }
        voltage = now;
    }

    private BigDecimal changeOf(BigDecimal v) {
        BigDecimal[] peak = on.after(new BigDecimal[] {ZERO, v}, onTime);
        BigDecimal time = rest.divide(BigDecimal.valueOf(2), DIGITS);
        for (int k = 0; k < 60; k++) {
            BigDecimal[] x = off.after(peak, time);
            BigDecimal step = x[0].divide(off.rate(0, x), DIGITS);
            time = time.subtract(step, DIGITS);
            if (step.abs().doubleValue() < 1e-46) {
                break;
            }
        }
        BigDecimal[] end = {ZERO, off.after(peak, time)[1]};
        return idle.after(end, rest.subtract(time))[1].subtract(v, DIGITS);
    }

    /**
     * Returns the inductor current on the clock edge.
     *
     * @return A
     */
    public double current() {
        return current.doubleValue();
    }

    /**
     * Returns the magnitude of the voltage of the capacitor on the clock edge.
     *
     * @return V
     */
    public double voltage() {
        return voltage.doubleValue();
    }

    /**
     * Tells the mode of conduction.
     *
     * @return whether neither device conducts at the end of the period
     */
    public boolean isDiscontinuous() {
        return discontinuous;
    }
}
