package org.voltsecond.study;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;

import java.util.ArrayList;
import java.util.Collections;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.concurrent.CancellationException;
import java.util.concurrent.CyclicBarrier;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Result;

@Timeout(60)
class StudyTest {
    private static final List<Integer> HUNDREDS =
            IntStream.range(0, 1000).boxed().toList();

    private static final Converter RAIL = PowerStage.buck()
            .input(12)
            .inductor(micro(22), 0.03)
            .outputCapacitor(micro(47), 0.005)
            .transistor(0.08)
            .rectifier(0.4, 0.02)
            .load(Load.resistor(2.5))
            .drive(Drive.fixedDuty(0.45, kilo(300)));

    @Test
    void hasTheSameBitsOnAnyNumberOfThreads() {
        List<Double> loads = IntStream.range(1, 200).mapToObj(i -> 0.5 * i).toList();
        Study<Double, List<Double>> study = Study.of(loads, StudyTest::rippleAndMean);
        StudyResults<Double, List<Double>> alone = study.run(Execution.onThreads(1));

        assertThat(alone.values()).hasSize(loads.size());
        assertThat(study.run(Execution.onThreads(2))).isEqualTo(alone);
        assertThat(study.run(Execution.onThreads(8))).isEqualTo(alone);
    }

    private static List<Double> rippleAndMean(double ohm) {
        var steady = RAIL.withLoad(Load.resistor(ohm)).steadyState();
        var output = steady.of(steady.converter().outputVoltage());
        return List.of(output.peakToPeak(), output.mean());
    }

    @Test
    void keepsAFailureBesideTheOtherResults() {
        StudyResults<Integer, Integer> results =
                Study.of(List.of(4, 0, 2), n -> 8 / n).run(Execution.onThreads(2));

        assertThat(results.results().get(0)).isEqualTo(Result.of(2));
        assertThat(results.results().get(1).exists()).isFalse();
        assertThat(results.results().get(1).reason()).isEqualTo("/ by zero");
        assertThat(results.results().get(1).cause()).containsInstanceOf(ArithmeticException.class);
        assertThat(results.results().get(2)).isEqualTo(Result.of(4));
        assertThat(results.values()).containsExactly(2, 4);
        assertThat(results.failures()).isEqualTo(1);
        assertThat(results.isComplete()).isTrue();
        assertThat(results.complete()).isSameAs(results);
    }

    @Test
    void namesAFailureWithoutAMessageByItsKind() {
        StudyResults<Integer, Integer> results = Study.<Integer, Integer>of(List.of(1), n -> {
                    throw new IllegalStateException();
                })
                .run();

        assertThat(results.results().get(0).reason()).isEqualTo("IllegalStateException");
    }

    @Test
    void runsOnSeveralThreadsAtOnce() {
        CyclicBarrier meeting = new CyclicBarrier(4);
        StudyResults<Integer, Integer> results =
                Study.of(List.of(1, 2, 3, 4), n -> meet(meeting, n)).run(Execution.onThreads(4));

        assertThat(results.values()).containsExactly(1, 2, 3, 4);
    }

    /** Returns only once all have come, which they can but on threads of their own. */
    private static int meet(CyclicBarrier meeting, int n) {
        try {
            meeting.await();
            return n;
        } catch (Exception e) {
            throw new IllegalStateException(e);
        }
    }

    @Test
    void tellsItsProgressInOrderUpToTheTotal() {
        List<Integer> told = Collections.synchronizedList(new ArrayList<>());
        Study.of(HUNDREDS, n -> n).run(Execution.onThreads(4).withProgress((done, total) -> {
            assertThat(total).isEqualTo(HUNDREDS.size());
            told.add(done);
        }));

        assertThat(told).isSorted().doesNotHaveDuplicates().endsWith(HUNDREDS.size());
        assertThat(told.size()).isGreaterThan(100);
    }

    @Test
    void cancelledKeepsWhatWasFoundAndRunsNoMore() {
        for (int threads : new int[] {1, 2, 8}) {
            Cancellation cancellation = new Cancellation();
            AtomicInteger asked = new AtomicInteger();
            StudyResults<Integer, Integer> results = Study.of(HUNDREDS, n -> {
                        if (asked.incrementAndGet() == 100) {
                            cancellation.cancel();
                        }
                        return 2 * n;
                    })
                    .run(Execution.onThreads(threads).withCancellation(cancellation));

            assertThat(asked.get()).isBetween(100, 100 + threads);
            assertThat(results.values()).hasSize(asked.get());
            assertThat(results.results()).hasSize(HUNDREDS.size());
            for (int n : HUNDREDS) {
                results.results().get(n).ifExists(value -> assertThat(value).isEqualTo(2 * n));
            }
            assertThat(results.isComplete()).isFalse();
            assertThatThrownBy(results::complete)
                    .isInstanceOf(CancellationException.class)
                    .hasMessageContaining("of 1000 designs not run");
        }
    }

    @Test
    void anInterruptCancelsAndIsNotSwallowed() {
        AtomicInteger asked = new AtomicInteger();
        Thread caller = Thread.currentThread();
        StudyResults<Integer, Integer> results = Study.of(HUNDREDS, n -> {
                    if (asked.incrementAndGet() == 10) {
                        caller.interrupt();
                    }
                    return n;
                })
                .run(Execution.onThreads(2));

        assertThat(Thread.interrupted()).isTrue();
        assertThat(results.isComplete()).isFalse();
        assertThat(results.values()).hasSizeBetween(10, 12);
    }

    @Test
    void leavesNoThreadBehind() {
        Set<Thread> used = Collections.synchronizedSet(new HashSet<>());
        CyclicBarrier meeting = new CyclicBarrier(3);
        Study.of(List.of(1, 2, 3), n -> {
                    used.add(Thread.currentThread());
                    return meet(meeting, n);
                })
                .run(Execution.onThreads(3));

        assertThat(used).hasSize(3).contains(Thread.currentThread());
        assertThat(used).filteredOn(Thread::isAlive).containsExactly(Thread.currentThread());
    }

    @Test
    void anAskerBelongsToOneThread() {
        AtomicInteger made = new AtomicInteger();
        StudyResults<Integer, Integer> results = Study.<Integer, Integer>withOwnAsker(HUNDREDS, () -> {
                    made.incrementAndGet();
                    Thread owner = Thread.currentThread();
                    return n -> {
                        assertThat(Thread.currentThread()).isSameAs(owner);
                        return n + 1;
                    };
                })
                .run(Execution.onThreads(3));

        assertThat(made.get()).isEqualTo(3);
        assertThat(results.values())
                .isEqualTo(IntStream.rangeClosed(1, 1000).boxed().toList());
    }

    @Test
    void whatIsNoFailureOfADesignEndsTheStudy() {
        assertThatThrownBy(() -> Study.<Integer, Integer>of(HUNDREDS, n -> {
                            throw new StackOverflowError("deep");
                        })
                        .run(Execution.onThreads(2)))
                .isInstanceOf(StackOverflowError.class);
        assertThatThrownBy(() -> Study.of(HUNDREDS, n -> n)
                        .run(Execution.onThreads(2).withProgress((done, total) -> {
                            throw new IllegalStateException("display is gone");
                        })))
                .hasMessage("display is gone");
    }

    @Test
    void ofNoDesignsFindsNothing() {
        StudyResults<Integer, Integer> results =
                Study.of(List.<Integer>of(), n -> n).run();

        assertThat(results.results()).isEmpty();
        assertThat(results.isComplete()).isTrue();
    }

    @Test
    void needsAThread() {
        assertThatThrownBy(() -> Execution.onThreads(0)).hasMessage("a study needs 1 thread or more but was given 0");
        assertThatThrownBy(() -> Execution.standard().withThreads(-1)).hasMessageContaining("-1");
    }
}
