package org.voltsecond.control;

import org.voltsecond.control.Stages.Values;

/**
 * The equations of the three stages as the textbooks have them (R. W. Erickson, D. Maksimovic, Fundamentals of Power
 * Electronics, 3rd ed., ch. 2 and 3), written down apart from the library. State: inductor current, capacitor voltage.
 */
record TextbookStage(Kind kind, Values values) {
    enum Kind {
        BUCK,
        BOOST,
        INVERTING
    }

    /** What carries the inductor current. */
    enum Path {
        TRANSISTOR,
        RECTIFIER,
        NOTHING
    }

    boolean feedsOutput(Path path) {
        return path == Path.RECTIFIER || (path == Path.TRANSISTOR && kind == Kind.BUCK);
    }

    double outputVoltage(Path path, double current, double voltage) {
        double into = feedsOutput(path) ? current : 0;
        return values.load()
                * (voltage + values.capacitorResistance() * into)
                / (values.load() + values.capacitorResistance());
    }

    double currentRate(Path path, double current, double voltage) {
        if (path == Path.NOTHING) {
            return 0;
        }
        boolean on = path == Path.TRANSISTOR;
        double driving = kind == Kind.BOOST || on ? values.input() : 0;
        double drop =
                on ? values.onResistance() * current : values.forwardDrop() + values.rectifierResistance() * current;
        double back = feedsOutput(path) ? outputVoltage(path, current, voltage) : 0;
        return (driving - drop - values.windingResistance() * current - back) / values.inductance();
    }

    double voltageRate(Path path, double current, double voltage) {
        double into = feedsOutput(path) ? current : 0;
        return (into - outputVoltage(path, current, voltage) / values.load()) / values.capacitance();
    }
}
