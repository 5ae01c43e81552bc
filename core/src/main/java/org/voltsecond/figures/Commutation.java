package org.voltsecond.figures;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Regime;
import org.voltsecond.control.CircuitPhase;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.Configuration;
import org.voltsecond.engine.Interval;
import org.voltsecond.numeric.Complex;
import org.voltsecond.numeric.Eigenvalues;
import org.voltsecond.numeric.Eigenvectors;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;

/**
 * How the current of a steady state passes from the transistor to the rectifier and back: the voltage that the transistor closes
 * on, what its capacitance loses by that, and the ringing after each edge. Immutable.
 *
 * <pre>{@code
 * Converter ringing = stage.outputCapacitance(pico(250)).junctionCapacitance(pico(150)).loopInductance(nano(20), 0.5)
 *         .input(12).load(Load.resistor(2.5)).drive(Drive.fixedDuty(0.45, kilo(300)));
 * Commutation commutation = Commutation.of(ringing.steadyState());
 * double volt = commutation.voltageAtTurnOn().getAsDouble(); // 12.43 V
 * double hertz = commutation.rings().get(0).frequency(); // 91.90 MHz
 * }</pre>
 *
 * @param voltageAtTurnOn what lies across the transistor as it closes, V; empty where it never does
 * @param energyAtTurnOn what the capacitors right across the transistor hold then and lose, J
 * @param rings the ringing, after the turn-on first
 */
public record Commutation(OptionalDouble voltageAtTurnOn, double energyAtTurnOn, List<Ring> rings) {
    /** A ring whose first swing is below this share of the signal's peak to peak is none: nobody would see it (a choice). */
    private static final double VISIBLE = 1e-3;

    /**
     * Copies the list.
     *
     * @param voltageAtTurnOn what lies across the transistor as it closes, V
     * @param energyAtTurnOn what the capacitors right across the transistor hold then, J
     * @param rings the ringing
     */
    public Commutation {
        rings = List.copyOf(rings);
    }

    /** After what it rings. */
    public enum After {
        /** The transistor has closed; told of the rectifier, which has begun to block. */
        TURN_ON("turn-on"),
        /** The transistor has opened; told of the transistor. */
        TURN_OFF("turn-off"),
        /** The inductor current has ended; told of the switch node. */
        END_OF_CURRENT("end-of-current");

        private final String key;

        After(String key) {
            this.key = key;
        }

        /** {@return its word, such as "turn-on"} */
        public String key() {
            return key;
        }

        private Signal signal(Converter converter) {
            return switch (this) {
                case TURN_ON ->
                    converter.roles().rectifier().isPresent() ? converter.rectifierVoltage() : node(converter);
                case TURN_OFF -> converter.transistorVoltage();
                case END_OF_CURRENT -> node(converter);
            };
        }

        /** A custom circuit may have no node that is the switch node, and switches that rectify without being told to. */
        private static Signal node(Converter converter) {
            return converter.roles().switchNode().isPresent() ? converter.switchNode() : converter.transistorVoltage();
        }
    }

    /**
     * A ring: the pair of poles of the linear circuit between two edges which swings most in the signal. Frequency and damping are
     * those of the poles, exact; of parts that bend, those of the segments on which they stand at the beginning.
     *
     * @param after after what
     * @param signal where it is told
     * @param start when it begins, s from the beginning of the period
     * @param duration until the next edge, s
     * @param peak the value of the signal, while it rings, of the largest magnitude, V
     * @param poles the one above the real axis, 1/s
     * @param swing twice the share of the poles in the signal at the beginning, V: the ring is the real part of swing times exp(poles t)
     * @param energyLost what it turns into heat until the next edge, J: the energy that the swinging part of all currents and voltages
     *     holds at the beginning less that at the end
     */
    public record Ring(
            After after,
            Signal signal,
            double start,
            double duration,
            double peak,
            Complex poles,
            Complex swing,
            double energyLost) {
        /** {@return how often it swings, Hz} */
        public double frequency() {
            return poles.imaginary() / (2 * Math.PI);
        }

        /** {@return the share of the critical damping} */
        public double dampingRatio() {
            return -poles.real() / poles.magnitude();
        }

        /** {@return the time in which it falls to 1/e, s} */
        public double decayTime() {
            return -1 / poles.real();
        }

        /** {@return how far it swings to either side at the beginning, V} */
        public double amplitude() {
            return swing.magnitude();
        }

        /**
         * Returns how far it swings to either side.
         *
         * @param sinceStart time since its beginning, s
         * @return V
         */
        public double envelope(double sinceStart) {
            return amplitude() * Math.exp(poles.real() * sinceStart);
        }

        /**
         * Returns its share of the signal.
         *
         * @param sinceStart time since its beginning, s
         * @return V
         */
        public double at(double sinceStart) {
            return swing.multiply(poles.multiply(sinceStart).exp()).real();
        }
    }

    /**
     * Looks at a steady state.
     *
     * @param steady the steady state
     * @return how it commutates
     */
    public static Commutation of(ConverterSteadyState steady) {
        Converter converter = steady.converter();
        List<Interval> intervals = steady.periodic().trajectory().intervals();
        Map<After, Ring> rings = new EnumMap<>(After.class);
        OptionalDouble voltage = OptionalDouble.empty();
        double energy = 0;
        for (int k = 0; k < intervals.size(); k++) {
            Interval before = intervals.get(k == 0 ? intervals.size() - 1 : k - 1);
            Interval interval = intervals.get(k);
            String transistor = converter.roles().transistor();
            boolean closed = converter.driven().conducts(interval.phase(), transistor);
            if (closed && !converter.driven().conducts(before.phase(), transistor) && voltage.isEmpty()) {
                AffineForm across = converter.driven().voltageAcross(transistor).in(before.configuration());
                voltage = OptionalDouble.of(before.valueAt(across, before.duration()));
                energy = energyAcross(converter.circuit(), transistor, before.endState());
            }
            After after = after(steady, intervals, k);
            Ring ring = new Modes(interval).ring(after, steady);
            Ring largest = rings.get(after);
            if (ring != null && (largest == null || ring.amplitude() > largest.amplitude())) {
                rings.put(after, ring);
            }
        }
        return new Commutation(voltage, energy, new ArrayList<>(rings.values()));
    }

    /** Until the rectifier conducts it is the opening of the transistor that goes on. */
    private static After after(ConverterSteadyState steady, List<Interval> intervals, int index) {
        if (steady.isOn().test(intervals.get(index).phase())) {
            return After.TURN_ON;
        }
        if (steady.isOff().test(intervals.get(index).phase())) {
            return After.TURN_OFF;
        }
        for (int k = 1; k < intervals.size(); k++) {
            var earlier =
                    intervals.get(Math.floorMod(index - k, intervals.size())).phase();
            if (steady.isOn().test(earlier)) {
                return After.TURN_OFF;
            }
            if (steady.isOff().test(earlier)) {
                return After.END_OF_CURRENT;
            }
        }
        return After.TURN_OFF;
    }

    /** What capacitors between the same nodes as a switch hold. */
    private static double energyAcross(Circuit circuit, String transistor, double[] state) {
        double[] across = new double[circuit.stateNames().size()];
        var port = circuit.part(transistor).ports().get(0);
        for (Part part : circuit.parts()) {
            if (part instanceof Part.Capacitor c
                    && List.of(port.plus(), port.minus()).containsAll(List.of(c.a(), c.b()))) {
                int at = circuit.stateNames().indexOf(c.name());
                across[at] = state[at];
            }
        }
        return circuit.storedEnergy(across);
    }

    /** {@return whether there is anything to tell: capacitors across the transistor, or a ring} */
    public boolean isWorthTelling() {
        return energyAtTurnOn > 0 || !rings.isEmpty();
    }

    /** What swings in an interval. */
    private static final class Modes {
        private final Interval interval;
        private final Configuration configuration;
        private final double[] storage;

        Modes(Interval interval) {
            this.interval = interval;
            configuration = interval.configuration();
            CircuitPhase phase = (CircuitPhase) interval.phase();
            storage = storage(phase.circuit(), phase.regime());
        }

        /** Inductance or capacitance of each state on its present segment; 0 for a stored charge. */
        private static double[] storage(Circuit circuit, Regime regime) {
            double[] storage = circuit.storage();
            for (Part part : circuit.parts()) {
                int at = circuit.stateNames().indexOf(part.name());
                int segment = Math.abs(circuit.segment(part.name(), regime));
                if (part instanceof Part.Rectifier && at >= 0) {
                    storage[at] = 0;
                } else if (segment > 0 && at >= 0) {
                    List<Bend> bends =
                            part instanceof Part.Inductor l ? l.saturation() : ((Part.Capacitor) part).bias();
                    storage[at] = bends.get(segment - 1).value();
                }
            }
            return storage;
        }

        /** The largest ring of a signal of which a whole turn lies in the interval; null for none. */
        @Nullable
        Ring ring(After after, ConverterSteadyState steady) {
            int n = configuration.dimension();
            double[][] a = new double[n][n];
            for (int i = 0; i < n; i++) {
                for (int j = 0; j < n; j++) {
                    a[i][j] = configuration.a(i, j);
                }
            }
            Signal signal = after.signal(steady.converter());
            Ring largest = null;
            for (Complex pole : Eigenvalues.of(a)) {
                if (pole.imaginary() * interval.duration() >= 2 * Math.PI && pole.real() < 0) {
                    Ring ring = ring(after, signal, steady, a, pole);
                    boolean larger = largest == null || ring.amplitude() > largest.amplitude();
                    largest = larger ? ring : largest;
                }
            }
            return largest != null
                            && largest.amplitude() > VISIBLE * steady.of(signal).peakToPeak()
                    ? largest
                    : null;
        }

        private Ring ring(After after, Signal signal, ConverterSteadyState steady, double[][] a, Complex pole) {
            Eigenvectors vectors = Eigenvectors.of(a, pole);
            Complex[] right = vectors.right();
            // the rate of the state swings alike, and has no level to swing about
            Complex share =
                    vectors.share(configuration.rate(interval.startState())).divide(pole);
            AffineForm form = signal.in(configuration);
            Complex swing = Complex.ZERO;
            for (int j = 0; j < right.length; j++) {
                swing = swing.add(right[j].multiply(form.coefficient(j)));
            }
            swing = swing.multiply(share).multiply(2);
            Complex last = share.multiply(pole.multiply(interval.duration()).exp());
            double start = interval.start() - steady.periodic().trajectory().start();
            Waveform waveform = steady.of(signal);
            Waveform within = waveform.between(
                    waveform.startTime() + start,
                    Math.min(waveform.startTime() + start + interval.duration(), waveform.endTime()));
            boolean upwards = within.maximum() > -within.minimum();
            return new Ring(
                    after,
                    signal,
                    start,
                    interval.duration(),
                    upwards ? within.maximum() : within.minimum(),
                    pole,
                    swing,
                    energy(right, share) - energy(right, last));
        }

        private double energy(Complex[] right, Complex share) {
            double energy = 0;
            for (int j = 0; j < storage.length; j++) {
                double swinging = 2 * right[j].multiply(share).real();
                energy += 0.5 * storage[j] * swinging * swinging;
            }
            return energy;
        }
    }
}
