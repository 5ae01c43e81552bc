package org.voltsecond.engine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.atomic.AtomicReference;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.voltsecond.control.Drive;
import org.voltsecond.control.Hysteretic;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.engine.Watch.Stopped;
import org.voltsecond.engine.Watch.Why;
import org.voltsecond.stage.Load;
import org.voltsecond.study.Execution;
import org.voltsecond.study.Study;

/** Long calls can be ended. Each of these would take hours otherwise, so that the time limit is no clock in a test. */
@Timeout(60)
class WatchTest {
    private static final double FOR_EVER = 1e6;

    private static PowerStage stage() {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .load(Load.resistor(2.5));
    }

    /** Cruises from clock edge to clock edge. */
    private static Converter clocked() {
        return stage().drive(Drive.fixedDuty(0.45, kilo(300)));
    }

    /** Without a clock no period comes back, and the run goes on for ever. */
    private static Converter endless() {
        return stage().drive(Hysteretic.voltageBand(kilo(300), 1, 0.2, milli(1)));
    }

    private static double endOf(Converter converter) {
        return Simulation.of(converter.driven().law())
                .finalState(converter.driven().restState(), FOR_EVER)[1];
    }

    private static Stopped interrupted(Runnable call) throws InterruptedException {
        AtomicReference<Stopped> stopped = new AtomicReference<>();
        AtomicReference<Boolean> still = new AtomicReference<>(false);
        Thread worker = new Thread(() -> {
            stopped.set(catchThrowableOfType(Stopped.class, call::run));
            still.set(Thread.currentThread().isInterrupted());
        });
        worker.start();
        Thread.sleep(20);
        worker.interrupt();
        worker.join();
        assertThat(still.get()).isTrue();
        return Objects.requireNonNull(stopped.get());
    }

    @Test
    void anInterruptEndsARunThatCruises() throws InterruptedException {
        assertThat(interrupted(() -> {
                            while (true) {
                                endOf(clocked());
                            }
                        })
                        .why())
                .isEqualTo(Why.INTERRUPTED);
    }

    @Test
    void anInterruptEndsARunOfARegulator() throws InterruptedException {
        assertThat(interrupted(() -> endOf(endless()))).hasMessageContaining("interrupted");
    }

    @Test
    void aSteadyStateAndAStartUpAskedOfAnInterruptedThreadEndAtOnce() throws InterruptedException {
        Converter rail = clocked();
        assertThat(interrupted(() -> {
                            while (true) {
                                rail.steadyState();
                            }
                        })
                        .why())
                .isEqualTo(Why.INTERRUPTED);
        assertThat(interrupted(() -> {
                            while (true) {
                                rail.startUp(milli(1));
                            }
                        })
                        .why())
                .isEqualTo(Why.INTERRUPTED);
    }

    @Test
    void timeIsUp() {
        Stopped stopped = catchThrowableOfType(
                Stopped.class, () -> Watch.of().within(0.05).over(() -> endOf(endless())));
        assertThat(stopped.why()).isEqualTo(Why.TIME_IS_UP);
        assertThat(stopped).hasMessageContaining("more than 50 ms");
    }

    @Test
    void effortIsSpentAtTheSameStepEachTime() {
        Stopped stopped = catchThrowableOfType(
                Stopped.class, () -> Watch.of().withSteps(100_000).over(() -> endOf(endless())));
        assertThat(stopped.why()).isEqualTo(Why.EFFORT_IS_SPENT);
        assertThat(stopped).hasMessageContaining("more than 100000 steps");
    }

    @Test
    void aWatchWithinAWatchCountsForBoth() {
        List<Why> ended = new ArrayList<>();
        Watch outer = Watch.of().withSteps(50_000);
        Stopped stopped = catchThrowableOfType(
                Stopped.class,
                () -> outer.over(() -> {
                    for (int i = 0; i < 100; i++) {
                        ended.add(catchThrowableOfType(
                                        Stopped.class,
                                        () -> Watch.of().withSteps(5_000).over(() -> endOf(clocked())))
                                .why());
                        Watch.step(0);
                    }
                    return 0;
                }));
        assertThat(stopped.why()).isEqualTo(Why.EFFORT_IS_SPENT);
        assertThat(ended).containsOnly(Why.EFFORT_IS_SPENT).hasSizeBetween(5, 10);
    }

    @Test
    void whoListensIsToldWhatIsDone() {
        List<String> told = new ArrayList<>();
        Watch watch = Watch.of().within(0.5).telling((activity, seconds) -> told.add(activity));
        assertThatThrownBy(() -> watch.over(() -> {
                    Watch.doing("a long run");
                    return endOf(endless());
                }))
                .isInstanceOf(Stopped.class);
        assertThat(told).hasSizeBetween(1, 5).containsOnly("a long run");
    }

    @Test
    void aStudyIsWatchedOnEveryThread() {
        Watch watch = Watch.of().within(0.05);
        Stopped stopped = catchThrowableOfType(
                Stopped.class,
                () -> watch.over(() -> Study.of(List.of(endless(), endless()), WatchTest::endOf)
                        .run(Execution.onThreads(2))));
        assertThat(stopped.why()).isEqualTo(Why.TIME_IS_UP);
    }

    @Test
    void anInterruptEndsTheDesignsInHandOfAStudy() throws InterruptedException {
        AtomicReference<Integer> skipped = new AtomicReference<>(0);
        Thread worker =
                new Thread(() -> skipped.set(Study.of(List.of(endless(), endless(), endless()), WatchTest::endOf)
                        .run(Execution.onThreads(2))
                        .skipped()));
        worker.start();
        Thread.sleep(50);
        worker.interrupt();
        worker.join();
        assertThat(skipped.get()).isEqualTo(3);
    }
}
