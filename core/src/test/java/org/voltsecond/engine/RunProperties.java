package org.voltsecond.engine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import net.jqwik.api.Example;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import net.jqwik.api.constraints.IntRange;

/** What must hold between runs of the lossy buck whatever its load, its duty cycle and its start. */
class RunProperties {
    private static LossyBuck buck(double load, double dutyCycle) {
        return new LossyBuck(load, dutyCycle);
    }

    /** A buck whose load steps take it from continuous to discontinuous conduction and back. */
    private static LossyBuck stepped(double light) {
        return buck(2.5, 0.4)
                .withLoad(new ClockTime(60, 0.3 * LossyBuck.PERIOD), light, 0.4)
                .withLoad(new ClockTime(200, 0), 2.5, 0.4)
                .withLoad(new ClockTime(260, 0.9 * LossyBuck.PERIOD), light, 0.4);
    }

    @Property(tries = 40)
    void recordingStreamingAndTheFinalStateAloneGiveTheSameBits(
            @ForAll @DoubleRange(min = 1, max = 500) double load,
            @ForAll @DoubleRange(min = 0.05, max = 0.6) double dutyCycle,
            @ForAll @DoubleRange(min = 0, max = 5) double current) {
        double[] start = {current, 3};
        double duration = 157.3 * LossyBuck.PERIOD;
        Trajectory recorded = Simulation.of(buck(load, dutyCycle)).record(start, duration);
        double[] plain = Simulation.of(buck(load, dutyCycle)).finalState(start, duration);
        List<double[]> streamed = new ArrayList<>();
        double[] last = Simulation.of(buck(load, dutyCycle)).stream(start, duration, interval -> {
            double[] state = new double[2];
            interval.copyStartState(state);
            streamed.add(new double[] {
                (double) interval.tick(), interval.sinceTick(), interval.duration(), state[0], state[1]
            });
        });
        assertThat(last).isEqualTo(plain).isEqualTo(recorded.finalState());
        assertThat(streamed).hasSize(recorded.size());
        for (int i = 0; i < streamed.size(); i++) {
            Interval interval = recorded.interval(i);
            double[] state = interval.startState();
            assertThat(streamed.get(i))
                    .containsExactly(
                            (double) interval.startTime().tick(),
                            interval.sinceTick(),
                            interval.duration(),
                            state[0],
                            state[1]);
        }
    }

    @Property(tries = 40)
    void aRunInTwoPartsEndsWhereTheWholeRunEnds(
            @ForAll @DoubleRange(min = 1, max = 500) double load,
            @ForAll @DoubleRange(min = 0.05, max = 0.6) double dutyCycle,
            @ForAll @IntRange(min = 1, max = 119) int periods) {
        // both parts start on a clock edge, where the law of this buck always begins with its on interval
        double[] whole = Simulation.of(buck(load, dutyCycle)).finalState(new double[2], 120 * LossyBuck.PERIOD);
        double[] part = Simulation.of(buck(load, dutyCycle)).finalState(new double[2], periods * LossyBuck.PERIOD);
        double[] both = Simulation.of(buck(load, dutyCycle)).finalState(part, (120 - periods) * LossyBuck.PERIOD);
        assertThat(both[0]).isCloseTo(whole[0], within(1e-13));
        assertThat(both[1]).isCloseTo(whole[1], within(1e-13));
    }

    @Property(tries = 30)
    void intervalsFollowEachOtherWithoutAGapOrAJump(
            @ForAll @DoubleRange(min = 20, max = 500) double light,
            @ForAll @DoubleRange(min = 0, max = 3) double current) {
        Trajectory run = Simulation.of(stepped(light)).record(new double[] {current, 4}, 320.5 * LossyBuck.PERIOD);
        double[] before = run.interval(0).startState();
        double time = 0;
        for (Interval interval : run.intervals()) {
            assertThat(interval.duration()).isPositive();
            assertThat(interval.start()).isCloseTo(time, within(1e-18));
            assertThat(interval.startState()[0]).isCloseTo(before[0], within(1e-13));
            assertThat(interval.startState()[1]).isCloseTo(before[1], within(1e-14));
            before = interval.endState();
            time = interval.end();
        }
        assertThat(run.finalState()[0]).isCloseTo(before[0], within(1e-14));
        assertThat(run.finalState()[1]).isCloseTo(before[1], within(1e-14));
    }

    @Property(tries = 30)
    void everyIntervalIsInAConfigurationThatIsValidThere(@ForAll @DoubleRange(min = 20, max = 500) double light) {
        Trajectory run = Simulation.of(stepped(light)).record(new double[2], 320.5 * LossyBuck.PERIOD);
        assertThat(run.intervals())
                .extracting(interval -> interval.configuration().name())
                .contains("on", "off", "idle");
        for (Interval interval : run.intervals()) {
            for (int i = 0; i <= 8; i++) {
                double since = interval.duration() * i / 8;
                for (Guard guard : interval.configuration().guards()) {
                    assertThat(interval.valueAt(guard.form(), since)).isGreaterThan(-1e-13);
                }
                for (AffineForm constraint : interval.configuration().constraints()) {
                    assertThat(interval.valueAt(constraint, since)).isZero();
                }
            }
        }
    }

    @Property(tries = 10)
    void whatIsRememberedIsWhatTheLawWouldSay(@ForAll @DoubleRange(min = 20, max = 500) double light) {
        // a law that hands out new phases for the same node on every question leaves nothing to remember
        Trajectory remembered = Simulation.of(stepped(light)).record(new double[2], 320 * LossyBuck.PERIOD);
        LossyBuck law = stepped(light);
        TestLaw forgetful = new TestLaw(
                LossyBuck.SCALE,
                LossyBuck.PERIOD,
                law.changes(),
                state -> fresh(law.first(state)),
                (ended, cause, state, t) -> fresh(law.next(((Fresh) ended).original, cause, state, t)));
        Trajectory asked = Simulation.of(forgetful).record(new double[2], 320 * LossyBuck.PERIOD);
        assertThat(asked.size()).isEqualTo(remembered.size());
        for (int i = 0; i < asked.size(); i++) {
            assertThat(((Fresh) asked.interval(i).phase())
                            .original
                            .configuration()
                            .name())
                    .isEqualTo(remembered.interval(i).configuration().name());
            assertThat(asked.interval(i).duration())
                    .isCloseTo(remembered.interval(i).duration(), within(1e-13 * LossyBuck.PERIOD));
        }
        assertThat(asked.finalState()[1]).isCloseTo(remembered.finalState()[1], within(1e-13));
    }

    private static final class Fresh extends Phase {
        final Phase original;

        Fresh(Phase original) {
            super(original.configuration(), original.endSinceTick(), original.maximumDuration());
            this.original = original;
        }
    }

    private static Entry fresh(Entry entry) {
        return new Entry(new Fresh(entry.phase()), entry.jump());
    }

    @Example
    void theLawIsAskedSeldomInAPeriodicRegime() {
        LossyBuck law = buck(100, 0.25);
        Simulation.of(law).finalState(new double[2], 10_000 * LossyBuck.PERIOD);
        assertThat(law.questions).isLessThan(1000);
    }

    @Example
    void manyThreadsComputeTheSameBits() {
        LossyBuck shared = stepped(80);
        double[] alone = Simulation.of(stepped(80)).finalState(new double[2], 400 * LossyBuck.PERIOD);
        List<CompletableFuture<double[]>> runs = new ArrayList<>();
        for (int i = 0; i < 8; i++) {
            runs.add(CompletableFuture.supplyAsync(
                    () -> Simulation.of(shared).finalState(new double[2], 400 * LossyBuck.PERIOD)));
        }
        runs.forEach(run -> assertThat(run.join()).isEqualTo(alone));
    }

    @Example
    void manyThreadsComputeTheSameBitsOfOneStiffConfiguration() {
        // the levels of the ladder are worked out when first needed, here by all threads at once
        double[][] a = {{-1, 0}, {1e7, -1e7}};
        Configuration shared = TestLaw.configuration("stiff", 1, a, new double[] {1, 0}, List.of());
        TestLaw law = TestLaw.single(shared, TestLaw.ones(2), 1);
        List<CompletableFuture<double[]>> runs = new ArrayList<>();
        for (int i = 0; i < 8; i++) {
            runs.add(CompletableFuture.supplyAsync(() -> Simulation.of(law).finalState(new double[2], 3)));
        }
        Configuration own = TestLaw.configuration("stiff", 1, a, new double[] {1, 0}, List.of());
        double[] alone = Simulation.of(TestLaw.single(own, TestLaw.ones(2), 1)).finalState(new double[2], 3);
        runs.forEach(run -> assertThat(run.join()).isEqualTo(alone));
    }

    @Property(tries = 200)
    void indexAtFindsTheIntervalThatHoldsTheTime(@ForAll @DoubleRange(min = 0, max = 1) double fraction) {
        Trajectory run = Simulation.of(stepped(60)).record(new double[2], 70.3 * LossyBuck.PERIOD);
        double time = fraction * run.end();
        Interval interval = run.interval(run.indexAt(time));
        assertThat(interval.start()).isLessThanOrEqualTo(time);
        assertThat(interval.end()).isGreaterThanOrEqualTo(time);
    }

    @Example
    void indexAtASwitchingInstantIsTheIntervalThatBeginsThere() {
        Trajectory run = Simulation.of(stepped(60)).record(new double[2], 70.3 * LossyBuck.PERIOD);
        for (int i = 0; i < run.size(); i++) {
            assertThat(run.indexAt(run.interval(i).start())).isEqualTo(i);
        }
        assertThat(run.indexAt(run.end())).isEqualTo(run.size() - 1);
    }

    /**
     * A comparator that looks once a period, after a time of blanking, at which side of zero a slow oscillation is, and
     * then follows it: what came next the last time is wrong whenever the side has changed during the blanking.
     */
    @Example
    void aRememberedSuccessorThatHasBecomeWrongIsAskedAgain() {
        double[][] swing = {{0, 0.37}, {-0.37, 0}};
        Configuration blank = TestLaw.configuration("blank", 1, swing, new double[2], List.of());
        Configuration above = TestLaw.configuration("above", 1, swing, new double[2], List.of(TestLaw.above(2, 0, 0)));
        Configuration below = TestLaw.configuration("below", 1, swing, new double[2], List.of(TestLaw.below(2, 0, 0)));
        Phase blanking = new Phase(blank, 0.4, Double.POSITIVE_INFINITY);
        Phase positive = new Phase(above, 1, Double.POSITIVE_INFINITY);
        Phase negative = new Phase(below, 1, Double.POSITIVE_INFINITY);
        TestLaw law =
                new TestLaw(TestLaw.ones(2), 1, List.of(), state -> Entry.of(blanking), (ended, cause, state, t) -> {
                    if (cause.kind() == Cause.Kind.GUARD) {
                        return Entry.of(ended == positive ? negative : positive);
                    }
                    boolean up = state[0] > 0 || (state[0] == 0 && state[1] > 0);
                    return Entry.of(ended != blanking ? blanking : up ? positive : negative);
                });
        Trajectory run = Simulation.of(law).record(new double[] {0, 1}, 500);
        int changedWhileBlank = 0;
        int changedByGuard = 0;
        for (Interval interval : run.intervals()) {
            double middle = Math.sin(0.37 * (interval.start() + 0.5 * interval.duration()));
            if (interval.phase() == blanking) {
                double from = Math.sin(0.37 * interval.start());
                double to = Math.sin(0.37 * (interval.start() + interval.duration()));
                changedWhileBlank += from * to < 0 ? 1 : 0;
            } else {
                assertThat(interval.phase()).isSameAs(middle > 0 ? positive : negative);
                changedByGuard += Cause.guard(0).equals(interval.cause()) ? 1 : 0;
            }
        }
        assertThat(changedWhileBlank).isGreaterThan(10);
        assertThat(changedByGuard).isGreaterThan(20);
        assertThat(changedWhileBlank + changedByGuard)
                .isBetween((int) (500 * 0.37 / Math.PI) - 1, (int) (500 * 0.37 / Math.PI));
    }
}
