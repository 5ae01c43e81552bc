package org.voltsecond.examples.design;

import java.util.Collection;
import java.util.Comparator;

/** Finds the word that was probably meant. */
final class Spelling {
    private Spelling() {}

    /**
     * The word with the fewest letters to change, add or drop (V. I. Levenshtein, Binary codes capable of correcting
     * deletions, insertions, and reversals, Soviet Physics Doklady 10(8):707-710, 1966).
     */
    static String nearest(String given, Collection<String> valid) {
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
