package org.voltsecond.control;

/**
 * A control method as a textbook tells it, apart from the library: what the comparator looks at, and what happens at its
 * crossing and at instants that time alone brings. Times are those since the start, in seconds.
 */
interface TextbookControl {
    /** What a method can see. */
    record Seen(double time, double current, double error, double control) {}

    boolean on();

    /** The next instant that time alone brings. */
    double timed();

    /** Above zero until the comparator acts; infinite if it is not listened to. */
    double margin(Seen seen);

    void onCrossing(Seen seen);

    void onTime(Seen seen);

    /** Clocked methods: a count of periods and an instant within the period. */
    abstract class Clocked implements TextbookControl {
        final double period;
        boolean on;
        long ticks;
        /** Instant in the present period that comes before its end, or infinite. */
        double within = Double.POSITIVE_INFINITY;

        Clocked(double period) {
            this.period = period;
        }

        double sinceTick(Seen seen) {
            return seen.time() - ticks * period;
        }

        @Override
        public boolean on() {
            return on;
        }

        @Override
        public double timed() {
            return Math.min(ticks * period + within, (ticks + 1) * period);
        }

        @Override
        public void onTime(Seen seen) {
            if (within < period) {
                within = Double.POSITIVE_INFINITY;
                onInstant(seen);
            } else {
                ticks++;
                onTick(seen);
            }
        }

        abstract void onTick(Seen seen);

        abstract void onInstant(Seen seen);
    }

    /** Voltage mode, trailing edge, latched. */
    final class Trailing extends Clocked {
        private final double maximum;

        Trailing(double period, double maximum) {
            super(period);
            this.maximum = maximum;
            onTick(new Seen(0, 0, 0, 0));
        }

        @Override
        void onTick(Seen seen) {
            on = true;
            within = maximum * period;
        }

        @Override
        void onInstant(Seen seen) {
            on = false;
        }

        @Override
        public double margin(Seen seen) {
            return on ? seen.control() - sinceTick(seen) / period : Double.POSITIVE_INFINITY;
        }

        @Override
        public void onCrossing(Seen seen) {
            on = false;
            within = Double.POSITIVE_INFINITY;
        }
    }

    /** Voltage mode, leading edge, latched. */
    final class Leading extends Clocked {
        private final double maximum;
        private boolean early;

        Leading(double period, double maximum) {
            super(period);
            this.maximum = maximum;
            onTick(new Seen(0, 0, 0, 0));
        }

        @Override
        void onTick(Seen seen) {
            on = false;
            early = true;
            within = (1 - maximum) * period;
        }

        @Override
        void onInstant(Seen seen) {
            early = false;
        }

        @Override
        public double margin(Seen seen) {
            return on || early ? Double.POSITIVE_INFINITY : 1 - sinceTick(seen) / period - seen.control();
        }

        @Override
        public void onCrossing(Seen seen) {
            on = true;
        }
    }

    /** Peak current mode with blanking. */
    final class Peak extends Clocked {
        private final double sense;
        private final double slope;
        private final double blanking;
        private final double maximum;
        private boolean blanked;

        Peak(double period, double sense, double slope, double blanking, double maximum) {
            super(period);
            this.sense = sense;
            this.slope = slope;
            this.blanking = blanking;
            this.maximum = maximum;
            onTick(new Seen(0, 0, 0, 0));
        }

        @Override
        void onTick(Seen seen) {
            on = true;
            blanked = true;
            within = blanking;
        }

        @Override
        void onInstant(Seen seen) {
            if (blanked) {
                blanked = false;
                within = maximum * period;
            } else {
                on = false;
            }
        }

        @Override
        public double margin(Seen seen) {
            return on && !blanked
                    ? seen.control() / sense - slope * sinceTick(seen) - seen.current()
                    : Double.POSITIVE_INFINITY;
        }

        @Override
        public void onCrossing(Seen seen) {
            on = false;
            within = Double.POSITIVE_INFINITY;
        }
    }

    /** Valley current mode. */
    final class Valley extends Clocked {
        private final double sense;
        private final double slope;
        private final double maximum;
        private boolean early;

        Valley(double period, double sense, double slope, double maximum) {
            super(period);
            this.sense = sense;
            this.slope = slope;
            this.maximum = maximum;
            onTick(new Seen(0, 0, 0, 0));
        }

        @Override
        void onTick(Seen seen) {
            on = false;
            early = true;
            within = (1 - maximum) * period;
        }

        @Override
        void onInstant(Seen seen) {
            early = false;
        }

        @Override
        public double margin(Seen seen) {
            return on || early
                    ? Double.POSITIVE_INFINITY
                    : seen.current() - seen.control() / sense - slope * sinceTick(seen);
        }

        @Override
        public void onCrossing(Seen seen) {
            on = true;
        }
    }

    /** Sampled: d = bias + b0 e[n] + b1 e[n-1] - a1 y[n-1], sampled within one period, used from the next on. */
    final class Sampled extends Clocked {
        private final double[] coefficients;
        private final double bias;
        private final double instant;
        private final double maximum;
        private double lastError;
        private double result;
        private double held;
        private boolean sampled;

        /** Coefficients: b0, b1, a1. */
        Sampled(double period, double[] coefficients, double bias, double instant, double maximum) {
            super(period);
            this.coefficients = coefficients;
            this.bias = bias;
            this.instant = instant;
            this.maximum = maximum;
            onTick(new Seen(0, 0, 0, 0));
        }

        @Override
        void onTick(Seen seen) {
            held = bias + result;
            on = held > 0;
            sampled = false;
            within = on ? Math.min(instant, held) * period : instant * period;
        }

        @Override
        void onInstant(Seen seen) {
            if (on && sinceTick(seen) > (held - 1e-12) * period) {
                on = false;
            } else if (!sampled) {
                sample(seen.error());
            }
            within = on ? held * period : Double.POSITIVE_INFINITY;
            if (!sampled) {
                within = on ? Math.min(instant, held) * period : instant * period;
            }
        }

        private void sample(double error) {
            sampled = true;
            double sum = coefficients[0] * error + coefficients[1] * lastError - coefficients[2] * result;
            result = Math.max(0, Math.min(maximum, bias + sum)) - bias;
            lastError = error;
        }

        @Override
        public double margin(Seen seen) {
            return Double.POSITIVE_INFINITY;
        }

        @Override
        public void onCrossing(Seen seen) {
            throw new IllegalStateException("there is no comparator");
        }
    }

    /** Hysteresis of the voltage or the current. */
    final class Hysteresis implements TextbookControl {
        private final double halfBand;
        private final double sense;
        private boolean on = true;

        /** Sense 0: of the voltage. */
        Hysteresis(double band, double sense) {
            halfBand = band / 2;
            this.sense = sense;
        }

        @Override
        public boolean on() {
            return on;
        }

        @Override
        public double timed() {
            return Double.POSITIVE_INFINITY;
        }

        @Override
        public double margin(Seen seen) {
            double missing = sense == 0 ? seen.error() : seen.control() / sense - seen.current();
            return on ? missing + halfBand : halfBand - missing;
        }

        @Override
        public void onCrossing(Seen seen) {
            on = !on;
        }

        @Override
        public void onTime(Seen seen) {
            throw new IllegalStateException("there is no clock");
        }
    }

    /** Constant on-time with a minimum off-time. */
    final class OnTime implements TextbookControl {
        private final double onTime;
        private final double offTime;
        private boolean on = true;
        private double until;

        OnTime(double onTime, double offTime) {
            this.onTime = onTime;
            this.offTime = offTime;
            until = onTime;
        }

        @Override
        public boolean on() {
            return on;
        }

        @Override
        public double timed() {
            return until;
        }

        @Override
        public double margin(Seen seen) {
            return on || until < Double.POSITIVE_INFINITY ? Double.POSITIVE_INFINITY : -seen.error();
        }

        @Override
        public void onCrossing(Seen seen) {
            on = true;
            until = seen.time() + onTime;
        }

        @Override
        public void onTime(Seen seen) {
            until = on ? seen.time() + offTime : Double.POSITIVE_INFINITY;
            on = false;
        }
    }
}
