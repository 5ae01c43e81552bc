package org.voltsecond.control;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.voltsecond.control.Regulation.Rule;
import org.voltsecond.control.Regulation.Succession;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.units.Unit;

/**
 * A control loop and a modulator put to a plant.
 *
 * @param plant switches and signals
 * @param loop from the output to the control voltage
 * @param modulator from the control voltage to pulses
 */
record RegulatedController(Plant plant, ControlLoop loop, Modulator modulator) implements Controller {
    /** The discrete part: that of the loop and that of the modulator. */
    private record Both(ControlLoop.State loop, Modulator.Pulse pulse) implements Mode {}

    @Override
    public double clockPeriod() {
        return modulator.clockPeriod();
    }

    @Override
    public Set<String> switches() {
        Set<String> names = new TreeSet<>(Set.of(plant.transistor()));
        String synchronous = plant.synchronousTransistor();
        if (synchronous != null) {
            names.add(synchronous);
        }
        return names;
    }

    @Override
    public List<OwnState> states() {
        return loop.states(clockPeriod());
    }

    @Override
    public List<Channel> channels() {
        return List.of(
                new Channel("control voltage", Unit.VOLT),
                new Channel("ramp", Unit.VOLT),
                new Channel("error voltage", Unit.VOLT));
    }

    @Override
    public Mode start() {
        return new Both(loop.start(), modulator.start());
    }

    @Override
    public Set<String> closedSwitches(Mode mode) {
        String synchronous = plant.synchronousTransistor();
        if (((Both) mode).pulse().on()) {
            return Set.of(plant.transistor());
        }
        return synchronous == null ? Set.of() : Set.of(synchronous);
    }

    @Override
    public Regulation in(Mode mode, Sensing sensing) {
        Both both = (Both) mode;
        ControlLoop.Present control = loop.in(both.loop(), sensing, sensing.of(plant.outputVoltage()));
        Modulator.Present pulses = modulator.in(both.pulse(), sensing, control.control(), plant);
        List<Rule> rules = new ArrayList<>();
        for (ControlLoop.LoopRule rule : control.rules()) {
            rules.add(new Rule(rule.name(), rule.form(), Succession.to(new Both(rule.then(), both.pulse()))));
        }
        for (Modulator.PulseRule rule : pulses.rules()) {
            rules.add(new Rule(rule.name(), rule.form(), Succession.to(new Both(both.loop(), rule.then()))));
        }
        List<AffineForm> channels = List.of(control.control(), pulses.ramp(), control.error());
        return new Regulation(
                control.rates(),
                rules,
                pulses.endSinceTick(),
                pulses.maximumDuration(),
                Succession.to(new Both(both.loop(), pulses.atEnd())),
                channels);
    }

    @Override
    public Controller running() {
        return new RegulatedController(plant, loop.withoutSoftStart(), modulator);
    }
}
