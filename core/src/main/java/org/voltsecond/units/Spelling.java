package org.voltsecond.units;

import java.util.Collection;
import java.util.Comparator;

/**
 * Finds the word that was probably meant.
 *
 * <pre>{@code
 * String hint = Spelling.hint("; did you mean ", "rippel", List.of("ripple", "droop")); // "; did you mean ripple"
 * }</pre>
 */
public final class Spelling {
    private Spelling() {}

    /** With more than half of its letters changed it is another word; common practice, no source. */
    private static final double NEAR = 0.5;

    /**
     * Returns what to say of the word that was probably meant.
     *
     * @param before what stands before the word
     * @param given the word that is unknown
     * @param valid the words that are known
     * @return the nearest word after what stands before it; empty if none is near
     */
    public static String hint(String before, String given, Collection<String> valid) {
        if (valid.isEmpty()) {
            return "";
        }
        String nearest = nearest(given, valid);
        int longer = Math.max(given.length(), nearest.length());
        boolean near = distance(given, nearest) <= NEAR * longer || isPart(given, nearest);
        return near ? before + nearest : "";
    }

    /** Such as "ripple" for "output_ripple". */
    private static boolean isPart(String given, String nearest) {
        return given.length() >= 3 && (nearest.contains(given) || given.contains(nearest));
    }

    /**
     * The word with the fewest letters to change, add or drop (V. I. Levenshtein, Binary codes capable of correcting
     * deletions, insertions, and reversals, Soviet Physics Doklady 10(8):707-710, 1966).
     */
    private static String nearest(String given, Collection<String> valid) {
        return valid.stream()
                .min(Comparator.comparingInt(word -> distance(given, word)))
                .orElseThrow();
    }

    private static int distance(String a, String b) {
        int[] row = new int[b.length() + 1];
        for (int j = 0; j < row.length; j++) {
            row[j] = j;
        }
        for (int i = 1; i <= a.length(); i++) {
            int diagonal = row[0];
            row[0] = i;
            for (int j = 1; j < row.length; j++) {
                int substitute = diagonal + (a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1);
                diagonal = row[j];
                row[j] = Math.min(substitute, 1 + Math.min(row[j], row[j - 1]));
            }
        }
        return row[b.length()];
    }
}
