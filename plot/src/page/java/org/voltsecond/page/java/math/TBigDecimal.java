package org.voltsecond.page.java.math;

import java.math.MathContext;
import java.math.RoundingMode;
import org.teavm.jso.JSBody;

/**
 * In place of the decimal numbers of the compiler's class library, which round some numbers wrongly: sign, digits and scale, with
 * what texts of this library ask for. A number becomes decimal by the browser, correctly rounded to 60 digits.
 */
public final class TBigDecimal extends Number implements Comparable<TBigDecimal> {
    public static final TBigDecimal ZERO = new TBigDecimal(false, "0", 0);
    public static final TBigDecimal ONE = new TBigDecimal(false, "1", 0);
    public static final TBigDecimal TEN = new TBigDecimal(false, "10", 0);

    private static final long serialVersionUID = 1L;

    private final boolean negative;
    /** Without leading zeros; "0" for zero. */
    private final String digits;
    /** How many of them stand behind the point. */
    private final int scale;

    private TBigDecimal(boolean negative, String digits, int scale) {
        int zeros = 0;
        while (zeros < digits.length() - 1 && digits.charAt(zeros) == '0') {
            zeros++;
        }
        this.digits = digits.substring(zeros);
        this.negative = negative && !this.digits.equals("0");
        this.scale = scale;
    }

    private TBigDecimal(TBigDecimal other) {
        this(other.negative, other.digits, other.scale);
    }

    public TBigDecimal(String text) {
        this(parsed(text));
    }

    public TBigDecimal(double value) {
        this(parsed(toPrecision(value)).stripTrailingZeros());
    }

    public static TBigDecimal valueOf(long digits, int scale) {
        return new TBigDecimal(digits < 0, String.valueOf(Math.abs(digits)), scale);
    }

    public static TBigDecimal valueOf(double value) {
        return parsed(shortest(value));
    }

    private static TBigDecimal parsed(String text) {
        String plain = text.startsWith("+") || text.startsWith("-") ? text.substring(1) : text;
        int exponentAt = Math.max(plain.indexOf('e'), plain.indexOf('E'));
        String exponent = exponentAt < 0 ? "0" : plain.substring(exponentAt + 1).replace("+", "");
        String mantissa = exponentAt < 0 ? plain : plain.substring(0, exponentAt);
        int point = mantissa.indexOf('.');
        int behind = point < 0 ? 0 : mantissa.length() - point - 1;
        return new TBigDecimal(text.startsWith("-"), mantissa.replace(".", ""), behind - Integer.parseInt(exponent));
    }

    public TBigDecimal stripTrailingZeros() {
        int length = digits.length();
        while (length > 1 && digits.charAt(length - 1) == '0') {
            length--;
        }
        return signum() == 0
                ? ZERO
                : new TBigDecimal(negative, digits.substring(0, length), scale - (digits.length() - length));
    }

    public int signum() {
        return digits.equals("0") ? 0 : negative ? -1 : 1;
    }

    public int scale() {
        return scale;
    }

    public int precision() {
        return digits.length();
    }

    public TBigDecimal abs() {
        return new TBigDecimal(false, digits, scale);
    }

    public TBigDecimal scaleByPowerOfTen(int power) {
        return new TBigDecimal(negative, digits, scale - power);
    }

    public TBigDecimal movePointLeft(int places) {
        return new TBigDecimal(negative, digits, scale + places);
    }

    public TBigDecimal round(MathContext context) {
        int surplus = precision() - context.getPrecision();
        if (context.getPrecision() == 0 || surplus <= 0) {
            return this;
        }
        TBigDecimal rounded = setScale(scale - surplus, context.getRoundingMode());
        // 9.99 becomes 10.0, which has a digit more
        return rounded.precision() > context.getPrecision()
                ? rounded.setScale(rounded.scale - 1, context.getRoundingMode())
                : rounded;
    }

    public TBigDecimal setScale(int wanted, RoundingMode mode) {
        if (wanted >= scale) {
            return new TBigDecimal(negative, digits + "0".repeat(wanted - scale), wanted);
        }
        int dropped = scale - wanted;
        String all = "0".repeat(Math.max(0, dropped + 1 - digits.length())) + digits;
        String kept = all.substring(0, all.length() - dropped);
        String rest = all.substring(all.length() - dropped);
        int half = rest.compareTo("5" + "0".repeat(dropped - 1));
        boolean odd = (kept.charAt(kept.length() - 1) & 1) == 1;
        boolean up = half > 0 || (half == 0 && (mode != RoundingMode.HALF_EVEN || odd));
        return new TBigDecimal(negative, up ? increased(kept) : kept, wanted);
    }

    private static String increased(String digits) {
        StringBuilder sum = new StringBuilder(digits);
        int at = sum.length() - 1;
        while (at >= 0 && sum.charAt(at) == '9') {
            sum.setCharAt(at--, '0');
        }
        if (at < 0) {
            return "1" + sum;
        }
        sum.setCharAt(at, (char) (sum.charAt(at) + 1));
        return sum.toString();
    }

    public String toPlainString() {
        String sign = negative ? "-" : "";
        if (scale <= 0) {
            return sign + (signum() == 0 ? "0" : digits + "0".repeat(-scale));
        }
        String all = "0".repeat(Math.max(0, scale + 1 - digits.length())) + digits;
        return sign + all.substring(0, all.length() - scale) + "." + all.substring(all.length() - scale);
    }

    @Override
    public String toString() {
        int exponent = digits.length() - scale - 1;
        if (scale >= 0 && exponent >= -6) {
            return toPlainString();
        }
        String mantissa = digits.length() == 1 ? digits : digits.charAt(0) + "." + digits.substring(1);
        return (negative ? "-" : "") + mantissa + "E" + (exponent > 0 ? "+" : "") + exponent;
    }

    @Override
    public int compareTo(TBigDecimal other) {
        return Double.compare(doubleValue(), other.doubleValue());
    }

    @Override
    public double doubleValue() {
        return number((negative ? "-" : "") + digits + "e" + -scale);
    }

    @Override
    public float floatValue() {
        return (float) doubleValue();
    }

    @Override
    public int intValue() {
        return (int) doubleValue();
    }

    @Override
    public long longValue() {
        return (long) doubleValue();
    }

    @JSBody(params = "value", script = "return value.toPrecision(60);")
    private static native String toPrecision(double value);

    @JSBody(params = "value", script = "return String(value);")
    private static native String shortest(double value);

    @JSBody(params = "text", script = "return Number(text);")
    private static native double number(String text);
}
