package org.voltsecond.converter;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.voltsecond.circuit.Part;
import org.voltsecond.control.Regulator;

/**
 * The inductor current that a regulated stage needs at full load: what a current command without limits of its own is measured
 * by. Full load is the largest of the loads of a run, each at the output that is aimed at and with the input of its time; a short
 * circuit is none. The stage is taken as ideal and in continuous conduction (R. W. Erickson, D. Maksimovic, Fundamentals of
 * Power Electronics, 3rd ed., Springer 2020, ch. 2); twice that leaves room for losses, start-up and steps.
 */
final class FullLoad {
    private FullLoad() {}

    /** The crest of the inductor current, A; infinite where no output is aimed at, or the stage has no ideal ratios. */
    static double inductorCurrent(List<Blueprint> stages, List<Change> changes) {
        double most = 0;
        boolean shorted = false;
        for (int k = 0; k < stages.size(); k++) {
            if (k > 0 && changes.get(k - 1).changesLoad()) {
                shorted = changes.get(k - 1).isShort();
            }
            if (!shorted) {
                most = Math.max(most, crest(stages.get(k)));
            }
        }
        return most;
    }

    private static double crest(Blueprint stage) {
        Regulator regulator = stage.requiredRegulator();
        OptionalDouble target = regulator.target();
        Optional<Part> part = stage.roles().inductor().map(stage.power()::part);
        if (target.isEmpty() || part.isEmpty() || !(part.get() instanceof Part.Inductor inductor)) {
            return Double.POSITIVE_INFINITY;
        }
        double output = target.getAsDouble();
        double input = stage.inputVoltage();
        Topology topology = stage.topology();
        double duty = Math.max(0, Math.min(1, topology.dutyCycle(input, output, 0, 0)));
        Load load = stage.load();
        double current = load.isConstantCurrent() ? load.current() : output / load.resistance();
        double across = Math.max(0, topology.onVoltage(input, output));
        double ripple = across * duty * regulator.clockPeriod() / inductor.inductance();
        double crest = current / topology.outputShare(duty) + ripple / 2;
        return crest < Double.POSITIVE_INFINITY ? crest : Double.POSITIVE_INFINITY;
    }
}
