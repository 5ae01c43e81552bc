package org.voltsecond.revision;

import static org.assertj.core.api.Assertions.assertThat;
import static org.voltsecond.revision.LimitDifference.Outcome.GAINED;
import static org.voltsecond.revision.LimitDifference.Outcome.GONE;
import static org.voltsecond.revision.LimitDifference.Outcome.LOST;
import static org.voltsecond.revision.LimitDifference.Outcome.MET;
import static org.voltsecond.revision.LimitDifference.Outcome.NEW;
import static org.voltsecond.revision.LimitDifference.Outcome.NOT_MET;
import static org.voltsecond.revision.LimitDifference.Outcome.OPEN;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.figures.Limit;
import org.voltsecond.figures.LimitCheck;
import org.voltsecond.units.Result;

/** What becomes of a limit from one revision to the next. */
class LimitDifferenceTest {
    private static LimitCheck check(Limit limit, double value) {
        return new LimitCheck(limit, 1, Result.of(value), "steady state");
    }

    @Test
    void eachLimitIsToldOnce() {
        LimitCheck unknown = new LimitCheck(Limit.DROOP, 1, Result.missing("there is no transient"), "");
        List<LimitDifference> all = LimitDifference.between(
                List.of(
                        check(Limit.OUTPUT_RIPPLE, 2),
                        check(Limit.EFFICIENCY, 2),
                        check(Limit.OVERSHOOT, 0.5),
                        check(Limit.PEAK_INDUCTOR_CURRENT, 3),
                        check(Limit.SETTLING_TIME, 0),
                        unknown),
                List.of(
                        check(Limit.START_TIME, 0),
                        check(Limit.DROOP, 0),
                        check(Limit.PEAK_INDUCTOR_CURRENT, 2),
                        check(Limit.OVERSHOOT, 1),
                        check(Limit.EFFICIENCY, 0.5),
                        check(Limit.OUTPUT_RIPPLE, 1)));
        assertThat(all)
                .extracting(LimitDifference::limit)
                .containsExactly(
                        Limit.OUTPUT_RIPPLE,
                        Limit.EFFICIENCY,
                        Limit.OVERSHOOT,
                        Limit.PEAK_INDUCTOR_CURRENT,
                        Limit.SETTLING_TIME,
                        Limit.DROOP,
                        Limit.START_TIME);
        assertThat(all)
                .extracting(LimitDifference::outcome)
                .containsExactly(GAINED, LOST, MET, NOT_MET, GONE, OPEN, NEW);
    }
}
