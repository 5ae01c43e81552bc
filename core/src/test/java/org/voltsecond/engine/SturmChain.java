package org.voltsecond.engine;

import java.math.BigDecimal;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Counts the distinct real roots of a polynomial without any rounding, by the changes of sign along its Sturm chain (C.
 * Sturm, 1829), with the common factor of the coefficients divided out of every remainder.
 */
final class SturmChain {
    private final List<BigInteger[]> chain = new ArrayList<>();

    SturmChain(double[] coefficients) {
        BigInteger[] before = trimmed(integers(coefficients));
        BigInteger[] present = derivative(before);
        chain.add(before);
        while (present.length > 0) {
            chain.add(present);
            BigInteger[] next = negativeRemainder(before, present);
            before = present;
            present = next;
        }
    }

    /** How many distinct roots there are above one number and up to another. */
    int rootsWithin(double from, double to) {
        return changesAt(from) - changesAt(to);
    }

    /** The coefficients times a power of ten that makes them all whole. */
    private static BigInteger[] integers(double[] coefficients) {
        int scale = 0;
        for (double coefficient : coefficients) {
            scale = Math.max(scale, new BigDecimal(coefficient).scale());
        }
        BigInteger[] whole = new BigInteger[coefficients.length];
        for (int k = 0; k < whole.length; k++) {
            whole[k] = new BigDecimal(coefficients[k]).scaleByPowerOfTen(scale).toBigIntegerExact();
        }
        return whole;
    }

    private int changesAt(double u) {
        int changes = 0;
        int last = 0;
        for (BigInteger[] p : chain) {
            int sign = signAt(p, new BigDecimal(u));
            changes += sign * last < 0 ? 1 : 0;
            last = sign == 0 ? last : sign;
        }
        return changes;
    }

    private static int signAt(BigInteger[] p, BigDecimal u) {
        BigDecimal sum = BigDecimal.ZERO;
        for (int k = p.length - 1; k >= 0; k--) {
            sum = sum.multiply(u).add(new BigDecimal(p[k]));
        }
        return sum.signum();
    }

    private static BigInteger[] derivative(BigInteger[] p) {
        BigInteger[] result = new BigInteger[Math.max(0, p.length - 1)];
        for (int k = 1; k < p.length; k++) {
            result[k - 1] = p[k].multiply(BigInteger.valueOf(k));
        }
        return result;
    }

    /** A positive multiple of the remainder, negated. */
    private static BigInteger[] negativeRemainder(BigInteger[] a, BigInteger[] b) {
        BigInteger lead = b[b.length - 1];
        BigInteger[] rest = a;
        while (rest.length >= b.length) {
            BigInteger factor = rest[rest.length - 1].multiply(lead);
            int shift = rest.length - b.length;
            BigInteger[] next = new BigInteger[rest.length];
            for (int k = 0; k < next.length; k++) {
                BigInteger taken = k < shift ? BigInteger.ZERO : factor.multiply(b[k - shift]);
                next[k] = rest[k].multiply(lead).multiply(lead).subtract(taken);
            }
            rest = primitive(trimmed(next));
        }
        return Arrays.stream(rest).map(BigInteger::negate).toArray(BigInteger[]::new);
    }

    private static BigInteger[] primitive(BigInteger[] p) {
        BigInteger common = Arrays.stream(p).reduce(BigInteger.ZERO, BigInteger::gcd);
        return Arrays.stream(p).map(c -> c.divide(common)).toArray(BigInteger[]::new);
    }

    private static BigInteger[] trimmed(BigInteger[] p) {
        int length = p.length;
        while (length > 0 && p[length - 1].signum() == 0) {
            length--;
        }
        return Arrays.copyOf(p, length);
    }
}
