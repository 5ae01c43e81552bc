package org.voltsecond.plot.report;

import java.util.List;
import java.util.OptionalDouble;
import org.voltsecond.bench.Capture;
import org.voltsecond.bench.PeriodFigures;
import org.voltsecond.bench.RunFigures;
import org.voltsecond.bench.SteadyStateComparison;
import org.voltsecond.bench.TransientComparison;
import org.voltsecond.plot.Pictures;
import org.voltsecond.plot.StackBuilder;
import org.voltsecond.units.Unit;

/** A capture beside what was simulated. */
sealed interface BenchOutcome {
    /**
     * One figure of both sides.
     *
     * @param key its name in the figures
     * @param unit its unit
     * @param measured of the capture; empty where there is none
     * @param simulated of the simulation; empty where there is none
     * @param reason why one may be missing
     */
    record Row(String key, Unit unit, OptionalDouble measured, OptionalDouble simulated, String reason) {
        OptionalDouble difference() {
            return measured.isPresent() && simulated.isPresent()
                    ? OptionalDouble.of(measured.getAsDouble() - simulated.getAsDouble())
                    : OptionalDouble.empty();
        }

        private static Row of(String key, Unit unit, double measured, double simulated) {
            return new Row(key, unit, OptionalDouble.of(measured), OptionalDouble.of(simulated), "");
        }
    }

    /** {@return what was measured} */
    Capture capture();

    /** {@return what decided how both are aligned, in a word} */
    String alignedBy();

    /** {@return the differences in words} */
    String differences();

    /** {@return the figures of both sides} */
    List<Row> rows();

    /** {@return both over each other} */
    StackBuilder picture();

    /**
     * Beside the steady state.
     *
     * @param comparison the comparison
     */
    record AtRest(SteadyStateComparison comparison) implements BenchOutcome {
        private static final int PERIODS_SHOWN = 3;

        @Override
        public Capture capture() {
            return comparison.capture();
        }

        @Override
        public String alignedBy() {
            return comparison.alignment();
        }

        @Override
        public String differences() {
            return comparison.differences();
        }

        @Override
        public StackBuilder picture() {
            return Pictures.overlay(comparison, PERIODS_SHOWN);
        }

        @Override
        public List<Row> rows() {
            PeriodFigures measured = comparison.measured();
            PeriodFigures simulated = comparison.simulated();
            Unit unit = comparison.capture().unit();
            return List.of(
                    Row.of("mean", unit, measured.mean(), simulated.mean()),
                    Row.of("ripple", unit, measured.ripple(), simulated.ripple()),
                    new Row(
                            "frequency",
                            Unit.HERTZ,
                            measured.frequency(),
                            simulated.frequency(),
                            "without edges it takes 8 periods and a fundamental that stands out of the noise"),
                    new Row(
                            "duty_factor",
                            Unit.ONE,
                            measured.dutyFactor(),
                            simulated.dutyFactor(),
                            "the signal has no edges, or none at regular distances"));
        }
    }

    /**
     * Beside the transient.
     *
     * @param comparison the comparison
     */
    record OverRun(TransientComparison comparison) implements BenchOutcome {
        private static final String NO_EDGES = "the signal has no edges, or none at regular distances";

        @Override
        public Capture capture() {
            return comparison.capture();
        }

        @Override
        public String alignedBy() {
            return comparison.alignment();
        }

        @Override
        public String differences() {
            return comparison.differences();
        }

        @Override
        public StackBuilder picture() {
            return Pictures.overlay(comparison);
        }

        @Override
        public List<Row> rows() {
            RunFigures measured = comparison.measured();
            RunFigures simulated = comparison.simulated();
            Unit unit = comparison.capture().unit();
            return List.of(
                    Row.of("mean", unit, measured.mean(), simulated.mean()),
                    Row.of("ripple", unit, measured.ripple(), simulated.ripple()),
                    Row.of("lowest", unit, measured.lowest(), simulated.lowest()),
                    Row.of("highest", unit, measured.highest(), simulated.highest()),
                    new Row("frequency", Unit.HERTZ, measured.frequency(), simulated.frequency(), NO_EDGES),
                    new Row("duty_factor", Unit.ONE, measured.dutyFactor(), simulated.dutyFactor(), NO_EDGES));
        }
    }
}
