package org.voltsecond.converter;

import org.voltsecond.control.Regulator;

/** The orbit of a stage as polynomials, each over an interval in a variable that goes from 0 to 1: what {@link CurveFigures} reads. */
interface OrbitCurves {
    /** The highest degree of a polynomial. */
    int HIGHEST_DEGREE = 30;

    /** What the cell of the stage does in an interval. */
    enum Share {
        ON,
        OFF,
        IDLE
    }

    /** How many intervals there are. */
    int intervals();

    /** How many of them are the pulse, the first ones. */
    int pulse();

    /** How long an interval is, s. */
    double duration(int interval);

    Share share(int interval);

    /** Writes the coefficients of a signal over an interval by rising power; returns the degree. */
    int read(StageSignal signal, int interval, double[] into);

    /** The same of the current that a regulator senses. */
    int readSensed(int interval, double[] into);

    /** Output power over input power, from the means and mean squares of these curves; not a number where nothing is taken in. */
    double efficiency(CurveFigures figures);

    /**
     * What a regulator senses of an orbit.
     *
     * @param orbit the orbit
     * @param sign minus one of a stage whose output is negative
     * @param mean magnitude of the mean output voltage, V
     * @param inputVoltage V
     * @param divider sensed voltage over output voltage
     * @param reference V
     */
    record Sensed(OrbitCurves orbit, int sign, double mean, double inputVoltage, double divider, double reference)
            implements Regulator.SensedPeriod {
        @Override
        public int intervals() {
            return orbit.intervals();
        }

        @Override
        public int pulse() {
            return orbit.pulse();
        }

        @Override
        public double duration(int interval) {
            return orbit.duration(interval);
        }

        @Override
        public int output(int interval, double[] into) {
            int degree = orbit.read(StageSignal.OUTPUT_VOLTAGE, interval, into);
            for (int k = 0; k <= degree; k++) {
                into[k] *= sign;
            }
            return degree;
        }

        @Override
        public int current(int interval, double[] into) {
            return orbit.readSensed(interval, into);
        }
    }
}
