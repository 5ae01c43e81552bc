package org.voltsecond.characteristic;

import java.util.List;
import java.util.function.DoubleFunction;
import org.voltsecond.circuit.NonlinearResistor;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * The current of a {@link NonlinearResistor} over its voltage: continuous, and linear in each segment. On segment k it is open
 * (exactly no current), or {@code v = r i + u} with its own slope r and voltage u at no current. Immutable.
 *
 * <pre>{@code
 * CurrentCurve radio = CurrentCurve.constantPower(10, 4); // 10 W from 4 V on
 * double ampere = radio.currentAt(5); // 2 A
 * double below = radio.currentAt(2); // 1.25 A: a resistor of 1.6 ohm below 4 V
 * }</pre>
 */
public sealed interface CurrentCurve {
    /**
     * Returns a load that takes constant power: {@code i = p / v} from a minimum voltage on, to within 1e-7 of the current;
     * below it, and at voltages of the other sign, the resistance that takes this power at the minimum voltage, so that the
     * current has no jump: a regulator that falls out of regulation is its load behind a closed switch (common practice, no
     * source). The hyperbola ends at a thousand times the minimum voltage; beyond, the curve is a resistance again.
     *
     * @param power W; more than 0
     * @param minimumVoltage V; more than 0
     * @return the curve
     */
    static CurrentCurve constantPower(double power, double minimumVoltage) {
        return new ConstantPower(power, minimumVoltage);
    }

    /**
     * Returns light-emitting diodes in series.
     *
     * @param number how many; more than 0
     * @param forwardDrop of each, V; more than 0
     * @param resistance slope resistance of each, Ω; 0 or more
     * @return the curve
     */
    static CurrentCurve lightEmittingDiodes(double number, double forwardDrop, double resistance) {
        return new Diodes(number, forwardDrop, resistance);
    }

    /**
     * Returns a battery behind its resistance, which takes current above its voltage and gives it below.
     *
     * @param voltage V at no current; more than 0
     * @param resistance Ω; more than 0
     * @return the curve
     */
    static CurrentCurve battery(double voltage, double resistance) {
        return new Battery(voltage, resistance);
    }

    /** {@return the curve of the same part, turned round: current and voltage of the other sign} */
    default CurrentCurve mirrored() {
        return this instanceof Mirrored mirrored ? mirrored.of() : new Mirrored(this);
    }

    /** {@return how many segments there are, in ascending order of the voltage} */
    int segments();

    /**
     * Returns where a segment ends and the next begins.
     *
     * @param segment from 0 to two less than the number of segments
     * @return V
     */
    double knee(int segment);

    /**
     * Returns whether a segment carries no current.
     *
     * @param segment from 0 to one less than the number of segments
     * @return true if it is open
     */
    boolean isOpen(int segment);

    /**
     * Returns the slope dv/di of a segment.
     *
     * @param segment one that is not open
     * @return Ω; negative where the current falls as the voltage rises
     */
    double resistance(int segment);

    /**
     * Returns where the line that a segment lies on meets no current.
     *
     * @param segment one that is not open
     * @return V
     */
    double voltageAtNoCurrent(int segment);

    /** {@return the numbers that make the curve} */
    List<Value> values();

    /**
     * Returns the derivative of the line of a segment by one of the values, at one current.
     *
     * @param segment one that is not open
     * @param quantity name of the value
     * @return by how much the resistance, Ω, then the voltage at no current, V, grow for each unit of the value
     */
    double[] lineBy(int segment, String quantity);

    /**
     * Returns the derivative of a knee by one of the values.
     *
     * @param segment from 0 to two less than the number of segments
     * @param quantity name of the value
     * @return V for each unit of the value
     */
    double kneeBy(int segment, String quantity);

    /**
     * Returns the segment of a voltage.
     *
     * @param voltage V
     * @return from 0 to one less than the number of segments; at a knee the one above it
     */
    default int segmentAt(double voltage) {
        int low = 0;
        int high = segments() - 1;
        while (low < high) {
            int middle = (low + high) >>> 1;
            if (voltage < knee(middle)) {
                high = middle;
            } else {
                low = middle + 1;
            }
        }
        return low;
    }

    /**
     * Returns the current at a voltage.
     *
     * @param voltage V
     * @return A; on a segment without resistance not a number, or infinite
     */
    default double currentAt(double voltage) {
        int segment = segmentAt(voltage);
        return isOpen(segment) ? 0 : (voltage - voltageAtNoCurrent(segment)) / resistance(segment);
    }

    /**
     * A number of a curve.
     *
     * @param quantity its name as design files write it, such as "power"
     * @param unit its unit
     * @param value its value
     * @param mayBeZero whether 0 is valid; else it must be more
     * @param writer the curve with another value
     */
    record Value(String quantity, Unit unit, double value, boolean mayBeZero, DoubleFunction<CurrentCurve> writer) {
        /**
         * Checks the value's range.
         *
         * @param faults where what is wrong is added
         */
        public void check(Faults faults) {
            String words = quantity.replace('_', ' ');
            if (mayBeZero) {
                faults.notNegative(words, value, unit.symbol());
            } else {
                faults.positive(words, value, unit.symbol());
            }
        }
    }

    /**
     * Constant power: chords of the hyperbola between voltages in geometric order, lowered so that they miss it by as much to
     * either side. The chord of {@code 1/v} between a and b lies above it by at most {@code (b - a)^2 / (4 a b)} of its value.
     *
     * @param power W
     * @param minimumVoltage V
     */
    record ConstantPower(double power, double minimumVoltage) implements CurrentCurve {
        /** How far the curve may be off, relative to the current: far below the tolerance of any load. */
        public static final double ERROR = 1e-7;

        /** Ratio of the highest voltage to the lowest. */
        private static final double RANGE = 1000;

        private static final double RATIO = 1 + 2 * (StrictMath.sqrt(2 * ERROR * (1 + 2 * ERROR)) + 2 * ERROR);
        private static final int CHORDS = (int) StrictMath.ceil(StrictMath.log(RANGE) / StrictMath.log(RATIO));
        private static final double LOWERED = 1 - ERROR;

        @Override
        public int segments() {
            return CHORDS + 2;
        }

        @Override
        public double knee(int segment) {
            return minimumVoltage * StrictMath.pow(RATIO, segment);
        }

        @Override
        public boolean isOpen(int segment) {
            return false;
        }

        @Override
        public double resistance(int segment) {
            if (segment == 0 || segment > CHORDS) {
                double end = knee(segment == 0 ? 0 : CHORDS);
                return end * end / (power * LOWERED);
            }
            return -knee(segment - 1) * knee(segment) / (power * LOWERED);
        }

        @Override
        public double voltageAtNoCurrent(int segment) {
            return segment == 0 || segment > CHORDS ? 0 : knee(segment - 1) + knee(segment);
        }

        @Override
        public List<Value> values() {
            return List.of(
                    new Value("power", Unit.WATT, power, false, x -> new ConstantPower(x, minimumVoltage)),
                    new Value("minimum_voltage", Unit.VOLT, minimumVoltage, false, x -> new ConstantPower(power, x)));
        }

        /** All voltages are in proportion to the lowest one. */
        @Override
        public double[] lineBy(int segment, String quantity) {
            double ohm = resistance(segment);
            return quantity.equals("power")
                    ? new double[] {-ohm / power, 0}
                    : new double[] {2 * ohm / minimumVoltage, voltageAtNoCurrent(segment) / minimumVoltage};
        }

        @Override
        public double kneeBy(int segment, String quantity) {
            return quantity.equals("power") ? 0 : knee(segment) / minimumVoltage;
        }

        @Override
        public String toString() {
            return Quantity.format(power, Unit.WATT) + " from " + Quantity.format(minimumVoltage, Unit.VOLT) + " on";
        }
    }

    /**
     * Light-emitting diodes in series.
     *
     * @param number how many
     * @param forwardDrop of each, V
     * @param slope of each, Ω
     */
    record Diodes(double number, double forwardDrop, double slope) implements CurrentCurve {
        @Override
        public int segments() {
            return 2;
        }

        @Override
        public double knee(int segment) {
            return number * forwardDrop;
        }

        @Override
        public boolean isOpen(int segment) {
            return segment == 0;
        }

        @Override
        public double resistance(int segment) {
            return number * slope;
        }

        @Override
        public double voltageAtNoCurrent(int segment) {
            return number * forwardDrop;
        }

        @Override
        public List<Value> values() {
            return List.of(
                    new Value("number", Unit.ONE, number, false, x -> new Diodes(x, forwardDrop, slope)),
                    new Value("forward_drop", Unit.VOLT, forwardDrop, false, x -> new Diodes(number, x, slope)),
                    new Value("resistance", Unit.OHM, slope, true, x -> new Diodes(number, forwardDrop, x)));
        }

        @Override
        public double[] lineBy(int segment, String quantity) {
            return switch (quantity) {
                case "number" -> new double[] {slope, forwardDrop};
                case "forward_drop" -> new double[] {0, number};
                default -> new double[] {number, 0};
            };
        }

        @Override
        public double kneeBy(int segment, String quantity) {
            return lineBy(1, quantity)[1];
        }

        @Override
        public String toString() {
            return Quantity.format(number, Unit.ONE) + " light-emitting diodes of "
                    + Quantity.format(forwardDrop, Unit.VOLT) + " and " + Quantity.format(slope, Unit.OHM);
        }
    }

    /**
     * A battery behind its resistance.
     *
     * @param voltage V
     * @param series Ω
     */
    record Battery(double voltage, double series) implements CurrentCurve {
        @Override
        public int segments() {
            return 1;
        }

        @Override
        public double knee(int segment) {
            throw new IndexOutOfBoundsException("a battery has one segment and no knee " + segment);
        }

        @Override
        public boolean isOpen(int segment) {
            return false;
        }

        @Override
        public double resistance(int segment) {
            return series;
        }

        @Override
        public double voltageAtNoCurrent(int segment) {
            return voltage;
        }

        @Override
        public List<Value> values() {
            return List.of(
                    new Value("voltage", Unit.VOLT, voltage, false, x -> new Battery(x, series)),
                    new Value("resistance", Unit.OHM, series, false, x -> new Battery(voltage, x)));
        }

        @Override
        public double[] lineBy(int segment, String quantity) {
            return quantity.equals("voltage") ? new double[] {0, 1} : new double[] {1, 0};
        }

        @Override
        public double kneeBy(int segment, String quantity) {
            return 0;
        }

        @Override
        public String toString() {
            return "battery of " + Quantity.format(voltage, Unit.VOLT) + " behind " + Quantity.format(series, Unit.OHM);
        }
    }

    /**
     * A curve turned round.
     *
     * @param of the other curve
     */
    record Mirrored(CurrentCurve of) implements CurrentCurve {
        private int mirror(int segment) {
            return of.segments() - 1 - segment;
        }

        @Override
        public int segments() {
            return of.segments();
        }

        @Override
        public double knee(int segment) {
            return -of.knee(mirror(segment) - 1);
        }

        @Override
        public boolean isOpen(int segment) {
            return of.isOpen(mirror(segment));
        }

        @Override
        public double resistance(int segment) {
            return of.resistance(mirror(segment));
        }

        @Override
        public double voltageAtNoCurrent(int segment) {
            return 0 - of.voltageAtNoCurrent(mirror(segment));
        }

        @Override
        public List<Value> values() {
            return of.values().stream()
                    .map(value -> new Value(
                            value.quantity,
                            value.unit,
                            value.value,
                            value.mayBeZero,
                            x -> new Mirrored(value.writer.apply(x))))
                    .toList();
        }

        @Override
        public double[] lineBy(int segment, String quantity) {
            double[] by = of.lineBy(mirror(segment), quantity);
            return new double[] {by[0], 0 - by[1]};
        }

        @Override
        public double kneeBy(int segment, String quantity) {
            return 0 - of.kneeBy(mirror(segment) - 1, quantity);
        }
    }
}
