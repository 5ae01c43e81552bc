package org.voltsecond.units;

import java.math.BigDecimal;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Reads one quantity, or says what is wrong with its text. */
final class QuantityReader {

    private static final int LONGEST = 100;
    private static final int LONGEST_SHOWN = 40;
    private static final String SPACE = "[ \\t\\u00A0\\u2009\\u202F]*";
    private static final Pattern QUANTITY = Pattern.compile(
            SPACE + "([+-]?(?:\\d+(?:\\.\\d*)?|\\.\\d+)(?:[eE][+-]?\\d{1,6})?)" + SPACE + "(.*?)" + SPACE);
    private static final Pattern NOT_FINITE =
            Pattern.compile("[+-]?(nan|inf|infinity|\u221E)\\b.*|[+-]?\u221E.*", Pattern.CASE_INSENSITIVE);

    private final String text;
    private final Unit wanted;

    QuantityReader(String text, Unit wanted) {
        this.text = text;
        this.wanted = wanted;
    }

    double read() {
        if (text.isBlank()) {
            throw fault("nothing is written");
        }
        // U+2212 is the typographer's minus sign.
        Matcher matcher = QUANTITY.matcher(text.replace('\u2212', '-'));
        if (text.length() > LONGEST || !matcher.matches()) {
            throw notANumber();
        }
        return finite(new BigDecimal(matcher.group(1)).scaleByPowerOfTen(exponent(matcher.group(2))));
    }

    private int exponent(String unitText) {
        UnitReader.Scaled found = UnitReader.read(unitText);
        if (found == null) {
            throw unknownUnit(unitText);
        }
        if (found.unit() != wanted) {
            throw found.unit() == Unit.ONE
                    ? fault(shown() + " has no unit")
                    : fault(shown() + " is " + withArticle(found.unit().quantity()));
        }
        return found.exponent();
    }

    private double finite(BigDecimal exact) {
        double value = exact.doubleValue();
        if (Double.isInfinite(value)) {
            throw fault(shown() + " is too large");
        }
        if (value == 0 && exact.signum() != 0) {
            throw fault(shown() + " is too small to be distinguished from zero");
        }
        return value;
    }

    private IllegalArgumentException notANumber() {
        if (text.length() > LONGEST) {
            return fault(shown() + " is longer than " + LONGEST + " characters");
        }
        if (NOT_FINITE.matcher(text.strip()).matches()) {
            return fault(shown() + " is not a finite number");
        }
        return fault(shown() + " does not read as a number followed by a unit");
    }

    private IllegalArgumentException unknownUnit(String unitText) {
        if (unitText.startsWith(",")) {
            return fault(shown() + " has a decimal comma where a decimal point is expected");
        }
        String hint = UnitReader.otherCapitals(unitText, wanted)
                .map(right -> " (did you mean \"" + right + "\"? Capitals matter: m is milli, M is mega, k is kilo)")
                .orElse("");
        return fault(shown() + " has an unknown unit" + hint);
    }

    private IllegalArgumentException fault(String what) {
        String unit = wanted == Unit.ONE ? "without a unit" : "with the unit " + wanted.symbol();
        return new IllegalArgumentException(what + "; valid is " + withArticle(wanted.quantity()) + ": a number " + unit
                + ", for example \"" + wanted.example() + "\"");
    }

    /** Quoted on one line, whatever was written. */
    private String shown() {
        String line = text.replaceAll("\\p{Cntrl}", "\uFFFD");
        return line.length() > LONGEST_SHOWN ? "\"" + line.substring(0, LONGEST_SHOWN) + "...\"" : "\"" + line + "\"";
    }

    private static String withArticle(String noun) {
        return ("aeiou".indexOf(noun.charAt(0)) < 0 ? "a " : "an ") + noun;
    }
}
