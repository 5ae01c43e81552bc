package org.voltsecond.engine;

import java.util.concurrent.atomic.AtomicLong;
import java.util.function.BooleanSupplier;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Watches over the long calls of a thread, such as a steady state or a start-up: ends them when its time or effort is spent,
 * and tells somebody what they are doing. Without a watch a call ends early when its thread is interrupted; with one too. What
 * ends early ends in a {@link Stopped}, and changes nothing. Immutable; may watch over any number of calls, of any threads, and
 * within another watch.
 *
 * <pre>{@code
 * Watch patient = Watch.of()
 *         .within(10) // s
 *         .telling((activity, seconds) -> System.out.println(activity + ", " + seconds + " s"));
 * double output = patient.over(() -> regulated.steadyState().of(regulated.outputVoltage()).mean()); // 5.000 V
 * }</pre>
 */
public final class Watch {
    /** Why a call was ended. */
    public enum Why {
        /** Its thread was interrupted, and still is. */
        INTERRUPTED,
        /** A condition of {@link Watch#until} holds. */
        CANCELLED,
        /** It has taken as long as it may. */
        TIME_IS_UP,
        /** It has made as many steps as it may. */
        EFFORT_IS_SPENT
    }

    /** A call was ended before it was done. */
    public static final class Stopped extends RuntimeException {
        private static final long serialVersionUID = 1L;

        /** Why. */
        private final Why why;

        private final transient @Nullable Watch by;

        Stopped(Why why, String message, @Nullable Watch by) {
            super(message);
            this.why = why;
            this.by = by;
        }

        /**
         * Tells whether a watch has ended the call.
         *
         * @param watch the watch
         * @return false if another one did, or an interrupt
         */
        public boolean isBy(Watch watch) {
            return by == watch;
        }

        /**
         * Returns why the call was ended.
         *
         * @return the reason
         */
        public Why why() {
            return why;
        }
    }

    /** Is told what a call is doing, by the thread that does it. */
    public interface Listener {
        /**
         * Called now and then, some ten times a second at most.
         *
         * @param activity what is being done
         * @param seconds for how long the call has gone on, s
         */
        void at(String activity, double seconds);
    }

    /** The call that a thread is in. Kept while the thread lives: to look it up anew takes as long as a short period of a circuit. */
    private static final class Present {
        private @Nullable Scope scope;
    }

    private static final ThreadLocal<Present> PRESENT = ThreadLocal.withInitial(Present::new);
    /** How often the listener is told, ns: often enough for an eye. */
    private static final long BETWEEN_TELLINGS = 100_000_000;

    private static final Watch OF_NOTHING = new Watch(Double.POSITIVE_INFINITY, Long.MAX_VALUE, () -> false, null);

    private final double seconds;
    private final long steps;
    private final BooleanSupplier ended;
    private final @Nullable Listener listener;

    private Watch(double seconds, long steps, BooleanSupplier ended, @Nullable Listener listener) {
        this.seconds = seconds;
        this.steps = steps;
        this.ended = ended;
        this.listener = listener;
    }

    /**
     * Returns a watch that lets everything go on.
     *
     * @return the watch
     */
    public static Watch of() {
        return OF_NOTHING;
    }

    /**
     * Returns this watch with an end by the clock on the wall.
     *
     * @param mostSeconds how long a call may take, s; more than 0
     * @return a new watch
     * @throws IllegalArgumentException if the time is not more than 0 s
     */
    public Watch within(double mostSeconds) {
        if (!(mostSeconds > 0)) {
            throw new IllegalArgumentException(
                    "the time of a call must be more than 0 s but was " + mostSeconds + " s");
        }
        return new Watch(mostSeconds, steps, ended, listener);
    }

    /**
     * Returns this watch with an end by effort, which is the same on any machine.
     *
     * @param mostSteps how many steps of simulation a call may take, each one interval or a part of a long one; at least 1
     * @return a new watch
     * @throws IllegalArgumentException if the number is not at least 1
     */
    public Watch withSteps(long mostSteps) {
        if (mostSteps < 1) {
            throw new IllegalArgumentException("the number of steps must be at least 1 but was " + mostSteps);
        }
        return new Watch(seconds, mostSteps, ended, listener);
    }

    /**
     * Returns this watch with a condition that ends a call, such as a button that was pressed.
     *
     * @param condition is asked often, by the thread that works
     * @return a new watch
     */
    public Watch until(BooleanSupplier condition) {
        BooleanSupplier before = ended;
        return new Watch(seconds, steps, () -> before.getAsBoolean() || condition.getAsBoolean(), listener);
    }

    /**
     * Returns this watch with somebody who is told what a call is doing.
     *
     * @param who is told
     * @return a new watch
     */
    public Watch telling(Listener who) {
        return new Watch(seconds, steps, ended, who);
    }

    /**
     * Makes a call under this watch, and those that its thread is under already.
     *
     * @param <T> what the call returns
     * @param call what is to be done
     * @return what it returns
     * @throws Stopped if it was ended before it was done
     */
    public <T> T over(Supplier<T> call) {
        Present present = PRESENT.get();
        Scope outer = present.scope;
        present.scope = new Scope(this, outer);
        try {
            return call.get();
        } finally {
            present.scope = outer;
        }
    }

    /**
     * Returns what makes calls of other threads under the watches of this one.
     *
     * @return takes a call and makes it, on whatever thread
     */
    public static Handing handing() {
        Scope handed = PRESENT.get().scope;
        return call -> {
            Present present = PRESENT.get();
            Scope before = present.scope;
            present.scope = handed;
            try {
                call.run();
            } finally {
                present.scope = before;
            }
        };
    }

    /** Makes calls of any thread under the watches of another. */
    public interface Handing {
        /**
         * Makes a call.
         *
         * @param call what is to be done
         */
        void over(Runnable call);
    }

    /**
     * Says what is being done from here on, for those who listen.
     *
     * @param activity in a few words, such as "steady state: run from rest"
     */
    public static void doing(String activity) {
        for (Scope scope = PRESENT.get().scope; scope != null; scope = scope.outer) {
            scope.activity = activity;
        }
    }

    /**
     * Ends the call if it is to be ended. Long work of your own calls this now and then.
     *
     * @param steps how many steps have been made since the last time
     * @throws Stopped if the call is to be ended
     */
    public static void step(long steps) {
        if (Thread.currentThread().isInterrupted()) {
            throw new Stopped(
                    Why.INTERRUPTED, "the call was ended before it was done since its thread was interrupted", null);
        }
        Scope present = PRESENT.get().scope;
        for (Scope scope = present; scope != null; scope = scope.outer) {
            scope.spent.addAndGet(steps);
        }
        for (Scope scope = present; scope != null; scope = scope.outer) {
            scope.check();
        }
    }

    /** One call under a watch. */
    private static final class Scope {
        private final Watch watch;
        private final @Nullable Scope outer;
        private final AtomicLong spent = new AtomicLong();
        private final long began;
        /** Null where the clock does not matter: to read it takes as long as a short period of a circuit. */
        private final @Nullable AtomicLong told;

        private volatile String activity = "simulation";

        Scope(Watch watch, @Nullable Scope outer) {
            this.watch = watch;
            this.outer = outer;
            boolean timed = watch.listener != null || watch.seconds < Double.POSITIVE_INFINITY;
            began = timed ? System.nanoTime() : 0;
            told = timed ? new AtomicLong(began) : null;
        }

        void check() {
            if (spent.get() > watch.steps) {
                throw new Stopped(
                        Why.EFFORT_IS_SPENT,
                        "the call was ended before it was done since it took more than " + watch.steps
                                + " steps of simulation (" + activity + ")",
                        watch);
            }
            if (watch.ended.getAsBoolean()) {
                throw new Stopped(Why.CANCELLED, "the call was ended before it was done since it was cancelled", watch);
            }
            if (told == null) {
                return;
            }
            Listener listener = watch.listener;
            long now = System.nanoTime();
            double seconds = (now - began) * 1e-9;
            if (seconds > watch.seconds) {
                throw new Stopped(
                        Why.TIME_IS_UP,
                        "the call was ended before it was done since it took more than "
                                + Quantity.brief(watch.seconds, Unit.SECOND) + " (" + activity + ")",
                        watch);
            }
            long last = told.get();
            if (listener != null && now - last > BETWEEN_TELLINGS && told.compareAndSet(last, now)) {
                listener.at(activity, seconds);
            }
        }
    }
}
