package org.voltsecond.design;

import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.voltsecond.losses.HeatModel;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * One key of the design file, a line of {@code keys.txt}.
 *
 * @param name the key
 * @param of of which kinds of its table; empty for all
 * @param type symbol of its unit, or a word such as "number", "table" or "word"
 * @param valid which values are valid, in words
 * @param otherwise what holds if it is left out: "needed", a number, or words
 * @param example a valid value as it would be written
 * @param meaning a sentence
 */
record Key(String name, List<String> of, String type, String valid, String otherwise, String example, String meaning) {
    private static final int CELLS = 7;
    private static final Pattern COUNTS = Pattern.compile("(\\d+)(?: to (\\d+))?(?: or more| of .*)?");

    private static final Set<String> WORDS =
            Set.of("number", "numbers", "whole", "text", "label", "word", "words", "names", "flag", "table", "tables");
    private static final Map<String, String> WORDY = Map.of("label", "text or number", "whole", "whole number");

    static Key of(String line) {
        String[] cells = line.split("\\|", -1);
        if (cells.length != CELLS) {
            throw new IllegalStateException("a line of the table of keys has not " + CELLS + " cells: " + line);
        }
        for (int i = 0; i < CELLS; i++) {
            cells[i] = cells[i].strip();
        }
        List<String> of = cells[1].isEmpty() ? List.of() : List.of(cells[1].split(" ", -1));
        return new Key(cells[0], of, cells[2], cells[3], cells[4], cells[5], cells[6]);
    }

    boolean isOf(String kind) {
        return of.isEmpty() || of.contains(kind);
    }

    boolean isNeeded() {
        return otherwise.startsWith("needed");
    }

    /** The default; NaN if it is no number. */
    double usual() {
        try {
            return Double.parseDouble(otherwise);
        } catch (NumberFormatException words) {
            return Double.NaN;
        }
    }

    /** What a quantity must be; of the values of an array, each of them. */
    Kind kind() {
        String symbol = type.replaceFirst(", several$", "");
        Unit unit = symbol.startsWith("number")
                ? Unit.ONE
                : Arrays.stream(Unit.values())
                        .filter(each -> each.symbol().equals(symbol))
                        .findFirst()
                        .orElseThrow(() -> new IllegalStateException("the key " + name + " has no unit: " + type));
        return new Kind(unit, Kind.Range.of(valid.replaceFirst("^[0-9]+(?: to [0-9]+)? of ", "")), example);
    }

    /** The least whole number, or the least size of an array. */
    int least() {
        return Integer.parseInt(counts().group(1));
    }

    /** The most; no limit of a whole number is the largest there is. */
    int most() {
        Matcher counts = counts();
        String most = counts.group(2);
        return most != null ? Integer.parseInt(most) : valid.contains(" of ") ? least() : Integer.MAX_VALUE;
    }

    private Matcher counts() {
        Matcher counts = COUNTS.matcher(valid);
        if (!counts.matches()) {
            throw new IllegalStateException("the key " + name + " has no counts: " + valid);
        }
        return counts;
    }

    /** Throws if these are not the words that the table tells, which may be those of a placeholder. */
    void requireWords(Collection<String> words) {
        Set<String> told = new TreeSet<>(List.of(valid.split(", ", -1)));
        if (!valid.startsWith("{") && !told.equals(new TreeSet<>(words))) {
            throw new IllegalStateException("the key " + name + " tells the words " + told + " but takes " + words);
        }
    }

    /** Whether its type is the symbol of a unit, which is written as it is. */
    private boolean hasUnit() {
        return !WORDS.contains(type);
    }

    /** Whether its value is a number, or an array of numbers. */
    boolean isQuantity() {
        return hasUnit() || type.startsWith("number");
    }

    /** Unit and what is valid, in words. */
    String values() {
        String values = hasUnit() ? type.replaceFirst(", several$", "") : WORDY.getOrDefault(type, type);
        return values
                + (valid.isEmpty()
                        ? ""
                        : ": "
                                + valid.replaceFirst("^([0-9]+) to \\1 of ", "$1 of ")
                                        .replaceFirst("^([0-9]+(?: to [0-9]+)?) of ([^t])", "$1, each $2"));
    }

    /** The same as a sentence. */
    String valuesAsSentence() {
        return hasUnit() ? values() + "." : sentence(values());
    }

    /** What holds if it is left out, a number with its unit. */
    String leftOut() {
        double usual = usual();
        return hasUnit() && usual > 0 ? Quantity.brief(usual, kind().unit()) : otherwise;
    }

    static String sentence(String words) {
        return words.substring(0, 1).toUpperCase(Locale.ROOT) + words.substring(1) + ".";
    }

    /**
     * What a key that takes a quantity wants.
     *
     * @param unit the unit
     * @param range which values are valid
     * @param example a valid value as it would be written
     */
    record Kind(Unit unit, Range range, String example) {
        boolean isPlausible(double value) {
            double size = Math.abs(value);
            return size == 0 || (size >= least(unit) && size <= most(unit));
        }

        /** The example as a number in SI units; not a number if it is an array. */
        double exampleValue() {
            if (example.startsWith("[")) {
                return Double.NaN;
            }
            return example.startsWith("\"")
                    ? Quantity.parse(example.replace("\"", ""), unit)
                    : Double.parseDouble(example);
        }

        /** What is plausible, in words that follow "valid: ". */
        String plausible() {
            String symbol = unit.symbol().isEmpty() ? "" : " " + unit.symbol();
            return (range.contains(0) ? "0, or from " : "from ") + written(least(unit)) + " to " + written(most(unit))
                    + symbol + ", for example " + example;
        }

        private static String written(double value) {
            return String.format(java.util.Locale.ROOT, "%.0e", value).replaceFirst("e\\+?(-?)0?", "e$1");
        }

        /**
         * Less than this is no part, whatever the unit that it is written with: a fraction of what a trace on a board has.
         * Common practice, no source. A share of the period below the last digit of a time would be none.
         */
        private static double least(Unit unit) {
            return switch (unit) {
                case FARAD -> 1e-13;
                case HENRY -> 1e-10;
                case OHM, VOLT -> 1e-9;
                case SECOND, COULOMB, ONE -> 1e-15;
                case HERTZ -> 1e-3;
                default -> 1e-12;
            };
        }

        /** More than this is no converter; common practice, no source. */
        private static double most(Unit unit) {
            return switch (unit) {
                case FARAD, HENRY, COULOMB -> 1e4;
                case VOLT, AMPERE, SECOND -> 1e7;
                case HERTZ -> 1e10;
                default -> 1e12;
            };
        }

        /** What is valid, in words that follow "valid: ". */
        String valid() {
            String of = range == Range.FINITE ? " of " : " ";
            return range.words() + (unit.symbol().isEmpty() ? "" : of + unit.symbol()) + ", for example " + example;
        }

        /** Which numbers a key takes. Every test is one that NaN fails. */
        enum Range {
            POSITIVE("more than 0"),
            NOT_NEGATIVE("0 or more"),
            FRACTION("from 0 to 1"),
            SHARE("more than 0, at most 1"),
            TO_TWO("more than 0, at most 2"),
            PHASE("0 or more, below 1"),
            RIGHT_ANGLE("more than 0, below 90"),
            TEMPERATURE("above -273.15"),
            FINITE("any finite number");

            /** How far a slider leads to either side of a value that is more than 0. A choice. */
            private static final double FACTOR = 10;

            /** How far it leads, in usual values, where the value is 0. A choice. */
            private static final double USUAL_VALUES = 4;

            /** The range of industrial parts, °C: common practice, no source. */
            private static final double COLD = -40;

            private static final double HOT = 125;

            private final String words;

            Range(String words) {
                this.words = words;
            }

            static Range of(String words) {
                return Arrays.stream(values())
                        .filter(range -> range.words.equals(words))
                        .findFirst()
                        .orElseThrow(() -> new IllegalStateException("no range of values: " + words));
            }

            boolean contains(double value) {
                return switch (this) {
                    case POSITIVE -> value > 0 && value < Double.POSITIVE_INFINITY;
                    case NOT_NEGATIVE -> value >= 0 && value < Double.POSITIVE_INFINITY;
                    case FRACTION -> value >= 0 && value <= 1;
                    case SHARE -> value > 0 && value <= 1;
                    case TO_TWO -> value > 0 && value <= 2;
                    case RIGHT_ANGLE -> value > 0 && value < 90;
                    case PHASE -> value >= 0 && value < 1;
                    case TEMPERATURE -> value > HeatModel.ABSOLUTE_ZERO && value < Double.POSITIVE_INFINITY;
                    case FINITE -> Double.isFinite(value);
                };
            }

            String words() {
                return words;
            }

            /** Whether equal steps of a slider are equal ratios. */
            boolean isGeometric(double value) {
                return (this == POSITIVE || this == NOT_NEGATIVE) && value > 0;
            }

            /** The lower end of a slider. */
            double low(double value, double example) {
                return switch (this) {
                    case FRACTION, SHARE, PHASE, TO_TWO, RIGHT_ANGLE -> 0;
                    case POSITIVE, NOT_NEGATIVE -> value > 0 ? value / FACTOR : 0;
                    case TEMPERATURE -> Math.min(COLD, value);
                    case FINITE -> -high(value, example);
                };
            }

            /** The upper end of a slider; the example serves where the value is 0. */
            double high(double value, double example) {
                return switch (this) {
                    case FRACTION, SHARE, PHASE -> 1;
                    case TO_TWO -> 2;
                    case RIGHT_ANGLE -> 90;
                    case POSITIVE, NOT_NEGATIVE -> value > 0 ? value * FACTOR : USUAL_VALUES * example;
                    case TEMPERATURE -> Math.max(HOT, value);
                    case FINITE -> value == 0 ? USUAL_VALUES * example : 2 * Math.abs(value);
                };
            }
        }
    }
}
