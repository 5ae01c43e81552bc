package org.voltsecond.stage;

import static org.voltsecond.circuit.Circuit.GROUND;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Stream;
import org.voltsecond.control.SwitchPattern;
import org.voltsecond.stage.Roles.Reading;

/**
 * What the stages share whose transformer hands energy on while a switch is closed: behind the rectifiers each is a buck stage, fed
 * with the pulses of the secondary, of which a period has one or, where two halves take turns, two.
 *
 * <p>Sources: ratios and ripple: D. W. Hart, Power Electronics, McGraw-Hill 2011, ch. 7.4 to 7.7; R. W. Erickson, D. Maksimovic,
 * Fundamentals of Power Electronics, 3rd ed., Springer 2020, ch. 6.3. The other formulas are those of the buck stage at the
 * frequency of the pulses.
 */
interface ForwardFamily extends Topology {
    /** Share of the longest duty cycle at the lowest input with proposed turns; common practice, no source: room for drops and control. */
    double USUAL_SHARE = 0.8;
    /** Magnetizing current, peak to peak, over the load current seen from the primary; common practice, no source. */
    double USUAL_MAGNETIZING = 0.1;

    /** {@return voltage of a pulse of the secondary for each volt of the input; not a number where turns are not known} */
    double ratio();

    /** {@return pulses of the secondary in a switching period} */
    default int pulses() {
        return 1;
    }

    @Override
    default boolean isIsolated() {
        return true;
    }

    @Override
    default Set<Class<? extends StagePart>> needs() {
        return Set.of(Transformer.class);
    }

    @Override
    default double continuousRatio(double dutyCycle) {
        return pulses() * ratio() * dutyCycle;
    }

    @Override
    default double discontinuousRatio(double dutyCycle, double k) {
        return dutyCycle == 0 ? 0 : 2 * ratio() / (1 + Math.sqrt(1 + 4 * k / (pulses() * dutyCycle * dutyCycle)));
    }

    @Override
    default double criticalK(double dutyCycle) {
        return (1 - pulses() * dutyCycle) / pulses();
    }

    @Override
    default double dutyCycle(double input, double output, double transistorDrop, double rectifierDrop) {
        return (output + rectifierDrop) / (pulses() * ratio() * (input - transistorDrop));
    }

    @Override
    default double discontinuousDutyCycleSquared(double input, double output, double rectifierDrop, double twiceFlux) {
        double pulse = ratio() * input;
        return twiceFlux * (output + rectifierDrop) / (pulses() * pulse * (pulse - rectifierDrop - output));
    }

    @Override
    default Optional<String> obstacle(double lowestInput, double highestInput, double output) {
        if (!(output > 0)) {
            return Optional.of("its output is positive");
        }
        double most = continuousRatio(longestDutyCycle()) * lowestInput;
        return output >= most
                ? Optional.of("with these turns its output is below " + most + " V, with its longest duty cycle of "
                        + longestDutyCycle() + " at the lowest input")
                : Optional.empty();
    }

    @Override
    default double outputShare(double dutyCycle) {
        return 1;
    }

    @Override
    default double onVoltage(double input, double output) {
        return ratio() * input - output;
    }

    @Override
    default double capacitorSwing(double loadCurrent, double dutyCycle, double inductorRipple) {
        return inductorRipple / (8 * pulses());
    }

    @Override
    default double capacitorStep(double loadCurrent, double dutyCycle, double inductorRipple) {
        return inductorRipple;
    }

    @Override
    default double rightHalfPlaneZero(double dutyCycle, double loadResistance, double inductance) {
        return Double.POSITIVE_INFINITY;
    }

    /** Where two halves take turns neither of two pulses may be longer than half the period. */
    @Override
    default double longestDutyCycle() {
        return 0.5;
    }

    /** {@return share of the input that lies at the primary in a pulse} */
    default double share() {
        return 1;
    }

    @Override
    default Optional<Transformer.Turns> proposedTurns(double lowestInput, double output) {
        double duty = USUAL_SHARE * 0.5; // a core that is reset in as long as it was magnetized has half the period
        Transformer.Turns turns = Transformer.Turns.atLeast(output / (pulses() * share() * duty * lowestInput));
        return Optional.of(turns.withoutReset());
    }

    @Override
    default List<StagePart> proposed(List<Rating> ratings, Preferred preferred) {
        Rating lowest = ratings.get(0);
        Transformer.Turns turns =
                proposedTurns(lowest.inputVoltage(), lowest.outputVoltage()).orElseThrow();
        double least = 0;
        for (Rating at : ratings) {
            double current = USUAL_MAGNETIZING * at.loadCurrent() / turns.ratio();
            least = Math.max(least, share() * at.inputVoltage() * at.dutyCycle() / (at.frequency() * current));
        }
        return List.of(Transformer.of(turns, preferred.inductance().applyAsDouble(least)));
    }

    /**
     * Adds the rectifiers behind one secondary, from "secondary" to "rectified": one that conducts with the transistors, and one
     * between the pulses. Where transistors rectify, the first one is closed with those of the primary.
     */
    static StageWiring rectified(StageWiring wiring) {
        StageParts.Rectifier with = wiring.parts().rectifier();
        if (with.synchronous()) {
            String name = wiring.free("Q", 2);
            wiring.circuit().switchPart(name, "secondary", "rectified", with.resistance());
            StageParts.Diode across = with.bodyDiode();
            if (across != null) {
                wiring.circuit()
                        .rectifier(
                                wiring.free("D", 4),
                                "secondary",
                                "rectified",
                                across.forwardDrop(),
                                across.resistance());
            }
            wiring.roles(told -> told.switches(Stream.concat(told.switches().stream(), Stream.of(name))
                            .toArray(String[]::new))
                    .timing(SwitchPattern.Timing.TOGETHER));
        } else {
            wiring.rectifier("secondary", "rectified");
        }
        return wiring.rectifier(GROUND, "rectified");
    }

    /**
     * Adds what follows a centre-tapped secondary with the ends "up" and "down": rectifiers, inductor and output. Transistors that rectify are open in the
     * pulses of the other half alone, and stand in the order of the halves whose pulses they make way for.
     */
    static void centreTapped(StageWiring wiring) {
        boolean synchronous = wiring.parts().rectifier().synchronous();
        wiring.rectifier(synchronous ? "down" : "up", "rectified")
                .rectifier(synchronous ? "up" : "down", "rectified")
                .inductor("rectified", "out")
                .output("out")
                .switchNode("sw")
                .tell(Reading.current("magnetizing current", StageWiring.MAGNETIZING))
                .alternating();
    }

    /** {@return turns of the secondary for each of the primary, if they are given} */
    static OptionalDouble secondaryTurns(StageParts parts) {
        return parts.get(Transformer.class)
                .map(given -> OptionalDouble.of(1 / given.turns().ratio()))
                .orElse(OptionalDouble.empty());
    }
}
