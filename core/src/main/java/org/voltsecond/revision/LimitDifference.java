package org.voltsecond.revision;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.voltsecond.figures.LimitCheck;
import org.voltsecond.figures.Restriction;

/**
 * What became of a limit from one revision to the next. Immutable.
 *
 * <pre>{@code
 * LimitCheck tight = LimitChecks.of(rail).check(Limit.OUTPUT_RIPPLE, milli(1));
 * LimitCheck wide = LimitChecks.of(rail).check(Limit.OUTPUT_RIPPLE, milli(50));
 * LimitDifference limit = LimitDifference.between(List.of(tight), List.of(wide)).get(0);
 * String words = limit.outcome().toString(); // "gained: not met before, met now"
 * }</pre>
 *
 * @param limit which limit or rating
 * @param before what the first revision makes of it; null where that is not held to it
 * @param after what the second revision makes of it; null where that is not held to it
 */
public record LimitDifference(
        Restriction limit,
        @Nullable LimitCheck before,
        @Nullable LimitCheck after) {
    /** What became of a limit. */
    public enum Outcome {
        /** Not met by the first revision, met by the second. */
        GAINED("gained: not met before, met now"),
        /** Met by the first revision, not met by the second. */
        LOST("lost: met before, not met now"),
        /** Met by both. */
        MET("met in both"),
        /** Met by none. */
        NOT_MET("not met in either"),
        /** Only the second revision is held to it. */
        NEW("new"),
        /** Only the first revision is held to it. */
        GONE("gone"),
        /** One of the two could not be checked. */
        OPEN("not checked");

        private final String words;

        Outcome(String words) {
            this.words = words;
        }

        @Override
        public String toString() {
            return words;
        }
    }

    /**
     * Compares the limits of two revisions.
     *
     * @param before of the first revision
     * @param after of the second revision
     * @return one for each limit that at least one of them is held to; those of the first come first
     */
    public static List<LimitDifference> between(List<LimitCheck> before, List<LimitCheck> after) {
        Map<String, Restriction> limits = new LinkedHashMap<>();
        before.forEach(check -> limits.put(check.limit().key(), check.limit()));
        after.forEach(check -> limits.putIfAbsent(check.limit().key(), check.limit()));
        List<LimitDifference> found = new ArrayList<>();
        for (Restriction limit : limits.values()) {
            found.add(new LimitDifference(
                    limit, of(limit, before).orElse(null), of(limit, after).orElse(null)));
        }
        return found;
    }

    private static Optional<LimitCheck> of(Restriction limit, List<LimitCheck> checks) {
        return checks.stream()
                .filter(check -> check.limit().key().equals(limit.key()))
                .findFirst();
    }

    /** {@return what became of it} */
    public Outcome outcome() {
        if (before == null) {
            return Outcome.NEW;
        }
        if (after == null) {
            return Outcome.GONE;
        }
        if (!before.isKnown() || !after.isKnown()) {
            return Outcome.OPEN;
        }
        return before.isMet()
                ? after.isMet() ? Outcome.MET : Outcome.LOST
                : after.isMet() ? Outcome.GAINED : Outcome.NOT_MET;
    }
}
