package org.voltsecond.stage;

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

    private Load(double resistance, double current) {
        this.resistance = resistance;
        this.current = current;
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
        return new Load(resistance, 0);
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
        return new Load(Double.POSITIVE_INFINITY, current);
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
        return new Load(resistor(resistance).resistance, current(current).current);
    }

    /**
     * Returns a load of the same kind that draws a current at a voltage: what "load current" means wherever a study goes over
     * it. Of a resistor and a sink side by side each keeps its share.
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
        return resistance == Double.POSITIVE_INFINITY;
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
        if (isConstantCurrent()) {
            throw new IllegalStateException("a load of constant current (" + this + ") has no resistance");
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
            throw new IllegalStateException("a resistor as load (" + this + ") has no constant current");
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

    @Override
    public boolean equals(Object other) {
        return other instanceof Load load && load.resistance == resistance && load.current == current;
    }

    @Override
    public int hashCode() {
        return Double.hashCode(resistance) * 31 + Double.hashCode(current);
    }

    @Override
    public String toString() {
        String sink = hasCurrent() ? Quantity.format(current, Unit.AMPERE) : "";
        String resistor = isConstantCurrent() ? "" : Quantity.format(resistance, Unit.OHM);
        return resistor + (resistor.isEmpty() || sink.isEmpty() ? "" : " and ") + sink;
    }
}
