package org.voltsecond.control;

/**
 * The values of a current-mode modulator.
 *
 * @param clockPeriod s
 * @param sense control voltage over current command, V/A
 * @param slope of the compensation, referred to the inductor current, zero at the clock, A/s
 * @param blanking time from the clock in which the comparator is not listened to, s
 * @param maximumDutyCycle longest pulse in periods
 */
record CurrentTiming(double clockPeriod, double sense, double slope, double blanking, double maximumDutyCycle) {
    static CurrentTiming of(double switchingFrequency, double sense) {
        return new CurrentTiming(1 / switchingFrequency, sense, 0, 0, 1);
    }

    CurrentTiming withSlope(double newSlope) {
        return new CurrentTiming(clockPeriod, sense, newSlope, blanking, maximumDutyCycle);
    }

    CurrentTiming withBlanking(double newBlanking) {
        return new CurrentTiming(clockPeriod, sense, slope, newBlanking, maximumDutyCycle);
    }

    CurrentTiming withMaximumDutyCycle(double newMaximum) {
        return new CurrentTiming(clockPeriod, sense, slope, blanking, newMaximum);
    }

    double longestPulse() {
        return maximumDutyCycle * clockPeriod;
    }

    /** What is wrong, but for the blanking time, which each modulator measures by something else. */
    Checks checks() {
        return new Checks()
                .frequency("switching frequency", clockPeriod)
                .positive("sense factor", sense, "V/A")
                .notNegative("slope compensation", slope, "A/s")
                .dutyCycle(maximumDutyCycle);
    }
}
