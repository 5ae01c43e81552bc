package org.voltsecond.engine;

import static org.assertj.core.api.Assertions.assertThat;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A run that keeps nothing allocates nothing for each period. */
class AllocationTest {
    private static final ThreadMXBean THREADS = (ThreadMXBean) ManagementFactory.getThreadMXBean();

    @ParameterizedTest
    @CsvSource({"2.5, 0.45", "100, 0.25", "20, 0.3"})
    void twiceAsManyPeriodsTakeNoMoreMemory(double load, double dutyCycle) {
        LossyBuck law = new LossyBuck(load, dutyCycle);
        long[] intervals = {0};
        IntervalListener listener = interval -> intervals[0]++;
        for (int i = 0; i < 3; i++) {
            allocated(law, listener, 20_000);
        }
        long once = allocated(law, listener, 10_000);
        long twice = allocated(law, listener, 20_000);
        // one byte for ten periods would be the smallest object for every 160 of them
        assertThat(twice - once).isLessThan(1000);
        assertThat(intervals[0]).isGreaterThan(100_000);
    }

    private static long allocated(LossyBuck law, IntervalListener listener, int periods) {
        long id = Thread.currentThread().getId();
        long before = THREADS.getThreadAllocatedBytes(id);
        Simulation.of(law).stream(new double[2], periods * LossyBuck.PERIOD, listener);
        return THREADS.getThreadAllocatedBytes(id) - before;
    }
}
