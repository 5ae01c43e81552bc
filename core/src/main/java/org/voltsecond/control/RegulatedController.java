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
        List<OwnState> states = new ArrayList<>(loop.states(clockPeriod()));
        states.addAll(modulator.states());
        return states;
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
        int ofLoop = control.rates().size();
        Modulator.Present pulses = modulator.in(both.pulse(), sensing.from(ofLoop), control.control(), plant);
        List<Rule> rules = new ArrayList<>();
        for (ControlLoop.LoopRule rule : control.rules()) {
            rules.add(new Rule(rule.name(), rule.form(), Succession.to(new Both(rule.then(), both.pulse()))));
        }
        for (Modulator.PulseRule rule : pulses.rules()) {
            rules.add(new Rule(rule.name(), rule.form(), succession(both.loop(), rule.then(), sensing, ofLoop)));
        }
        List<AffineForm> rates = new ArrayList<>(control.rates());
        rates.addAll(pulses.rates());
        return new Regulation(
                rates,
                rules,
                pulses.endSinceTick(),
                Double.POSITIVE_INFINITY,
                succession(both.loop(), pulses.atEnd(), sensing, ofLoop),
                List.of(control.control(), pulses.ramp(), control.error()));
    }

    /** The modulator steps, the loop stays. */
    private static Succession succession(
            ControlLoop.State loop, Modulator.Next next, Sensing sensing, int statesOfLoop) {
        Regulation.ByState choice = next.byState();
        List<AffineForm> after = next.ownStatesAfter();
        return new Succession(
                new Both(loop, next.pulse()),
                after == null ? null : behindLoop(after, sensing, statesOfLoop),
                choice == null ? null : state -> behindLoop(choice.ownStatesAfter(state), sensing, statesOfLoop));
    }

    private static List<AffineForm> behindLoop(List<AffineForm> ofModulator, Sensing sensing, int statesOfLoop) {
        List<AffineForm> all = new ArrayList<>();
        for (int i = 0; i < statesOfLoop; i++) {
            all.add(sensing.own(i));
        }
        all.addAll(ofModulator);
        return all;
    }

    @Override
    public Controller running() {
        return new RegulatedController(plant, loop.withoutSoftStart(), modulator);
    }
}
