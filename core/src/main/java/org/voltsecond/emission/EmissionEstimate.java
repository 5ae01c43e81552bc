package org.voltsecond.emission;

import java.util.ArrayList;
import java.util.List;
import java.util.function.ToDoubleBiFunction;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.circuit.Part;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Phase;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * How the emissions of a converter are looked at: by which network, up to which frequency, against which limits. A ripple of the line
 * is left out, since the supply is ideal. Immutable; each step gives another value.
 *
 * <p>Switching takes no time in the simulation. Where a transistor takes a time to close or to open, the part of the spectrum that stems
 * from that instant is multiplied by {@code sin(pi f t) / (pi f t)}: what a step in the circuit becomes when it is a straight ramp about the
 * same instant. That is the spectrum of trapezoids, with its corner at {@code 1 / (pi t)}. A rectifier that ends on its own has no such
 * time.
 *
 * <pre>{@code
 * Emissions seen = EmissionEstimate.of(rail)
 *         .network(micro(50))              // H, beside 50 ohm
 *         .limits(EmissionLimits.CLASS_B)
 *         .edges(nano(20), nano(30))       // s, transistor closing and opening
 *         .measure();
 * double margin = seen.worst().get().margin(); // -82.20, in dB: there is no filter
 * }</pre>
 */
public final class EmissionEstimate {
    /** More than what anybody reads off; a period of so many intervals takes seconds. A choice. */
    static final double MOST_WORK = 3e8;

    private static final double HIGHEST = 30e6;

    private final Converter converter;
    private final ArtificialNetwork network;
    private final @Nullable EmissionLimits limits;
    private final double highest;
    private final double riseTime;
    private final double fallTime;
    private final double earthCapacitance;

    private EmissionEstimate(
            Converter converter,
            ArtificialNetwork network,
            @Nullable EmissionLimits limits,
            double highest,
            double riseTime,
            double fallTime,
            double earthCapacitance) {
        this.converter = converter;
        this.network = network;
        this.limits = limits;
        this.highest = highest;
        this.riseTime = riseTime;
        this.fallTime = fallTime;
        this.earthCapacitance = earthCapacitance;
    }

    /**
     * Begins with a network of 50 µH, no limits, up to 30 MHz, with edges that take no time and nothing between switch node and earth.
     *
     * @param converter the converter as it is supplied
     * @return the test
     */
    public static EmissionEstimate of(Converter converter) {
        return new EmissionEstimate(converter, ArtificialNetwork.FIFTY_MICROHENRY, null, HIGHEST, 0, 0, 0);
    }

    /** {@return the converter, without the network} */
    public Converter converter() {
        return converter;
    }

    /**
     * Looks at another converter in the same way.
     *
     * @param other the converter
     * @return the test
     */
    public EmissionEstimate with(Converter other) {
        return new EmissionEstimate(other, network, limits, highest, riseTime, fallTime, earthCapacitance);
    }

    /**
     * Takes a network of another inductance, beside 50 Ω.
     *
     * @param inductance H; 50 µH and 5 µH are usual
     * @return the test
     */
    public EmissionEstimate network(double inductance) {
        return network(new ArtificialNetwork(inductance, ArtificialNetwork.FIFTY_MICROHENRY.resistance()));
    }

    /**
     * Takes another network.
     *
     * @param other one for each supply line
     * @return the test
     */
    public EmissionEstimate network(ArtificialNetwork other) {
        return new EmissionEstimate(converter, other, limits, highest, riseTime, fallTime, earthCapacitance);
    }

    /**
     * Holds the levels against limits.
     *
     * @param against the limits
     * @return the test
     */
    public EmissionEstimate limits(EmissionLimits against) {
        return new EmissionEstimate(converter, network, against, highest, riseTime, fallTime, earthCapacitance);
    }

    /**
     * Looks up to another frequency.
     *
     * @param frequency Hz, included; at least that of the switching
     * @return the test
     */
    public EmissionEstimate upTo(double frequency) {
        return new EmissionEstimate(converter, network, limits, frequency, riseTime, fallTime, earthCapacitance);
    }

    /**
     * Gives the edges a finite slope.
     *
     * @param rise from the start to the end of what happens when a switch closes, s; 0 or more
     * @param fall the same when one opens and none closes, s; 0 or more
     * @return the test
     */
    public EmissionEstimate edges(double rise, double fall) {
        return new EmissionEstimate(converter, network, limits, highest, rise, fall, earthCapacitance);
    }

    /**
     * Puts a capacitance between the switch node and earth, of interleaved phases each one: it drives a current through both networks
     * alike, the common mode.
     *
     * @param farad F; 0 or more
     * @return the test
     */
    public EmissionEstimate earthCapacitance(double farad) {
        return new EmissionEstimate(converter, network, limits, highest, riseTime, fallTime, farad);
    }

    /** {@return the network in each line} */
    public ArtificialNetwork network() {
        return network;
    }

    /** {@return the limits; null where there are none} */
    public @Nullable EmissionLimits limits() {
        return limits;
    }

    /** {@return whether there is a capacitance to earth, and so a common mode} */
    public boolean hasCommonMode() {
        return earthCapacitance > 0;
    }

    /** {@return the highest frequency, Hz, included} */
    public double highest() {
        return highest;
    }

    /**
     * Takes the steady state with the networks, and its harmonics.
     *
     * @return what a receiver would see
     * @throws InvalidStageException if a value is out of its range, or the switch node is not known that the capacitance lies at; each
     *     fault is told
     * @throws NoSteadyStateException if there is no steady state with the networks in the lines
     */
    public Emissions measure() {
        check();
        Converter steadily = converter.withInputRipple(0, 1);
        ArtificialNetwork.Installed installed = network.in(steadily, earthCapacitance);
        ConverterSteadyState steady = installed.converter().steadyState();
        double harmonics = Math.floor(highest * steady.period() * (1 + 1e-9));
        List<String> faults = new ArrayList<>();
        if (harmonics < 1) {
            faults.add("highest frequency: must reach the first harmonic, at "
                    + Quantity.brief(1 / steady.period(), Unit.HERTZ) + ", but was "
                    + Quantity.brief(highest, Unit.HERTZ));
        } else if (harmonics * steady.periodic().trajectory().size() > MOST_WORK) {
            faults.add("highest frequency: a period of " + Quantity.brief(steady.period(), Unit.SECOND) + " has "
                    + (long) harmonics + " harmonics up to " + Quantity.brief(highest, Unit.HERTZ)
                    + ", which are too many; choose a lower frequency");
        }
        if (!faults.isEmpty()) {
            throw new InvalidStageException("emissions", faults);
        }
        return new Emissions(
                this,
                installed,
                steady,
                (int) harmonics,
                ramps(installed.converter().driven()));
    }

    private void check() {
        List<String> faults = new ArrayList<>();
        if (!(highest > 0 && highest < Double.POSITIVE_INFINITY)) {
            faults.add("highest frequency: must be more than 0 Hz but was " + highest + " Hz");
        }
        notNegative(faults, "rise time", riseTime, Unit.SECOND);
        notNegative(faults, "fall time", fallTime, Unit.SECOND);
        notNegative(faults, "earth capacitance", earthCapacitance, Unit.FARAD);
        if (!faults.isEmpty()) {
            throw new InvalidStageException("emissions", faults);
        }
    }

    private static void notNegative(List<String> faults, String what, double value, Unit unit) {
        if (!(value >= 0 && value < Double.POSITIVE_INFINITY)) {
            faults.add(what + ": must be 0 " + unit.symbol() + " or more but was " + value + " " + unit.symbol());
        }
    }

    /** Where one switch closes as another opens, the time of closing holds. */
    private ToDoubleBiFunction<Interval, Interval> ramps(DrivenCircuit circuit) {
        if (riseTime == 0 && fallTime == 0) {
            return (before, after) -> 0;
        }
        List<String> switches = circuit.circuit().parts().stream()
                .filter(Part.Switch.class::isInstance)
                .map(Part::name)
                .toList();
        return (before, after) -> {
            Phase first = before.phase();
            Phase then = after.phase();
            boolean opens = false;
            for (String name : switches) {
                boolean wasClosed = circuit.conducts(first, name);
                boolean isClosed = circuit.conducts(then, name);
                if (isClosed && !wasClosed) {
                    return riseTime;
                }
                opens |= wasClosed && !isClosed;
            }
            return opens ? fallTime : 0;
        };
    }

    @Override
    public String toString() {
        return "emissions of " + converter + " at " + network + (limits == null ? "" : ", " + limits);
    }
}
