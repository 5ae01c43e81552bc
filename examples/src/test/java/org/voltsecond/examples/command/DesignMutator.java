package org.voltsecond.examples.command;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;

/** Spoils design files as users, editors and programs do. The same number spoils alike. */
final class DesignMutator {
    private static final Pattern VALUE = Pattern.compile("(?<== ?)(\"[^\"\n]*\"|[-+.0-9e]+|true|false)");
    private static final Pattern NUMBER = Pattern.compile("[0-9]+(?:\\.[0-9]+)?(?:e[-+]?[0-9]+)?");
    private static final List<String> UNITS = List.of(
            "V", "mV", "A", "mA", "Ω", "mΩ", "kΩ", "MΩ", "H", "µH", "nH", "mH", "F", "µF", "pF", "nF", "Hz", "kHz",
            "MHz", "s", "ms", "µs", "ns", "C", "W", "V/A", "A/µs", "");
    private static final List<String> ODD = List.of(
            "0",
            "-1",
            "1",
            "nan",
            "inf",
            "-inf",
            "1e308",
            "1e-308",
            "1e-18",
            "1e15",
            "true",
            "\"\"",
            "\" \"",
            "[]",
            "[1, 2]",
            "{}",
            "1979-05-27",
            "\"12 V V\"",
            "\"µ\"",
            "9223372036854775807",
            "\"" + "x".repeat(300) + "\"",
            "\"\\u0000\"");

    private final SplittableRandom random;

    DesignMutator(long number) {
        random = new SplittableRandom(number);
    }

    String spoilt(List<String> designs) {
        String text = designs.get(random.nextInt(designs.size()));
        int times = 1 + random.nextInt(3);
        for (int i = 0; i < times; i++) {
            text = random.nextInt(12) == 0 ? text + "\n" + designs.get(random.nextInt(designs.size())) : spoilt(text);
        }
        return text;
    }

    private String spoilt(String text) {
        return switch (random.nextInt(14)) {
            case 0 -> lines(text, lines -> lines.remove(random.nextInt(lines.size())));
            case 1 -> lines(text, lines -> lines.add(random.nextInt(lines.size()), any(lines)));
            case 2 -> lines(text, lines -> lines.set(random.nextInt(lines.size()), any(lines)));
            case 3, 4, 5 -> value(text, NUMBER, this::scaled);
            case 6 -> value(text, NUMBER, number -> number.equals("0") ? "1" : "0");
            case 7, 8 -> value(text, Pattern.compile("(?<=[0-9] )[a-zA-ZµΩ/]+(?=\")"), unit -> any(UNITS));
            case 9 -> value(text, VALUE, value -> any(ODD));
            case 10 ->
                value(text, VALUE, value -> value.startsWith("\"") ? value.replace("\"", "") : "\"" + value + "\"");
            case 11 -> value(text, Pattern.compile("[a-z_]{4,}"), word -> word.substring(1) + word.charAt(0));
            case 12 -> octet(text);
            default -> text.substring(0, random.nextInt(text.length() + 1));
        };
    }

    private interface Change {
        void to(List<String> lines);
    }

    private static String lines(String text, Change change) {
        List<String> lines = new ArrayList<>(text.lines().toList());
        if (!lines.isEmpty()) {
            change.to(lines);
        }
        return String.join("\n", lines) + "\n";
    }

    private <T> T any(List<T> list) {
        return list.get(random.nextInt(list.size()));
    }

    private String value(String text, Pattern pattern, java.util.function.UnaryOperator<String> change) {
        List<MatchResult> found = pattern.matcher(text).results().toList();
        if (found.isEmpty()) {
            return text;
        }
        MatchResult one = any(found);
        return text.substring(0, one.start()) + change.apply(one.group()) + text.substring(one.end());
    }

    /** Half of them nearby, half by up to twelve powers of ten. */
    private String scaled(String number) {
        double factor = random.nextBoolean()
                ? Math.pow(4, 2 * random.nextDouble() - 1)
                : Math.pow(10, 24 * random.nextDouble() - 12);
        return String.valueOf(Double.parseDouble(number) * factor);
    }

    private String octet(String text) {
        int at = random.nextInt(text.length() + 1);
        String odd = String.valueOf((char) (random.nextInt(4) == 0 ? random.nextInt(0x3000) : random.nextInt(128)));
        return text.substring(0, at) + odd + text.substring(Math.min(text.length(), at + random.nextInt(2)));
    }
}
