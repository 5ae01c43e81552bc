package org.voltsecond.analysis;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.Predicate;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Port;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.Configuration;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Phase;
import org.voltsecond.engine.Piece;
import org.voltsecond.numeric.PolynomialRoots;
import org.voltsecond.waveform.Signal;

/**
 * The derivatives of what can be measured in a steady state by one parameter, exact to round-off. Each is the change of
 * the figure for each unit of the parameter: of a ripple in A by an inductance, A/H. Immutable.
 *
 * <p>An extreme moves with the waveform at its instant; where the extreme is a corner, with the instant of switching
 * too.
 *
 * <pre>{@code
 * Sensitivity byInductance = steady.periodic().sensitivities().to(Parameter.inductance("L1"));
 * double ripple = byInductance.peakToPeak(rail.inductorCurrent()) * micro(1); // -20.94 mA for each microhenry
 * }</pre>
 */
public final class Sensitivity {
    private final SteadyState steady;
    private final Parameter parameter;
    private final List<Span> spans;
    private final List<Flash> flashes;
    private final double periodMoves;

    /**
     * One interval of the orbit.
     *
     * @param phase its phase
     * @param both the interval with the derivative of each state after the states, of each channel after the channels
     * @param startMoves how far its start moves for each unit of the parameter, s
     * @param endMoves how far its end moves
     */
    record Span(Phase phase, Interval both, double startMoves, double endMoves) {}

    /**
     * A phase of no length that gets one: that between two edges at the same instant of which one moves.
     *
     * @param phase the phase
     * @param state state in it
     * @param sinceTick time since the clock edge, s
     * @param moves how much longer it gets for each unit of the parameter, s
     */
    record Flash(Phase phase, double[] state, double sinceTick, double moves) {
        double valueOf(Signal signal) {
            return signal.in(phase.configuration()).valueAt(state, sinceTick);
        }
    }

    Sensitivity(SteadyState steady, Parameter parameter, List<Span> spans, List<Flash> flashes, double periodMoves) {
        this.steady = steady;
        this.flashes = List.copyOf(flashes);
        this.parameter = parameter;
        this.spans = List.copyOf(spans);
        this.periodMoves = periodMoves;
    }

    /**
     * Returns by what is differentiated.
     *
     * @return the parameter
     */
    public Parameter parameter() {
        return parameter;
    }

    /**
     * Returns the derivative of the state at the start of the period.
     *
     * @return one entry for each state, just after the clock edge, SI units; a new array
     */
    public double[] state() {
        double[] both = spans.get(0).both().startState();
        return Arrays.copyOfRange(both, both.length / 2, both.length);
    }

    /**
     * Returns the derivative of the period.
     *
     * @return s for each unit of the parameter
     */
    public double period() {
        return periodMoves;
    }

    /**
     * Returns the derivative of the time for which a condition on the conducting parts holds.
     *
     * @param condition tells from a phase, see {@link SteadyState#timeIn}
     * @return s for each unit of the parameter
     */
    public double timeIn(Predicate<Phase> condition) {
        double sum = 0;
        for (Span span : spans) {
            if (condition.test(span.phase())) {
                sum += span.endMoves() - span.startMoves();
            }
        }
        for (Flash flash : flashes) {
            sum += condition.test(flash.phase()) ? flash.moves() : 0;
        }
        return sum;
    }

    /**
     * Returns the derivative of the mean of a signal.
     *
     * @param signal a signal of the circuit
     * @return the derivative, in units of the signal for each unit of the parameter
     */
    public double mean(Signal signal) {
        double integral = 0;
        double change = 0;
        for (Span span : spans) {
            Pair pair = new Pair(span, signal);
            integral += integral(span.both(), pair.value);
            change += integral(span.both(), pair.derivative)
                    + span.endMoves() * pair.last()
                    - span.startMoves() * pair.first();
        }
        for (Flash flash : flashes) {
            change += flash.moves() * flash.valueOf(signal);
        }
        return (change - integral * period() / steady.period()) / steady.period();
    }

    private static double integral(Interval interval, AffineForm form) {
        return interval.pieces(form).stream().mapToDouble(Piece::integral).sum();
    }

    /**
     * Returns the derivative of the mean of the product of two signals, of a power for example.
     *
     * @param first a signal of the circuit
     * @param second another, or the same
     * @return the derivative, in the product of the units for each unit of the parameter
     */
    public double meanProduct(Signal first, Signal second) {
        double integral = 0;
        double change = 0;
        for (Span span : spans) {
            Pair a = new Pair(span, first);
            Pair b = new Pair(span, second);
            Interval both = span.both();
            integral += product(both, a.value, b.value);
            change += product(both, a.derivative, b.value) + product(both, a.value, b.derivative);
            change += span.endMoves() * a.last() * b.last() - span.startMoves() * a.first() * b.first();
        }
        for (Flash flash : flashes) {
            change += flash.moves() * flash.valueOf(first) * flash.valueOf(second);
        }
        return (change - integral * period() / steady.period()) / steady.period();
    }

    /**
     * Returns the derivative of the mean power that a part turns into heat.
     *
     * @param part its reference designator; of coupled inductors and transformers all windings count
     * @return W for each unit of the parameter; 0 for a source
     * @throws IllegalArgumentException if the circuit has no such part
     */
    public double meanLoss(String part) {
        DrivenCircuit circuit = steady.circuit();
        Part found = circuit.circuit().part(part);
        double sum = 0;
        for (Port port : found.ports()) {
            Signal current = circuit.current(port.name());
            switch (EnergyAudit.Kind.of(found)) {
                case RESISTIVE -> sum += meanProduct(circuit.voltageAcross(port.name()), current);
                case STORING -> {
                    double resistance = EnergyAudit.Kind.seriesResistance(found, port);
                    double rms = parameter.equals(Parameter.resistance(port.name()))
                            ? steady.of(current).rms()
                            : 0;
                    sum += resistance * meanProduct(current, current) + rms * rms;
                }
                case SOURCE -> sum += 0;
            }
        }
        return sum;
    }

    private static double product(Interval interval, AffineForm first, AffineForm second) {
        List<Piece> a = interval.pieces(first);
        List<Piece> b = interval.pieces(second);
        double sum = 0;
        for (int k = 0; k < a.size(); k++) {
            sum += a.get(k).integralOfProduct(b.get(k));
        }
        return sum;
    }

    /**
     * Returns the derivative of the RMS value of a signal.
     *
     * @param signal a signal of the circuit
     * @return the derivative, in units of the signal for each unit of the parameter; 0 of a signal that is zero
     */
    public double rms(Signal signal) {
        double rms = steady.of(signal).rms();
        return rms == 0 ? 0 : meanProduct(signal, signal) / (2 * rms);
    }

    /**
     * Returns the derivative of the largest value of a signal.
     *
     * @param signal a signal of the circuit
     * @return the derivative, in units of the signal for each unit of the parameter
     */
    public double maximum(Signal signal) {
        return extreme(signal, 1);
    }

    /**
     * Returns the derivative of the smallest value of a signal.
     *
     * @param signal a signal of the circuit
     * @return the derivative, in units of the signal for each unit of the parameter
     */
    public double minimum(Signal signal) {
        return extreme(signal, -1);
    }

    /**
     * Returns the derivative of the largest less the smallest value of a signal.
     *
     * @param signal a signal of the circuit
     * @return the derivative, in units of the signal for each unit of the parameter
     */
    public double peakToPeak(Signal signal) {
        return maximum(signal) - minimum(signal);
    }

    private double extreme(Signal signal, int sign) {
        Candidate best = null;
        for (Span span : spans) {
            for (Candidate candidate : candidates(span, signal, sign)) {
                best = best == null || candidate.value() > best.value() ? candidate : best;
            }
        }
        return best == null ? 0 : sign * best.derivative();
    }

    /** A value that may be the largest, and its derivative. */
    private record Candidate(double value, double derivative) {}

    private static List<Candidate> candidates(Span span, Signal signal, int sign) {
        Pair pair = new Pair(span, signal);
        List<Piece> values = span.both().pieces(pair.value.times(sign));
        List<Piece> derivatives = span.both().pieces(pair.derivative.times(sign));
        List<Candidate> found = new ArrayList<>();
        Piece first = values.get(0);
        found.add(corner(first, derivatives.get(0), 0, span.startMoves()));
        for (int k = 0; k < values.size(); k++) {
            Piece derivative = derivatives.get(k);
            for (double turn : turns(values.get(k))) {
                found.add(new Candidate(values.get(k).valueAt(turn), derivative.valueAt(turn)));
            }
        }
        int last = values.size() - 1;
        found.add(corner(values.get(last), derivatives.get(last), 1, span.endMoves()));
        return found;
    }

    private static double[] turns(Piece piece) {
        Piece slope = piece.derivative();
        return slope.degree() < 1 ? new double[0] : PolynomialRoots.in01(slope.coefficients());
    }

    private static Candidate corner(Piece value, Piece derivative, int at, double moves) {
        double slope = value.length() > 0 ? value.derivative().valueAt(at) : 0;
        return new Candidate(value.valueAt(at), derivative.valueAt(at) + slope * moves);
    }

    @Override
    public String toString() {
        return "derivatives of " + steady + " by " + parameter;
    }

    /** A signal and its derivative by the parameter at a fixed instant, in one interval. */
    private static final class Pair {
        private final Span span;
        private final AffineForm value;
        private final AffineForm derivative;

        Pair(Span span, Signal signal) {
            this.span = span;
            Configuration configuration = span.both().configuration();
            int channels = configuration.channelCount() / 2;
            List<AffineForm> values = new ArrayList<>();
            List<AffineForm> derivatives = new ArrayList<>();
            for (int c = 0; c < channels; c++) {
                values.add(configuration.channel(c));
                derivatives.add(configuration.channel(channels + c));
            }
            List<String> names = span.phase().configuration().channelNames();
            value = signal.in(values, names);
            derivative = signal.in(derivatives, names);
        }

        double first() {
            return value.valueAt(span.both().startState(), 0);
        }

        double last() {
            return value.valueAt(span.both().endState(), span.both().duration());
        }
    }
}
