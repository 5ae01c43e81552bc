package org.voltsecond.plot;

import java.text.DecimalFormat;
import java.text.DecimalFormatSymbols;
import java.util.Locale;
import org.jfree.chart.axis.NumberTickUnit;
import org.jfree.chart.axis.TickUnit;
import org.jfree.chart.axis.TickUnitSource;

/** Ticks at 1, 2 and 5 times powers of ten, written with just the decimals that they need, in any country alike. */
final class Ticks implements TickUnitSource {
    private static final double ROUNDING = 1e-9;

    @Override
    public TickUnit getLargerTickUnit(TickUnit unit) {
        return getCeilingTickUnit(unit.getSize() * (1 + 1e-6));
    }

    @Override
    public TickUnit getCeilingTickUnit(TickUnit unit) {
        return getCeilingTickUnit(unit.getSize());
    }

    @Override
    public TickUnit getCeilingTickUnit(double size) {
        int exponent = (int) Math.floor(Math.log10(size) + ROUNDING);
        double mantissa = size / Math.pow(10, exponent);
        double step = mantissa <= 1 + ROUNDING ? 1 : mantissa <= 2 + ROUNDING ? 2 : mantissa <= 5 + ROUNDING ? 5 : 10;
        int decimals = Math.max(0, step == 10 ? -exponent - 1 : -exponent);
        return new Tick(step * Math.pow(10, exponent), decimals);
    }

    private static final class Tick extends NumberTickUnit {
        private static final long serialVersionUID = 1L;

        Tick(double size, int decimals) {
            super(size, format(decimals), 0);
        }

        private static DecimalFormat format(int decimals) {
            String pattern = decimals == 0 ? "0" : "0." + "0".repeat(decimals);
            return new DecimalFormat(pattern, DecimalFormatSymbols.getInstance(Locale.ROOT));
        }

        @Override
        public String valueToString(double value) {
            // a tick that rounding has put just below zero is not "-0"
            return super.valueToString(Math.abs(value) < ROUNDING * getSize() ? 0 : value);
        }
    }

    @Override
    public boolean equals(Object other) {
        return other instanceof Ticks;
    }

    @Override
    public int hashCode() {
        return Ticks.class.hashCode();
    }
}
