package org.voltsecond.plot.report;

import java.util.List;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.StageSampler;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.plot.MapPictures;
import org.voltsecond.plot.page.Page;
import org.voltsecond.stage.Load;
import org.voltsecond.study.Axis;
import org.voltsecond.study.BoundaryLoad;
import org.voltsecond.study.Execution;
import org.voltsecond.study.MapLine;
import org.voltsecond.study.OperatingMap;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/** The section of the report that tells the mode of conduction around the operating point of the design. */
final class ConductionSection {
    /** Loads and lines where a point takes microseconds, and where it takes a search of the engine. */
    private static final int[] FINE = {41, 21};

    private static final int[] COARSE = {9, 5};
    /** A regulator that lets its output move less than this with half the load holds it. */
    private static final double HELD = 1e-3;

    private static final int DIGITS = 4;

    private final Findings outcome;
    private final Converter converter;

    ConductionSection(Findings outcome) {
        this.outcome = outcome;
        converter = outcome.converter();
    }

    /** Without load there is nothing to vary, and without clock each point is a long search. */
    void addTo(Page page) {
        Load load = converter.load();
        boolean loaded = load.hasResistance()
                || (load.isConstantCurrent()
                        ? load.current() > 0
                        : outcome.steadyState().exists()
                                && load.currentAt(output(outcome.steadyState().get())) > 0);
        if (loaded && (!converter.isRegulated() || converter.regulator().isClocked())) {
            OperatingMap map = map();
            page.heading("Conduction over load and line")
                    .paragraph(how(map) + sentence(map))
                    .picture(
                            MapPictures.conduction(
                                    "Mode of conduction around the design", map, StudyFiles.place(outcome, map)),
                            "Mode of conduction over load and input voltage");
        }
    }

    private String how(OperatingMap map) {
        if (map.heldOutput().isPresent()) {
            return "The output is held at " + volt(map.heldOutput().getAsDouble()) + ", as the regulator does. ";
        }
        return converter.isRegulated() ? "" : "The duty cycle stays as it is. ";
    }

    private OperatingMap map() {
        boolean ripples = outcome.input().ripple().amplitude() > 0;
        if (converter.isRegulated()
                && !ripples
                && !converter.isSynchronous()
                && outcome.steadyState().exists()) {
            ConverterSteadyState steady = outcome.steadyState().get();
            double output = output(steady);
            if (holds(steady, output)) {
                // then a fixed duty cycle that gives this output conducts in the same way
                double duty = Math.min(0.99, Math.max(0.01, steady.dutyCycle()));
                Converter open = converter.withDrive(Drive.fixedDuty(duty, 1 / steady.period()));
                int[] points = points(open);
                return OperatingMap.holding(
                        open, output, loads(points[0]), lines(points[1]), List.of(), Execution.standard());
            }
        }
        int[] points = points(converter);
        return OperatingMap.of(converter, loads(points[0]), lines(points[1]), List.of(), Execution.standard());
    }

    private static int[] points(Converter converter) {
        return StageSampler.isQuickFor(converter) ? FINE : COARSE;
    }

    private static double output(ConverterSteadyState steady) {
        return Math.abs(steady.of(steady.converter().outputVoltage()).mean());
    }

    private boolean holds(ConverterSteadyState steady, double output) {
        Load load = converter.load();
        Load half = load.drawing(load.currentAt(output) / 2, output);
        try {
            double there = output(converter.withLoad(half).steadyStateNear(steady));
            return Math.abs(there - output) < HELD * output;
        } catch (NoSteadyStateException | SwitchingException e) {
            return false;
        }
    }

    private Axis lines(int count) {
        return Axis.inputVoltage(0.75 * converter.inputVoltage(), 1.25 * converter.inputVoltage(), count);
    }

    private Axis loads(int count) {
        Load load = converter.load();
        double current = load.isConstantCurrent() || !outcome.steadyState().exists()
                ? load.currentAt(0)
                : load.currentAt(output(outcome.steadyState().get()));
        return !load.hasResistance()
                ? Axis.loadCurrent(0.02 * current, 2 * current, count)
                : Axis.loadResistance(0.5 * load.resistance(), 50 * load.resistance(), count);
    }

    /** Such as "above 21.65 Ω, below 231.0 mA". */
    static String dry(BoundaryLoad boundary) {
        return "above " + Quantity.format(boundary.resistance(), Unit.OHM, DIGITS) + ", below "
                + Quantity.format(boundary.current(), Unit.AMPERE, DIGITS);
    }

    private String sentence(OperatingMap map) {
        double line = converter.inputVoltage();
        Result<BoundaryLoad> exact = outcome.boundary();
        if (exact != null && exact.exists()) {
            return "At " + volt(line) + " conduction is discontinuous " + dry(exact.get()) + ".";
        }
        for (MapLine boundary : map.boundary()) {
            for (MapLine.Spot spot : boundary.spots()) {
                if (Math.abs(spot.up() - line) < 1e-9 * line) {
                    return "At " + volt(line) + " conduction is discontinuous " + lighter(map, spot.across()) + ".";
                }
            }
        }
        return "At " + volt(line) + " conduction does not change within the loads shown.";
    }

    /** Such as "above 21.65 Ω, below 231.0 mA". */
    private static String lighter(OperatingMap map, double load) {
        boolean resistance = map.across().unit() == Unit.OHM;
        String given = (resistance ? "above " : "below ")
                + Quantity.format(load, map.across().unit(), DIGITS);
        if (map.heldOutput().isEmpty()) {
            return given;
        }
        double other = map.heldOutput().getAsDouble() / load;
        return given
                + (resistance ? ", below " : ", above ")
                + Quantity.format(other, resistance ? Unit.AMPERE : Unit.OHM, DIGITS);
    }

    private static String volt(double value) {
        return Quantity.format(value, Unit.VOLT, DIGITS);
    }
}
