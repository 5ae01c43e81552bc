package org.voltsecond.stage;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;

/**
 * How many times inductor and switches of a stage stand side by side, each driven a share of the period after the one before.
 *
 * <pre>{@code
 * Phases four = new Phases(4); // a quarter of a period apart
 * }</pre>
 *
 * @param count from 1 to 64
 */
public record Phases(double count) implements StagePart {
    private static final int MOST = 64; // as many devices as a circuit may have

    /** How many phases a stage of such parts has. */
    static int of(StageParts parts) {
        return parts.get(Phases.class).map(phases -> (int) phases.count()).orElse(1);
    }

    @Override
    public List<String> faults() {
        boolean whole = count >= 1 && count <= MOST && count == Math.rint(count);
        return whole ? List.of() : List.of("phases: must be a whole number from 1 to " + MOST + " but was " + count);
    }

    /**
     * A stage whose inductor and switches stand side by side several times, the pulses spread evenly over the period: each phase is the
     * stage alone with its share of the load.
     *
     * <p>Sources: ripple of the currents of N phases together, N / (D (1 - D)) (D - m / N) ((m + 1) / N - D) of that of one, with m the
     * whole part of N D: common knowledge of the trade, the same as the product in the user's guide SLUU195, June 2004, eq. 6. The
     * charge by which the output capacitor swings where phases feed it in turn: of (1 - D) N phases at a time the whole part does so
     * throughout and one more for the rest of the N-th of a period.
     */
    static final class Interleaved implements Topology {
        private final Topology one;
        private final int phases;
        private final boolean feedsThroughout;

        private Interleaved(Topology one, int phases, boolean feedsThroughout) {
            this.one = one;
            this.phases = phases;
            this.feedsThroughout = feedsThroughout;
        }

        /**
         * Returns the stage with the phases of its parts.
         *
         * @param one the stage
         * @param parts its values
         * @param feedsThroughout whether each inductor feeds the output in on and off interval
         * @return the same stage where there is one phase
         */
        static Topology of(Topology one, StageParts parts, boolean feedsThroughout) {
            int phases = Phases.of(parts);
            return phases == 1 ? one : new Interleaved(one, phases, feedsThroughout);
        }

        @Override
        public String toString() {
            return one.toString();
        }

        @Override
        public String key() {
            return one.key();
        }

        @Override
        public void wire(StageWiring wiring) {
            one.wire(wiring);
        }

        @Override
        public Set<Class<? extends StagePart>> options() {
            return one.options();
        }

        @Override
        public boolean isInverting() {
            return one.isInverting();
        }

        @Override
        public double continuousRatio(double dutyCycle) {
            return one.continuousRatio(dutyCycle);
        }

        @Override
        public double discontinuousRatio(double dutyCycle, double k) {
            return one.discontinuousRatio(dutyCycle, k / phases);
        }

        @Override
        public double criticalK(double dutyCycle) {
            return phases * one.criticalK(dutyCycle);
        }

        @Override
        public double dutyCycle(double input, double output, double transistorDrop, double rectifierDrop) {
            return one.dutyCycle(input, output, transistorDrop, rectifierDrop);
        }

        @Override
        public double discontinuousDutyCycleSquared(
                double input, double output, double rectifierDrop, double twiceFlux) {
            return one.discontinuousDutyCycleSquared(input, output, rectifierDrop, twiceFlux / phases);
        }

        @Override
        public Optional<String> obstacle(double lowestInput, double highestInput, double output) {
            return one.obstacle(lowestInput, highestInput, output);
        }

        @Override
        public double outputShare(double dutyCycle) {
            return phases * one.outputShare(dutyCycle);
        }

        @Override
        public double onVoltage(double input, double output) {
            return one.onVoltage(input, output);
        }

        @Override
        public boolean feedsThrough() {
            return one.feedsThrough();
        }

        @Override
        public OptionalDouble inputOfMostRipple(double output, double transistorDrop, double rectifierDrop) {
            return one.inputOfMostRipple(output, transistorDrop, rectifierDrop);
        }

        @Override
        public double blockedVoltage(double input, double output) {
            return one.blockedVoltage(input, output);
        }

        /** Ripple of the currents of all phases together over that of one. */
        private double ofAll(double dutyCycle) {
            double whole = Math.floor(phases * dutyCycle);
            double above = dutyCycle - whole / phases;
            double below = (whole + 1) / phases - dutyCycle;
            return phases * above * below / (dutyCycle * (1 - dutyCycle));
        }

        @Override
        public double capacitorSwing(double loadCurrent, double dutyCycle, double inductorRipple) {
            if (feedsThroughout) {
                return ofAll(dutyCycle) * inductorRipple / (8 * phases);
            }
            double feeding = phases * (1 - dutyCycle);
            double whole = Math.floor(feeding);
            return loadCurrent / phases * (1 - (feeding - whole)) * (1 - whole / feeding);
        }

        @Override
        public double capacitorStep(double loadCurrent, double dutyCycle, double inductorRipple) {
            return feedsThroughout
                    ? ofAll(dutyCycle) * inductorRipple
                    : one.capacitorStep(loadCurrent / phases, dutyCycle, inductorRipple);
        }

        @Override
        public double rightHalfPlaneZero(double dutyCycle, double loadResistance, double inductance) {
            return one.rightHalfPlaneZero(dutyCycle, loadResistance, inductance / phases);
        }
    }
}
