package org.voltsecond.examples.javadoc;

import java.math.BigDecimal;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * What a comment behind a declaration says of its value: a number to the digits given, with a unit or none; a text in
 * quotes, of which three dots leave the rest out; the name of a constant; true or false.
 */
public final class Said {
    private static final Pattern NUMBER = Pattern.compile("(-?\\d+(?:\\.\\d+)?(?:e-?\\d+)?)(?: (\\S+)(?: .*)?)?");
    private static final Pattern WORD = Pattern.compile("\".*\"|[A-Z][A-Z_0-9]+|true|false");

    private static final List<String> NUMBERS = List.of("double", "int", "long");

    private Said() {}

    /** {@return whether a comment tells the value of a variable of this type} */
    static boolean isValue(String type, String comment) {
        return !type.isEmpty()
                && (NUMBERS.contains(type) ? NUMBER : WORD).matcher(comment).matches();
    }

    /**
     * Holds a value against its comment.
     *
     * @param value what was declared
     * @param comment what the comment says
     * @param line where, for the message
     * @return empty if the comment is right, else what is wrong
     */
    public static String fault(Object value, String comment, int line) {
        Matcher written = NUMBER.matcher(comment);
        boolean holds = (value instanceof Number number && written.matches())
                ? isNear(number.doubleValue(), written)
                : isText(String.valueOf(value), comment);
        return holds ? "" : "line " + line + " says " + comment + " but the value is " + value;
    }

    private static boolean isText(String value, String comment) {
        String text = comment.replaceAll("^\"|\"$", "");
        return text.endsWith("...") ? value.startsWith(text.substring(0, text.length() - 3)) : value.equals(text);
    }

    private static boolean isNear(double value, Matcher number) {
        BigDecimal written = new BigDecimal(number.group(1));
        double factor = number.group(2) == null ? 1 : factor("1 " + number.group(2));
        double lastDigit = written.ulp().doubleValue() * factor;
        return Math.abs(value - written.doubleValue() * factor) <= 0.500001 * lastDigit;
    }

    /** Of a unit with its prefix, of a percentage, or 1 for a word that is no unit. */
    private static double factor(String one) {
        return one.equals("1 %")
                ? 0.01
                : Arrays.stream(Unit.values())
                        .flatMapToDouble(unit -> read(one, unit).stream())
                        .findFirst()
                        .orElse(1);
    }

    private static OptionalDouble read(String text, Unit unit) {
        try {
            return OptionalDouble.of(Quantity.parse(text, unit));
        } catch (IllegalArgumentException another) {
            return OptionalDouble.empty();
        }
    }
}
