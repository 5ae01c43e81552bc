package org.voltsecond.stage;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.characteristic.Junction;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Profile;

/**
 * The values of the parts of a stage, in SI units; not a number and null stand for what is not given yet. Immutable.
 *
 * <pre>{@code
 * StageParts.Series choke = new StageParts.Series(micro(22), milli(30)); // H, series ohm
 * StageParts.Rectifier diode = StageParts.Rectifier.diode(0.4, milli(20)); // V, slope ohm
 * }</pre>
 *
 * @param input the source
 * @param inductor the inductor
 * @param outputCapacitor the output capacitor
 * @param transistor the transistor
 * @param rectifier the rectifier
 * @param further parts beyond these, one of a kind
 * @param load the load; null for none yet
 */
public record StageParts(
        Input input,
        Series inductor,
        Series outputCapacitor,
        Transistor transistor,
        Rectifier rectifier,
        Map<Class<? extends StagePart>, StagePart> further,
        @Nullable Load load) {
    /** The parts that every stage takes beyond the usual ones. */
    public static final Set<Class<? extends StagePart>> EVERYWHERE =
            Set.of(SourceImpedance.class, InputCapacitor.class, InputFilter.class, Snubber.class);

    /**
     * Copies the other parts.
     *
     * @param input the source
     * @param inductor the inductor
     * @param outputCapacitor the output capacitor
     * @param transistor the transistor
     * @param rectifier the rectifier
     * @param further parts beyond these, one of a kind
     * @param load the load; null for none yet
     */
    public StageParts {
        further = Map.copyOf(further);
    }

    /**
     * The source, with a sine on top of its voltage that begins in its middle and rises.
     *
     * @param voltage V; more than 0
     * @param amplitude of the ripple, from the middle to the crest, V; 0 for none
     * @param frequency of the ripple, Hz; more than 0
     */
    public record Input(double voltage, double amplitude, double frequency) {
        Profile profile() {
            Profile constant = Profile.constant(voltage);
            return amplitude > 0 ? constant.withSine(amplitude, frequency, -0.0) : constant;
        }
    }

    /**
     * An inductor or a capacitor with its series resistance.
     *
     * @param value inductance, H, or capacitance, F; more than 0
     * @param resistance Ω; 0 or more
     * @param bends where the inductance changes with the current, or the capacitance with the voltage; empty if it does not
     */
    public record Series(double value, double resistance, List<Bend> bends) {
        /**
         * Copies the list.
         *
         * @param value inductance, H, or capacitance, F; more than 0
         * @param resistance Ω; 0 or more
         * @param bends where the inductance changes with the current, or the capacitance with the voltage
         */
        public Series {
            bends = List.copyOf(bends);
        }

        /**
         * {@return a part without resistance}
         *
         * @param value inductance, H, or capacitance, F; more than 0
         * @param bends where it changes
         */
        public static Series bent(double value, Bend... bends) {
            return new Series(value, 0, List.of(bends));
        }

        /**
         * A part of constant value.
         *
         * @param value inductance, H, or capacitance, F; more than 0
         * @param resistance Ω; 0 or more
         */
        public Series(double value, double resistance) {
            this(value, resistance, List.of());
        }
    }

    /**
     * A diode.
     *
     * @param forwardDrop V; 0 or more, more than 0 across a transistor
     * @param resistance slope resistance, Ω; 0 or more
     * @param junction its forward curve, and how it recovers
     */
    public record Diode(double forwardDrop, double resistance, Junction junction) {
        /**
         * A diode of forward drop and resistance alone.
         *
         * @param forwardDrop V; 0 or more, more than 0 across a transistor
         * @param resistance slope resistance, Ω; 0 or more
         */
        public Diode(double forwardDrop, double resistance) {
            this(forwardDrop, resistance, Junction.IDEAL);
        }

        Part part(String name, String anode, String cathode) {
            return new Part.Rectifier(name, anode, cathode, forwardDrop, resistance, junction);
        }
    }

    /** No capacitance across a device, and no inductance before it. */
    private static final Series NOTHING = new Series(0, 0);

    /**
     * A transistor.
     *
     * @param onResistance Ω; 0 or more
     * @param forwardDrop voltage in series with it while it is closed, V; 0 or more
     * @param bodyDiode the diode across it; null for none
     * @param outputCapacitance across it as a part of the circuit, F; 0 for none
     * @param loop stray inductance, H, with its resistance, of the loop that the current leaves when it passes to the rectifier: in
     *     series with the transistor, at its drain; 0 for none
     */
    public record Transistor(
            double onResistance,
            double forwardDrop,
            @Nullable Diode bodyDiode,
            Series outputCapacitance,
            Series loop) {
        /** {@return a transistor that has nothing but a channel without resistance} */
        public static Transistor ideal() {
            return new Transistor(0, 0, null, NOTHING, NOTHING);
        }

        /**
         * {@return the transistor with another channel}
         * @param ohm on-resistance, Ω
         * @param volt forward drop, V
         */
        public Transistor withChannel(double ohm, double volt) {
            return new Transistor(ohm, volt, bodyDiode, outputCapacitance, loop);
        }

        /**
         * {@return the transistor with another diode across it}
         * @param to the diode
         */
        public Transistor withBodyDiode(Diode to) {
            return new Transistor(onResistance, forwardDrop, to, outputCapacitance, loop);
        }

        /**
         * {@return the transistor with another capacitance across it and inductance before it}
         * @param capacitance F
         * @param inductance H
         */
        public Transistor withStrays(Series capacitance, Series inductance) {
            return new Transistor(onResistance, forwardDrop, bodyDiode, capacitance, inductance);
        }
    }

    /**
     * The part that carries the inductor current in the off interval.
     *
     * @param synchronous true for a second transistor that is closed while the first is open, false for a diode
     * @param forwardDrop of a diode, V; 0 of a transistor
     * @param resistance slope resistance of a diode or on-resistance of a transistor, Ω
     * @param bodyDiode the diode across a transistor; null for none
     * @param junction forward curve of a diode, and how it recovers; of a transistor that of its body diode
     * @param capacitance across it as a part of the circuit, F; 0 for none
     */
    public record Rectifier(
            boolean synchronous,
            double forwardDrop,
            double resistance,
            @Nullable Diode bodyDiode,
            Junction junction,
            Series capacitance) {
        /**
         * {@return a diode}
         *
         * @param forwardDrop V; 0 or more
         * @param resistance slope resistance, Ω; 0 or more
         */
        public static Rectifier diode(double forwardDrop, double resistance) {
            return new Rectifier(false, forwardDrop, resistance, null, Junction.IDEAL, NOTHING);
        }

        /**
         * {@return a transistor that rectifies}
         *
         * @param onResistance Ω; 0 or more
         * @param bodyDiode the diode across it; null for none
         */
        public static Rectifier transistor(double onResistance, @Nullable Diode bodyDiode) {
            return new Rectifier(true, 0, onResistance, bodyDiode, Junction.IDEAL, NOTHING);
        }

        /**
         * {@return this rectifier with the capacitance and junction of another}
         *
         * @param other the other
         */
        public Rectifier like(Rectifier other) {
            return withCapacitance(other.capacitance).withJunction(other.junction);
        }

        /**
         * {@return the rectifier with another capacitance across it}
         * @param farad F
         */
        public Rectifier withCapacitance(Series farad) {
            return new Rectifier(synchronous, forwardDrop, resistance, bodyDiode, junction, farad);
        }

        /**
         * Sets what the junction has beyond drop and resistance: of a diode its own, of a transistor that of its body diode.
         *
         * @param to the junction
         * @return the rectifier
         */
        public Rectifier withJunction(Junction to) {
            Diode diode = bodyDiode == null ? null : new Diode(bodyDiode.forwardDrop, bodyDiode.resistance, to);
            return new Rectifier(synchronous, forwardDrop, resistance, diode, to, capacitance);
        }
    }

    /** {@return values of which none is given yet} */
    public static StageParts none() {
        Series none = new Series(Double.NaN, 0);
        return new StageParts(
                new Input(Double.NaN, 0, 1), none, none, Transistor.ideal(), Rectifier.diode(0, 0), Map.of(), null);
    }

    /**
     * Returns a part beyond the usual ones.
     *
     * @param <P> its kind
     * @param kind its kind
     * @return the part; empty if none was given
     */
    public <P extends StagePart> Optional<P> get(Class<P> kind) {
        return Optional.ofNullable(further.get(kind)).map(kind::cast);
    }

    /**
     * Returns a part that the stage needs.
     *
     * @param <P> its kind
     * @param kind its kind
     * @return the part
     * @throws IllegalStateException if none was given, as cannot be of parts that were checked
     */
    public <P extends StagePart> P required(Class<P> kind) {
        return get(kind).orElseThrow(() -> new IllegalStateException(StagePart.words(kind) + " is missing"));
    }

    /**
     * {@return the values with another source}
     * @param to the source
     */
    public StageParts withInput(Input to) {
        return new StageParts(to, inductor, outputCapacitor, transistor, rectifier, further, load);
    }

    /**
     * {@return the values with another inductor}
     * @param to the inductor
     */
    public StageParts withInductor(Series to) {
        return new StageParts(input, to, outputCapacitor, transistor, rectifier, further, load);
    }

    /**
     * {@return the values with another output capacitor}
     * @param to the output capacitor
     */
    public StageParts withOutputCapacitor(Series to) {
        return new StageParts(input, inductor, to, transistor, rectifier, further, load);
    }

    /**
     * {@return the values with another transistor}
     * @param to the transistor
     */
    public StageParts withTransistor(Transistor to) {
        return new StageParts(input, inductor, outputCapacitor, to, rectifier, further, load);
    }

    /**
     * {@return the values with another rectifier}
     * @param to the rectifier
     */
    public StageParts withRectifier(Rectifier to) {
        return new StageParts(input, inductor, outputCapacitor, transistor, to, further, load);
    }

    /**
     * {@return the values with another part beyond the usual ones, in place of one of its kind}
     * @param part the part
     */
    public StageParts with(StagePart part) {
        Map<Class<? extends StagePart>, StagePart> more = new LinkedHashMap<>(further);
        more.put(part.getClass(), part);
        return new StageParts(input, inductor, outputCapacitor, transistor, rectifier, more, load);
    }

    /**
     * {@return the values with another load}
     * @param to the load
     */
    public StageParts withLoad(Load to) {
        return new StageParts(input, inductor, outputCapacitor, transistor, rectifier, further, to);
    }

    /** {@return the load of parts that were checked} */
    public Load requiredLoad() {
        return Objects.requireNonNull(load);
    }

    /**
     * Tells what is wrong with the values for a stage.
     *
     * @param stage the stage
     * @return one line for each fault
     */
    public List<String> faults(Topology stage) {
        List<String> faults = new ArrayList<>();
        StagePart.positive(faults, "input: voltage", input.voltage(), "V");
        checkRipple(faults);
        if (stage.hasInductor()) {
            check(faults, "inductor", inductor, "inductance", "H");
        } else if (!Double.isNaN(inductor.value())) {
            faults.add("inductor: a " + stage + " stage has none; its transformer stores the energy");
        }
        check(faults, "output capacitor", outputCapacitor, "capacitance", "F");
        StagePart.notNegative(faults, "transistor: on-resistance", transistor.onResistance(), "Ω");
        StagePart.notNegative(faults, "transistor: forward drop", transistor.forwardDrop(), "V");
        checkIfGiven(faults, "transistor: output", transistor.outputCapacitance(), "capacitance", "F");
        checkIfGiven(faults, "transistor: loop", transistor.loop(), "inductance", "H");
        boolean snubbed = get(Snubber.class)
                .filter(snubber -> snubber.across() == Snubber.Across.TRANSISTOR)
                .isPresent();
        if (transistor.loop().value() > 0 && transistor.outputCapacitance().value() == 0 && !snubbed) {
            faults.add(
                    "transistor: its loop inductance carries a current when the transistor opens, which then has no path; give "
                            + "the output capacitance as well, or a snubber across the transistor");
        }
        checkIfGiven(faults, "rectifier: junction", rectifier.capacitance(), "capacitance", "F");
        checkBodyDiode(faults, "body diode", transistor.bodyDiode());
        faults.addAll(new Diode(rectifier.forwardDrop(), rectifier.resistance(), rectifier.junction())
                .part("rectifier", "", "")
                .faults());
        checkBodyDiode(faults, "body diode of the synchronous rectifier", rectifier.bodyDiode());
        checkFurther(faults, stage);
        if (load == null) {
            faults.add("load is missing; give Load.resistor(...) or Load.current(...)");
        }
        return faults;
    }

    private void checkFurther(List<String> faults, Topology stage) {
        for (Class<? extends StagePart> kind : stage.needs()) {
            if (!further.containsKey(kind)) {
                faults.add(StagePart.words(kind) + " is missing; a " + stage + " stage needs one");
            }
        }
        Map<String, StagePart> inOrder = new TreeMap<>();
        further.values().forEach(part -> inOrder.put(part.key(), part));
        inOrder.values().forEach(part -> {
            if (stage.takes(part.getClass())) {
                faults.addAll(part.faults());
            } else {
                faults.add(StagePart.words(part.getClass()) + ": a " + stage + " stage has no such part");
            }
        });
        faults.addAll(stage.faults(this));
    }

    private void checkRipple(List<String> faults) {
        StagePart.notNegative(faults, "input: amplitude of the ripple", input.amplitude(), "V");
        StagePart.positive(faults, "input: frequency of the ripple", input.frequency(), "Hz");
        if (input.voltage() > 0 && input.amplitude() >= input.voltage()) {
            faults.add(rippleTooLarge(input.voltage(), input.amplitude()));
        }
    }

    /**
     * {@return the fault that a ripple is too large}
     *
     * @param voltage of the input, V
     * @param amplitude of the ripple, V
     */
    public static String rippleTooLarge(double voltage, double amplitude) {
        return "input: amplitude of the ripple must be below the input voltage of " + voltage + " V but was "
                + amplitude + " V";
    }

    private static void checkIfGiven(List<String> faults, String what, Series part, String quantity, String unit) {
        if (!part.equals(NOTHING)) {
            check(faults, what, part, quantity, unit);
        }
    }

    private static void check(List<String> faults, String what, Series part, String quantity, String unit) {
        StagePart.positive(faults, what + ": " + quantity, part.value(), unit);
        Part bent = unit.equals("H")
                ? new Part.Inductor(what, "", "", 1, 0, 0, part.bends())
                : new Part.Capacitor(what, "", "", 1, 0, 0, part.bends());
        faults.addAll(bent.faults());
        StagePart.notNegative(faults, what + ": series resistance", part.resistance(), "Ω");
    }

    private static void checkBodyDiode(List<String> faults, String what, @Nullable Diode diode) {
        if (diode != null) {
            // Without a drop it would conduct in place of the channel whenever the current flows backwards.
            if (diode.forwardDrop() == 0) {
                StagePart.positive(faults, what + ": forward drop", 0, "V");
            }
            faults.addAll(diode.part(what, "", "").faults());
        }
    }
}
