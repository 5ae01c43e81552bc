package org.voltsecond.control;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import org.jspecify.annotations.Nullable;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Network;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Profile;
import org.voltsecond.control.ClockedController.CommonPeriod;
import org.voltsecond.control.DrivenLaw.Epoch;
import org.voltsecond.engine.ClockTime;
import org.voltsecond.numeric.RoundOff;

/**
 * Collects drives and scheduled changes of a driven circuit; {@link #build()} checks them all. Used by one thread.
 *
 * <pre>{@code
 * DrivenCircuitBuilder builder = DrivenCircuit.builder(rail.circuit()).gate("Q1", Drive.fixedDuty(0.45, kilo(300)));
 * DrivenCircuit stepped = builder.change(micro(500), "Q1", Drive.fixedDuty(0.5, kilo(300))).build();
 * }</pre>
 */
public final class DrivenCircuitBuilder {
    final Circuit circuit;
    final Map<String, Drive> gates = new LinkedHashMap<>();
    final List<ScheduledChange> changes = new ArrayList<>();

    @Nullable
    Controller controller;

    double clockPeriod = Double.NaN;

    DrivenCircuitBuilder(Circuit circuit) {
        this.circuit = circuit;
    }

    /**
     * Drives a switch.
     *
     * @param switchName reference designator of a switch
     * @param drive when it is on; drives of different frequencies share a period after which all repeats, which is then the
     *     clock period
     * @return this builder
     */
    public DrivenCircuitBuilder gate(String switchName, Drive drive) {
        gates.put(switchName, drive);
        return this;
    }

    /**
     * Lets a controller drive all switches, or, if it is made by a {@link Regulator} with a clock, those that have no drive of
     * their own.
     *
     * @param by the controller
     * @return this builder
     */
    public DrivenCircuitBuilder controlledBy(Controller by) {
        controller = by;
        return this;
    }

    /**
     * Schedules a change of the controller's values, such as a step of its reference.
     *
     * @param time when, s since the start; 0 or more
     * @param to a controller of the same kind with the same clock period
     * @return this builder
     */
    public DrivenCircuitBuilder change(double time, Controller to) {
        changes.add(new ScheduledChange.OfController(time, to));
        return this;
    }

    /**
     * Sets the clock period of a circuit without switches; where there are drives, they set it.
     *
     * @param seconds the period, s; more than 0
     * @return this builder
     */
    public DrivenCircuitBuilder clockPeriod(double seconds) {
        clockPeriod = seconds;
        return this;
    }

    /**
     * Schedules a change of values: from then on the circuit is another one of the same structure, such as one with
     * another load resistance or input voltage.
     *
     * @param time when, s since the start; 0 or more
     * @param to the circuit from then on
     * @return this builder
     */
    public DrivenCircuitBuilder change(double time, Circuit to) {
        changes.add(new ScheduledChange.OfCircuit(time, to));
        return this;
    }

    /**
     * Schedules another drive for one switch. It takes effect at once, in the middle of a period as well: from then on
     * the switch is as the new drive has it at that time of the period.
     *
     * @param time when, s since the start; 0 or more
     * @param switchName reference designator of a switch
     * @param to the drive from then on
     * @return this builder
     */
    public DrivenCircuitBuilder change(double time, String switchName, Drive to) {
        changes.add(new ScheduledChange.OfDrive(time, switchName, to));
        return this;
    }

    /**
     * Checks everything and builds the driven circuit.
     *
     * @return the driven circuit
     * @throws IllegalArgumentException listing everything that is wrong, one line for each fault
     */
    public DrivenCircuit build() {
        return new Assembly(this).assemble();
    }

    /** Something that changes at a time that is known in advance. */
    sealed interface ScheduledChange {
        /** When, s since the start. */
        double time();

        /** The circuit becomes another of the same structure. */
        record OfCircuit(double time, Circuit circuit) implements ScheduledChange {}

        /** A switch is driven otherwise. */
        record OfDrive(double time, String switchName, Drive drive) implements ScheduledChange {}

        /** The controller becomes another of the same kind. */
        record OfController(double time, Controller controller) implements ScheduledChange {}
    }

    /** Checks what was collected and lays out the epochs, from one scheduled change to the next. */
    private static final class Assembly {
        private static final double MOST_PERIODS = 1e15;
        private final DrivenCircuitBuilder builder;
        private final List<String> faults = new ArrayList<>();
        private final List<String> sourceStates;
        private final Map<NetworkKey, Network> networks = new HashMap<>();

        /** Circuits with the same values of their sources share a network. */
        private record NetworkKey(Circuit circuit, List<Double> values) {}

        Assembly(DrivenCircuitBuilder builder) {
            this.builder = builder;
            Set<String> ramping = new LinkedHashSet<>(Network.sourceStates(builder.circuit));
            for (ScheduledChange change : builder.changes) {
                if (change instanceof ScheduledChange.OfCircuit circuitChange) {
                    ramping.addAll(Network.sourceStates(circuitChange.circuit()));
                }
            }
            sourceStates = List.copyOf(ramping);
        }

        DrivenCircuit assemble() {
            double period = checkedPeriod();
            checkGates();
            for (ScheduledChange change : builder.changes) {
                checkChange(change, period);
            }
            if (!faults.isEmpty()) {
                throw new IllegalArgumentException("the circuit cannot be driven:\n" + String.join("\n", faults));
            }
            return new DrivenCircuit(builder, period, sourceStates, epochs(period));
        }

        private double checkedPeriod() {
            Controller own = builder.controller;
            List<Double> periods = new ArrayList<>();
            for (Drive drive : builder.gates.values()) {
                if (drive.faults().isEmpty()) {
                    periods.add(drive.period());
                }
            }
            if (own != null) {
                if (periods.isEmpty()) {
                    return own.clockPeriod();
                }
                if (!(own instanceof RegulatedController regulated && own.isClocked())) {
                    faults.add("a controller without a clock drives all switches, but drives were given for "
                            + builder.gates.keySet());
                    return own.clockPeriod();
                }
                periods.add(regulated.modulator().clockPeriod());
            }
            if (periods.isEmpty()) {
                double period = builder.clockPeriod;
                if (!(period > 0 && period < Double.POSITIVE_INFINITY) && builder.gates.isEmpty()) {
                    faults.add("without a driven switch the clock period must be set, > 0 s and finite, but was "
                            + period + " s");
                }
                return period;
            }
            double common = CommonPeriod.of(periods);
            if (Double.isNaN(common)) {
                faults.add(CommonPeriod.fault(periods));
            }
            return common;
        }

        /** What drives the switches: the controller and the drives beside it. */
        private static Controller together(@Nullable Controller by, double period, Map<String, Drive> gates) {
            if (by != null && gates.isEmpty()) {
                return by;
            }
            ClockedController clocked = new ClockedController(period, gates);
            return by instanceof RegulatedController regulated
                    ? regulated.beside(
                            CommonPeriod.count(period, regulated.modulator().clockPeriod()), clocked)
                    : clocked;
        }

        private void checkGates() {
            List<String> switches = switchNames();
            builder.gates.forEach((name, drive) -> checkDrive(name, drive, switches));
            Controller own = builder.controller;
            Set<String> byController = own == null ? Set.of() : own.switches();
            for (String name : byController) {
                if (!switches.contains(name)) {
                    faults.add(
                            name + ": there is no such switch for the controller to drive; switches are " + switches);
                }
                if (builder.gates.containsKey(name) && !isBeside(own, name)) {
                    faults.add(name + ": the controller drives this switch, and it has a drive of its own as well");
                }
            }
            Set<String> driven = new LinkedHashSet<>(byController);
            driven.addAll(builder.gates.keySet());
            for (String name : switches) {
                if (!driven.contains(name)) {
                    faults.add(name
                            + ": this switch has no drive; give it one (a duty cycle of 0 keeps it open, of 1 closed)");
                }
            }
        }

        private List<String> switchNames() {
            List<String> names = new ArrayList<>();
            for (Part part : builder.circuit.parts()) {
                if (part instanceof Part.Switch) {
                    names.add(part.name());
                }
            }
            return names;
        }

        private void checkDrive(String name, Drive drive, List<String> switches) {
            if (!switches.contains(name)) {
                faults.add(name + ": there is no such switch to drive; switches are " + switches);
            }
            drive.faults().forEach(fault -> faults.add(name + ": " + fault));
        }

        /** Whether a controller knows of the drive already, since it was put beside it before. */
        private static boolean isBeside(@Nullable Controller own, String name) {
            return own instanceof RegulatedController regulated
                    && !regulated.plant().pattern().switches().contains(name);
        }

        private void checkChange(ScheduledChange change, double period) {
            String when = "change at " + change.time() + " s: ";
            if (!(change.time() >= 0 && change.time() < Double.POSITIVE_INFINITY)) {
                faults.add(when + "its time must be >= 0 s and finite");
            } else if (change.time() / period >= MOST_PERIODS) {
                faults.add(when + "its time must be below " + MOST_PERIODS + " periods");
            }
            if (change instanceof ScheduledChange.OfCircuit to && !to.circuit().hasStructureOf(builder.circuit)) {
                faults.add(when + "the circuit must have the same parts between the same nodes; change values only");
            }
            if (change instanceof ScheduledChange.OfController to) {
                Controller own = builder.controller;
                if (own == null
                        || !own.states().equals(to.controller().states())
                        || own.clockPeriod() != to.controller().clockPeriod()) {
                    faults.add(when + "the controller must be of the kind and clock period of the one before it; "
                            + "change its values only");
                }
            }
            if (change instanceof ScheduledChange.OfDrive to) {
                int before = faults.size();
                checkDrive(to.switchName(), to.drive(), switchNames());
                if (to.drive().faults().isEmpty()
                        && !CommonPeriod.isWhole(period / to.drive().period())) {
                    faults.add(to.switchName()
                            + ": its switching frequency must be a whole number of times that of the " + "circuit, "
                            + 1 / period + " Hz, but was " + to.drive().switchingFrequency() + " Hz");
                }
                for (int i = before; i < faults.size(); i++) {
                    faults.set(i, when + faults.get(i));
                }
            }
        }

        /** What holds from a change on: the circuit and the drives as they have become. */
        private List<Epoch> epochs(double period) {
            List<ScheduledChange> sorted = new ArrayList<>(builder.changes);
            sorted.sort(Comparator.comparingDouble(ScheduledChange::time));
            Circuit circuit = builder.circuit;
            Map<String, Drive> gates = new LinkedHashMap<>(builder.gates);
            Controller controller = builder.controller;
            TreeMap<ClockTime, Epoch> epochs = new TreeMap<>();
            double from = 0;
            for (int i = 0; i <= sorted.size(); i++) {
                double until = i < sorted.size() ? sorted.get(i).time() : Double.POSITIVE_INFINITY;
                if (until > from) {
                    Controller present = together(controller, period, gates);
                    addEpochs(epochs, circuit, present, from, until, period);
                }
                if (i < sorted.size()) {
                    from = until;
                    if (sorted.get(i) instanceof ScheduledChange.OfCircuit to) {
                        circuit = to.circuit();
                    } else if (sorted.get(i) instanceof ScheduledChange.OfDrive to) {
                        gates.put(to.switchName(), to.drive());
                    } else if (sorted.get(i) instanceof ScheduledChange.OfController to) {
                        controller = to.controller();
                    }
                }
            }
            return List.copyOf(epochs.values());
        }

        /** One epoch from a change on, and one from every step or kink of a source until the next change. */
        private void addEpochs(
                Map<ClockTime, Epoch> epochs,
                Circuit circuit,
                Controller controller,
                double from,
                double until,
                double period) {
            TreeSet<Double> times = new TreeSet<>(List.of(from));
            for (Profile profile : profiles(circuit)) {
                for (double time : profile.changes()) {
                    if (time > from && time < until) {
                        times.add(time);
                    }
                }
            }
            for (double time : times) {
                ClockTime start = ClockTime.from(time, period);
                Network network = network(circuit, time, RoundOff.OF_AN_INSTANT * period);
                epochs.put(start, new Epoch(start, circuit, network, controller));
            }
        }

        private Network network(Circuit circuit, double time, double timeResolution) {
            if (time == 0 && builder.changes.isEmpty()) {
                return Network.of(circuit, sourceStates, time, timeResolution);
            }
            List<Double> values = new ArrayList<>();
            for (Profile profile : profiles(circuit)) {
                values.add(profile.valueAt(time));
                values.add(profile.slopeAt(time));
                values.add(profile.oscillates() ? time : 0);
            }
            return networks.computeIfAbsent(
                    new NetworkKey(circuit, values), key -> Network.of(circuit, sourceStates, time, timeResolution));
        }

        private static List<Profile> profiles(Circuit circuit) {
            List<Profile> profiles = new ArrayList<>();
            for (Part part : circuit.parts()) {
                if (part instanceof Part.VoltageSource source) {
                    profiles.add(source.voltage());
                } else if (part instanceof Part.CurrentSource source) {
                    profiles.add(source.current());
                }
            }
            return profiles;
        }
    }
}
