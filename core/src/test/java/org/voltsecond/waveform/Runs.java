package org.voltsecond.waveform;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.AffineMap;
import org.voltsecond.engine.Cause;
import org.voltsecond.engine.ClockTime;
import org.voltsecond.engine.Configuration;
import org.voltsecond.engine.Entry;
import org.voltsecond.engine.Phase;
import org.voltsecond.engine.Simulation;
import org.voltsecond.engine.SwitchingLaw;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.units.Unit;

/** Small systems whose waveforms are known in closed form. */
final class Runs {
    /** Channel 0 of every system here: its first state. */
    static final Signal STATE = Signal.channel("state", Unit.VOLT, 0);

    /** Channel 1 of the systems with two channels. */
    static final Signal SECOND = Signal.channel("second", Unit.AMPERE, 1);

    private Runs() {}

    /** {@code x = start exp(-t / tau)} in intervals of one clock period. */
    static Trajectory decay(double start, double tau, double clockPeriod, double duration) {
        Configuration decay = Configuration.builder("decay", new double[] {1}, clockPeriod)
                .dynamics(new double[][] {{-1 / tau}}, new double[1])
                .channels(List.of(AffineForm.of(new double[] {1}, 0)))
                .build();
        return run(
                new double[] {1},
                clockPeriod,
                duration,
                new double[] {start},
                null,
                List.of(new Phase(decay, clockPeriod, Double.POSITIVE_INFINITY)));
    }

    /** Channel 0 is {@code cos(omega t)}, channel 1 {@code -sin(omega t)}. */
    static Trajectory oscillation(double omega, double clockPeriod, double duration) {
        Configuration swing = Configuration.builder("swing", new double[] {1, 1}, clockPeriod)
                .dynamics(new double[][] {{0, omega}, {-omega, 0}}, new double[2])
                .channels(List.of(AffineForm.of(new double[] {1, 0}, 0), AffineForm.of(new double[] {0, 1}, 0)))
                .build();
        return run(
                new double[] {1, 1},
                clockPeriod,
                duration,
                new double[] {1, 0},
                null,
                List.of(new Phase(swing, clockPeriod, Double.POSITIVE_INFINITY)));
    }

    /** Channel 0 rises from 0 to 1 in every clock period and jumps back. */
    static Trajectory sawtooth(double clockPeriod, double duration) {
        Configuration ramp = Configuration.builder("ramp", new double[] {1}, clockPeriod)
                .dynamics(new double[1][1], new double[] {1 / clockPeriod})
                .channels(List.of(AffineForm.of(new double[] {1}, 0)))
                .build();
        AffineMap reset = AffineMap.of(new double[1][1], new double[1]);
        return run(
                new double[] {1},
                clockPeriod,
                duration,
                new double[1],
                reset,
                List.of(new Phase(ramp, clockPeriod, Double.POSITIVE_INFINITY)));
    }

    /**
     * A lossless chopper at 50 % with an inductor current (channel 1) and a switch node (channel 0) of {@code high} while
     * on and {@code low} while off: the current changes linearly, the node is a square wave.
     */
    static Trajectory chopper(double high, double low, double inductance, double clockPeriod, double duration) {
        return run(
                new double[] {1},
                clockPeriod,
                duration,
                new double[1],
                null,
                List.of(
                        chopperPhase("on", high, inductance, clockPeriod, 0.5 * clockPeriod),
                        chopperPhase("off", low, inductance, clockPeriod, clockPeriod)));
    }

    private static Phase chopperPhase(String name, double node, double inductance, double clockPeriod, double end) {
        Configuration configuration = Configuration.builder(name, new double[] {1}, clockPeriod)
                .dynamics(new double[1][1], new double[] {node / inductance})
                .channels(List.of(AffineForm.constant(1, node), AffineForm.of(new double[] {1}, 0)))
                .build();
        return new Phase(configuration, end, Double.POSITIVE_INFINITY);
    }

    /** A second-order filter driven by a square wave: channel 0 the capacitor voltage, channel 1 the inductor current. */
    static Trajectory filter(double high, double duty, double clockPeriod, double duration) {
        return run(
                new double[] {7e-3, 5e-3},
                clockPeriod,
                duration,
                new double[2],
                null,
                List.of(
                        filterPhase("on", high, clockPeriod, duty * clockPeriod),
                        filterPhase("off", 0, clockPeriod, clockPeriod)));
    }

    private static Phase filterPhase(String name, double node, double clockPeriod, double end) {
        double inductance = 22e-6;
        double capacitance = 47e-6;
        double load = 2.5;
        Configuration configuration = Configuration.builder(name, new double[] {7e-3, 5e-3}, clockPeriod)
                .dynamics(
                        new double[][] {
                            {-1 / (load * capacitance), 1 / capacitance}, {-1 / inductance, -0.1 / inductance}
                        },
                        new double[] {0, node / inductance})
                .channels(List.of(AffineForm.of(new double[] {1, 0}, 0), AffineForm.of(new double[] {0, 1}, 0)))
                .build();
        return new Phase(configuration, end, Double.POSITIVE_INFINITY);
    }

    private static Trajectory run(
            double[] scale,
            double clockPeriod,
            double duration,
            double[] start,
            @Nullable AffineMap reset,
            List<Phase> ring) {
        return Simulation.of(new Ring(scale, clockPeriod, reset, ring)).record(start, duration);
    }

    /** Phases that follow each other in a ring; the state may jump on entering the first one again. */
    private static final class Ring implements SwitchingLaw {
        private final double[] scale;
        private final double clockPeriod;
        private final @Nullable AffineMap reset;
        private final List<Phase> phases;

        Ring(double[] scale, double clockPeriod, @Nullable AffineMap reset, List<Phase> phases) {
            this.scale = scale;
            this.clockPeriod = clockPeriod;
            this.reset = reset;
            this.phases = phases;
        }

        @Override
        public double[] scale() {
            return scale;
        }

        @Override
        public double clockPeriod() {
            return clockPeriod;
        }

        @Override
        public List<ClockTime> changes() {
            return List.of();
        }

        @Override
        public Entry first(double[] state) {
            return Entry.of(phases.get(0));
        }

        @Override
        public Entry next(Phase ended, Cause cause, double[] state, double sinceTick) {
            int following = (phases.indexOf(ended) + 1) % phases.size();
            return new Entry(phases.get(following), following == 0 ? reset : null);
        }
    }
}
