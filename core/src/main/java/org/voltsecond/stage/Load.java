package org.voltsecond.stage;

import java.util.List;
import java.util.Objects;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.voltsecond.characteristic.CurrentCurve;
import org.voltsecond.circuit.ControlledSource;
import org.voltsecond.circuit.NonlinearResistor;
import org.voltsecond.circuit.Part;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * What a converter feeds. Immutable.
 *
 * <p>A constant-current load is an ideal current sink: it draws its current at any output voltage, at 0 V and beyond as
 * well. On a stage at rest it therefore pulls the output to the wrong side of ground, until the converter delivers more
 * than the load takes or a rectifier conducts and clamps the output. A real electronic load or regulator draws next to
 * nothing below its minimum voltage; to look at the start-up of one, begin with a large resistor and change to the
 * current once the output is up.
 *
 * <pre>{@code
 * Converter idle = rail.withLoad(Load.resistor(500)); // 10 mA at 5 V
 * Converter radio = rail.withLoad(Load.current(1.5)); // A, whatever the voltage
 * String written = radio.load().toString(); // "1.5 A"
 * }</pre>
 */
public final class Load {
    private final double resistance;
    private final double current;
    private final @Nullable CurrentCurve curve;

    private Load(double resistance, double current, @Nullable CurrentCurve curve) {
        this.resistance = resistance;
        this.current = current;
        this.curve = curve;
    }

    /**
     * Returns a resistor between output and ground.
     *
     * @param resistance its resistance, Ω; more than 0
     * @return the load
     * @throws IllegalArgumentException if the resistance is not more than 0 Ω, or not finite
     */
    public static Load resistor(double resistance) {
        if (!(resistance > 0 && resistance < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("load: the resistance must be more than 0 Ω and finite but was "
                    + resistance + " Ω; for no load take Load.current(0)");
        }
        return new Load(resistance, 0, null);
    }

    /**
     * Returns a sink of constant current between output and ground. It loads the output: at the negative output of an
     * inverting stage it drives its current from ground into the output.
     *
     * @param current the current, A; 0 for no load
     * @return the load
     * @throws IllegalArgumentException if the current is negative or not finite
     */
    public static Load current(double current) {
        if (!(current >= 0 && current < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException(
                    "load: the current must be 0 A or more and finite but was " + current + " A");
        }
        return new Load(Double.POSITIVE_INFINITY, current, null);
    }

    /**
     * Returns a resistor and a sink of constant current side by side.
     *
     * @param resistance Ω; more than 0
     * @param current A; 0 or more
     * @return the load
     * @throws IllegalArgumentException if a value is out of its range
     */
    public static Load of(double resistance, double current) {
        return new Load(resistor(resistance).resistance, current(current).current, null);
    }

    /**
     * Returns a load of constant power, as a regulator further down the line is one: its current falls as the voltage rises. Below
     * a minimum voltage it is the resistor that takes this power at that voltage; see {@link CurrentCurve#constantPower}.
     *
     * @param power W; more than 0
     * @param minimumVoltage V; more than 0
     * @return the load
     * @throws IllegalArgumentException if a value is out of its range
     */
    public static Load power(double power, double minimumVoltage) {
        return of(CurrentCurve.constantPower(power, minimumVoltage));
    }

    /**
     * Returns a string of light-emitting diodes in series, which takes no current below its forward drop.
     *
     * @param number how many; 1 or more
     * @param forwardDrop of each, V; more than 0
     * @param resistance slope resistance of each, Ω; 0 or more
     * @return the load
     * @throws IllegalArgumentException if a value is out of its range
     */
    public static Load lightEmittingDiodes(int number, double forwardDrop, double resistance) {
        return of(CurrentCurve.lightEmittingDiodes(number, forwardDrop, resistance));
    }

    /**
     * Returns a battery behind its resistance. It is charged while the output is above its voltage, and below feeds the output.
     *
     * @param voltage V; more than 0
     * @param resistance Ω; more than 0
     * @return the load
     * @throws IllegalArgumentException if a value is out of its range
     */
    public static Load battery(double voltage, double resistance) {
        return of(CurrentCurve.battery(voltage, resistance));
    }

    /**
     * Returns a load whose current follows from its voltage.
     *
     * @param curve the current over the magnitude of the output voltage
     * @return the load
     * @throws IllegalArgumentException if a value of the curve is out of its range
     */
    public static Load of(CurrentCurve curve) {
        List<String> faults = new NonlinearResistor("load", "", "", curve).faults();
        if (!faults.isEmpty()) {
            throw new IllegalArgumentException(String.join("; ", faults));
        }
        return new Load(Double.POSITIVE_INFINITY, 0, curve);
    }

    /**
     * Returns a load of the same kind that draws a current at a voltage: what "load current" means wherever a study goes over
     * it. Of a resistor and a sink side by side each keeps its share; a load of constant power gets another power, light-emitting
     * diodes another forward drop, and a battery another voltage.
     *
     * @param drawn the current, A; more than 0, of a sink of constant current 0 or more
     * @param voltage magnitude of the output voltage at which a resistor draws it, V; more than 0
     * @return a sink of that current if this is one, else the resistor that draws it at that voltage
     * @throws IllegalArgumentException if an argument is out of its range
     */
    public Load drawing(double drawn, double voltage) {
        if (isConstantCurrent()) {
            return current(drawn);
        }
        if (!(drawn > 0 && voltage > 0)) {
            throw new IllegalArgumentException("load: a resistor draws more than 0 A at more than 0 V, but " + drawn
                    + " A at " + voltage + " V were asked for; take Load.current(...) as load for 0 A");
        }
        if (curve != null) {
            return of(drawing(curve, drawn, voltage));
        }
        if (current == 0) {
            return resistor(voltage / drawn);
        }
        double present = voltage / resistance + current;
        return of(resistance * present / drawn, current * drawn / present);
    }

    /**
     * Returns whether this is a sink of constant current alone.
     *
     * @return true for a constant current, false where there is a resistor
     */
    public boolean isConstantCurrent() {
        return !hasResistance() && curve == null;
    }

    /** {@return whether a resistor is part of it} */
    public boolean hasResistance() {
        return resistance < Double.POSITIVE_INFINITY;
    }

    /** {@return its current over the magnitude of the voltage, of a load that is neither resistor nor sink} */
    public Optional<CurrentCurve> curve() {
        return Optional.ofNullable(curve);
    }

    /**
     * Returns the current that it takes at a voltage.
     *
     * @param voltage magnitude of the output voltage, V
     * @return A
     */
    public double currentAt(double voltage) {
        return curve != null ? curve.currentAt(voltage) : hasResistance() ? voltage / resistance + current : current;
    }

    private static CurrentCurve drawing(CurrentCurve curve, double drawn, double voltage) {
        if (curve instanceof CurrentCurve.Diodes diodes) {
            return CurrentCurve.lightEmittingDiodes(
                    diodes.number(), voltage / diodes.number() - diodes.slope() * drawn, diodes.slope());
        }
        return curve instanceof CurrentCurve.Battery battery
                ? CurrentCurve.battery(voltage - battery.series() * drawn, battery.series())
                : CurrentCurve.constantPower(drawn * voltage, ((CurrentCurve.ConstantPower) curve).minimumVoltage());
    }

    /** {@return whether a sink of constant current is part of it} */
    public boolean hasCurrent() {
        return isConstantCurrent() || current > 0;
    }

    /**
     * Returns the resistance.
     *
     * @return the resistance, Ω
     * @throws IllegalStateException if this is a sink of constant current
     */
    public double resistance() {
        if (!hasResistance()) {
            throw new IllegalStateException("this load (" + this + ") has no resistance");
        }
        return resistance;
    }

    /**
     * Returns the constant current.
     *
     * @return the current, A
     * @throws IllegalStateException if this is a resistor alone
     */
    public double current() {
        if (!hasCurrent()) {
            throw new IllegalStateException("this load (" + this + ") has no constant current");
        }
        return current;
    }

    /**
     * Returns what the sink drives from the output to ground: it draws from a positive output and drives current into a negative one.
     *
     * @param inverting whether the output is negative
     * @return the current, A
     */
    public double sink(boolean inverting) {
        return inverting ? 0 - current : current;
    }

    /**
     * Returns the part that is not the sink; a resistor of no conductance is a source that its own voltage controls.
     *
     * @param name reference designator
     * @param plus node of the output
     * @param minus the other node
     * @param inverting whether the output is negative
     * @return the part
     */
    public Part resistor(String name, String plus, String minus, boolean inverting) {
        if (curve != null) {
            return new NonlinearResistor(name, plus, minus, inverting ? curve.mirrored() : curve);
        }
        return isConstantCurrent()
                ? new ControlledSource.CurrentByVoltage(name, plus, minus, plus, minus, 0)
                : new Part.Resistor(name, plus, minus, resistance);
    }

    @Override
    public boolean equals(Object other) {
        return other instanceof Load load
                && load.resistance == resistance
                && load.current == current
                && Objects.equals(load.curve, curve);
    }

    @Override
    public int hashCode() {
        return Objects.hash(resistance, current, curve);
    }

    @Override
    public String toString() {
        if (curve != null) {
            return curve.toString();
        }
        String sink = hasCurrent() ? Quantity.format(current, Unit.AMPERE) : "";
        String resistor = !hasResistance() ? "" : Quantity.format(resistance, Unit.OHM);
        return resistor + (resistor.isEmpty() || sink.isEmpty() ? "" : " and ") + sink;
    }
}
