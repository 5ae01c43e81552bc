package org.voltsecond.analysis;

import java.util.function.DoubleFunction;
import org.voltsecond.circuit.Part;
import org.voltsecond.control.CircuitPhase;
import org.voltsecond.numeric.Complex;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;

/**
 * The small-signal behaviour of a steady state, from the switching model itself: nothing is averaged. A small sine of any
 * frequency is injected; the change that it makes to the orbit, shifts of the switching instants included, is worked out
 * exactly to first order, and its component at that very frequency is the response. That is what a network analyser
 * measures on the converter. Side bands about the switching frequency are not part of it.
 *
 * <p>An unstable steady state has a response too, which no measurement will show. Immutable; safe to use from any thread.
 *
 * <p>Source of the method: the linearised system is periodic, with jumps at switching instants that the saltation matrix
 * describes (M. di Bernardo, C. Budd, A. Champneys, P. Kowalczyk, Piecewise-smooth Dynamical Systems, Springer 2008, sec.
 * 2.5, from memory); its response to exp(j omega t) is exp(j omega t) times something that repeats with the orbit (theorem
 * of Floquet). <b>Accuracy</b>: about 1e-10 relative, less where a response is a small difference of large parts.
 *
 * <pre>{@code
 * SmallSignal response = SmallSignal.of(regulated.steadyState().periodic());
 * FrequencyResponse plant = response.controlTo(regulated.outputVoltage(), 100, 1000, kilo(10));
 * double at1kHz = plant.decibels(1); // 21.84 dB
 * }</pre>
 */
public final class SmallSignal {
    /** Impedances and what a source does begin between 180 degrees behind and 180 ahead. */
    private static final double HALF_TURN_BEHIND = -180;

    private static final String CONTROL_VOLTAGE = "control voltage";

    private final SteadyState steady;

    private SmallSignal(SteadyState steady) {
        this.steady = steady;
    }

    /**
     * Returns the small-signal behaviour of a steady state.
     *
     * @param steady the steady state
     * @return its small-signal behaviour
     */
    public static SmallSignal of(SteadyState steady) {
        return new SmallSignal(steady);
    }

    /**
     * Works out what a perturbation does to a signal.
     *
     * @param from where the sine is injected
     * @param to a signal of the circuit
     * @param frequencies Hz, ascending, all more than 0
     * @return the ratio of the signal's component at each frequency to the injected sine; of a source, its first phase from
     *     -180 up to 180 degrees
     * @throws IllegalArgumentException if there is no such source or switch, or the frequencies are not as they should be
     * @throws UnsupportedOperationException if the control voltage or the reference is to be disturbed and there is none
     * @throws IllegalStateException if the period does not close in the same phase
     */
    public FrequencyResponse response(Perturbation from, Signal to, double... frequencies) {
        FrequencyResponse response = FrequencyResponse.ofAnyThread(
                to.name() + " over " + nameOf(from), unit(to.unit(), unitOf(from)), frequencies, law(from, to));
        return from instanceof Perturbation.OfSource ? response.withFirstPhaseAbove(HALF_TURN_BEHIND) : response;
    }

    private DoubleFunction<Complex> law(Perturbation from, Signal to) {
        DoubleFunction<Complex> later = law(from, to, true);
        if (!(from instanceof Perturbation.OfDutyCycle)) {
            return later;
        }
        DoubleFunction<Complex> before = law(from, to, false);
        return f -> later.apply(f).add(before.apply(f)).multiply(0.5);
    }

    private DoubleFunction<Complex> law(Perturbation from, Signal to, boolean later) {
        Forcing forcing = Forcing.of(steady.circuit(), from, later);
        OrbitLoop loop = OrbitLoop.of(steady, forcing.circuit());
        boolean moves = loop.passages().stream().anyMatch(passage -> ((CircuitPhase) passage.phase()).endMoves());
        if (from instanceof Perturbation.OfDutyCycle of && !moves) {
            throw new IllegalArgumentException(
                    (of.switchName().isEmpty() ? "every switch" : "the switch " + of.switchName())
                            + " never turns on and off, so that its duty cycle cannot be disturbed; choose a duty cycle between 0 "
                            + "and 1");
        }
        ForcedLoop forced = new ForcedLoop(loop, forcing);
        ForcedLoop.Reading reading = forced.reading(to);
        return f -> forced.at(f).of(reading);
    }

    /**
     * Works out the gain around the loop: a sine is injected in series with the control voltage, and the loop gain is minus
     * what comes back over what goes in (method of voltage injection; R. D. Middlebrook, Measurement of loop gain in
     * feedback systems, Int. J. Electronics 38(4):485-512, 1975, from memory). The comparator loads nothing, so that
     * nothing is left out.
     *
     * @param frequencies Hz, ascending, all more than 0
     * @return the loop gain; the loop is at its stability limit where it is -1
     * @throws UnsupportedOperationException if no regulator with a control voltage drives the circuit
     * @throws IllegalArgumentException if the frequencies are not as they should be
     * @throws IllegalStateException if the period does not close in the same phase
     */
    public FrequencyResponse loopGain(double... frequencies) {
        Forcing forcing = Forcing.of(steady.circuit(), Perturbation.controlVoltage(), true);
        OrbitLoop loop = OrbitLoop.of(steady, forcing.circuit());
        ForcedLoop forced = new ForcedLoop(loop, forcing);
        ForcedLoop.Reading control = forced.reading(forcing.circuit().control(CONTROL_VOLTAGE));
        return FrequencyResponse.ofAnyThread("loop gain", "", frequencies, f -> {
                    Complex in = forced.at(f).of(control);
                    return Complex.ONE.subtract(in).divide(in);
                })
                .closing(NyquistCriterion.Growth.of(steady));
    }

    /**
     * Works out what a perturbation in series with the control voltage does to a signal, per volt of the control voltage
     * that the comparator sees: the loop is closed and yet does not enter.
     *
     * @param to a signal of the circuit
     * @param frequencies Hz, ascending, all more than 0
     * @return the response of the signal to the control voltage
     * @throws UnsupportedOperationException if no regulator with a control voltage drives the circuit
     * @throws IllegalArgumentException if the frequencies are not as they should be
     * @throws IllegalStateException if the period does not close in the same phase
     */
    public FrequencyResponse controlTo(Signal to, double... frequencies) {
        Forcing forcing = Forcing.of(steady.circuit(), Perturbation.controlVoltage(), true);
        OrbitLoop loop = OrbitLoop.of(steady, forcing.circuit());
        ForcedLoop forced = new ForcedLoop(loop, forcing);
        ForcedLoop.Reading control = forced.reading(forcing.circuit().control(CONTROL_VOLTAGE));
        ForcedLoop.Reading reading = forced.reading(to);
        return FrequencyResponse.ofAnyThread(
                to.name() + " over " + CONTROL_VOLTAGE, unit(to.unit(), Unit.VOLT), frequencies, f -> {
                    ForcedLoop.Response response = forced.at(f);
                    return response.of(reading).divide(response.of(control));
                });
    }

    /**
     * Works out what two signals have to do with each other while a sine is injected somewhere: the impedance that is seen at a
     * node, say, from the voltage there and the current that flows on from it.
     *
     * @param from where the sine is injected
     * @param over a signal of the circuit
     * @param under another one
     * @param frequencies Hz, ascending, all more than 0
     * @return the component of the one at each frequency over that of the other
     * @throws IllegalArgumentException if there is no such source or switch, or the frequencies are not as they should be
     * @throws IllegalStateException if the period does not close in the same phase
     */
    public FrequencyResponse ratio(Perturbation from, Signal over, Signal under, double... frequencies) {
        DoubleFunction<Complex> top = law(from, over);
        DoubleFunction<Complex> bottom = law(from, under);
        return ratio(over, under, frequencies, f -> top.apply(f).divide(bottom.apply(f)));
    }

    /**
     * Works out the same at a control voltage that is held: a second sine is injected in series with it, of just the size at which the
     * comparator sees none. So the loop is closed and yet does not act.
     *
     * @param from where the sine is injected
     * @param over a signal of the circuit
     * @param under another one
     * @param frequencies Hz, ascending, all more than 0
     * @return the component of the one at each frequency over that of the other
     * @throws UnsupportedOperationException if no regulator with a control voltage drives the circuit
     * @throws IllegalArgumentException if there is no such source or switch, or the frequencies are not as they should be
     * @throws IllegalStateException if the period does not close in the same phase
     */
    public FrequencyResponse ratioAtHeldControl(Perturbation from, Signal over, Signal under, double... frequencies) {
        Signal control = steady.circuit().control(CONTROL_VOLTAGE);
        DoubleFunction<Complex> top = law(from, over);
        DoubleFunction<Complex> bottom = law(from, under);
        DoubleFunction<Complex> moved = law(from, control);
        Forcing forcing = Forcing.of(steady.circuit(), Perturbation.controlVoltage(), true);
        OrbitLoop loop = OrbitLoop.of(steady, forcing.circuit());
        ForcedLoop forced = new ForcedLoop(loop, forcing);
        ForcedLoop.Reading held = forced.reading(forcing.circuit().control(CONTROL_VOLTAGE));
        ForcedLoop.Reading readOver = forced.reading(over);
        ForcedLoop.Reading readUnder = forced.reading(under);
        return ratio(over, under, frequencies, f -> {
            ForcedLoop.Response second = forced.at(f);
            Complex size = moved.apply(f).divide(second.of(held));
            Complex above = top.apply(f).subtract(size.multiply(second.of(readOver)));
            return above.divide(bottom.apply(f).subtract(size.multiply(second.of(readUnder))));
        });
    }

    private static FrequencyResponse ratio(
            Signal over, Signal under, double[] frequencies, DoubleFunction<Complex> law) {
        return FrequencyResponse.ofAnyThread(
                over.name() + " over " + under.name(), unit(over.unit(), under.unit()), frequencies, law);
    }

    /**
     * Works out the output impedance.
     *
     * @param source an independent current source that draws from the output; it may carry nothing
     * @param output the voltage across it, of the terminal from which it draws
     * @param frequencies Hz, ascending, all more than 0
     * @return the impedance, Ω: the fall of the voltage over the current drawn; its first phase from -180 up to 180 degrees
     * @throws IllegalArgumentException if there is no such source, or the frequencies are not as they should be
     * @throws IllegalStateException if the period does not close in the same phase
     */
    public FrequencyResponse outputImpedance(String source, Signal output, double... frequencies) {
        DoubleFunction<Complex> rise = law(Perturbation.source(source), output);
        return FrequencyResponse.ofAnyThread(
                        "output impedance",
                        Unit.OHM.symbol(),
                        frequencies,
                        f -> rise.apply(f).negate())
                .withFirstPhaseAbove(HALF_TURN_BEHIND);
    }

    private String nameOf(Perturbation from) {
        if (from instanceof Perturbation.OfSource source) {
            return source.source();
        }
        if (from instanceof Perturbation.OfDutyCycle duty) {
            return duty.switchName().isEmpty() ? "duty cycle" : "duty cycle of " + duty.switchName();
        }
        return from instanceof Perturbation.OfReference ? "reference" : "injected voltage";
    }

    private Unit unitOf(Perturbation from) {
        if (from instanceof Perturbation.OfSource source) {
            return steady.circuit().circuit().part(source.source()) instanceof Part.CurrentSource
                    ? Unit.AMPERE
                    : Unit.VOLT;
        }
        return from instanceof Perturbation.OfDutyCycle ? Unit.ONE : Unit.VOLT;
    }

    private static String unit(Unit of, Unit per) {
        if (of == per) {
            return "";
        }
        if (of == Unit.VOLT && per == Unit.AMPERE) {
            return Unit.OHM.symbol();
        }
        return per == Unit.ONE ? of.symbol() : of.symbol() + "/" + per.symbol();
    }

    @Override
    public String toString() {
        return "small-signal behaviour of a steady state of " + steady.period() + " s";
    }
}
