package org.voltsecond.stage;

import static org.voltsecond.circuit.Circuit.GROUND;

import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * Isolates, and steps up or down: the magnetizing inductance of the transformer charges from the input while the transistor is
 * closed, and hands its current to the secondary when it opens. The inductor current is the magnetizing current at the primary.
 *
 * <p>Sources: ratio, boundary, peak voltages: D. W. Hart, Power Electronics, McGraw-Hill 2011, ch. 7.3; R. W. Erickson, D.
 * Maksimovic, Fundamentals of Power Electronics, 3rd ed., Springer 2020, ch. 6.3.4. Seen from the secondary it is an inverting stage
 * fed with the reflected input, whose inductance is that of the secondary; the other formulas are those of that stage.
 *
 * @param ratio turns of the secondary for each of the primary; not a number where they are not known
 */
record Flyback(double ratio) implements Topology {
    /** Duty cycle at the lowest input with proposed turns; common practice, no source: transistor and rectifier share the burden. */
    private static final double USUAL_DUTY_CYCLE = 0.45;

    @Override
    public String toString() {
        return "flyback";
    }

    @Override
    public Set<Class<? extends StagePart>> needs() {
        return Set.of(Transformer.class);
    }

    @Override
    public Set<Class<? extends StagePart>> options() {
        return Set.of(Clamp.class);
    }

    @Override
    public boolean hasInductor() {
        return false;
    }

    @Override
    public boolean isIsolated() {
        return true;
    }

    @Override
    public Topology with(StageParts parts) {
        return parts.get(Transformer.class)
                .<Topology>map(given -> new Flyback(1 / given.turns().ratio()))
                .orElse(this);
    }

    @Override
    public void wire(StageWiring wiring) {
        wiring.source("in")
                .transistor("sw", GROUND)
                .transformer(Transformer.Coil.primary("in", "sw"), Transformer.Coil.secondary(GROUND, "secondary"))
                .clamp("sw")
                .rectifier("secondary", "out")
                .output("out")
                .switchNode("sw")
                .roles(roles -> roles.inductorCurrent(StageWiring.MAGNETIZING));
    }

    @Override
    public double continuousRatio(double dutyCycle) {
        return ratio * dutyCycle / (1 - dutyCycle);
    }

    /** From the energy of a period, L I^2 / 2, so that the turns do not enter. */
    @Override
    public double discontinuousRatio(double dutyCycle, double k) {
        return dutyCycle / Math.sqrt(k);
    }

    @Override
    public double criticalK(double dutyCycle) {
        return (1 - dutyCycle) * (1 - dutyCycle) / (ratio * ratio);
    }

    @Override
    public double dutyCycle(double input, double output, double transistorDrop, double rectifierDrop) {
        return (output + rectifierDrop) / (ratio * (input - transistorDrop) + output + rectifierDrop);
    }

    @Override
    public double discontinuousDutyCycleSquared(double input, double output, double rectifierDrop, double twiceFlux) {
        return twiceFlux * (output + rectifierDrop) / (input * input);
    }

    @Override
    public Optional<String> obstacle(double lowestInput, double highestInput, double output) {
        return output > 0 ? Optional.empty() : Optional.of("its output is positive");
    }

    @Override
    public double outputShare(double dutyCycle) {
        return (1 - dutyCycle) / ratio;
    }

    @Override
    public double onVoltage(double input, double output) {
        return input;
    }

    @Override
    public double blockedVoltage(double input, double output) {
        return input + output / ratio;
    }

    @Override
    public double rectifierVoltage(double input, double output) {
        return ratio * input + output;
    }

    @Override
    public double capacitorSwing(double loadCurrent, double dutyCycle, double inductorRipple) {
        return loadCurrent * dutyCycle;
    }

    @Override
    public double capacitorStep(double loadCurrent, double dutyCycle, double inductorRipple) {
        return loadCurrent / (1 - dutyCycle) + inductorRipple / (2 * ratio);
    }

    @Override
    public double rightHalfPlaneZero(double dutyCycle, double loadResistance, double inductance) {
        double off = 1 - dutyCycle;
        return loadResistance * off * off / (2 * Math.PI * dutyCycle * ratio * ratio * inductance);
    }

    @Override
    public Optional<Transformer.Turns> proposedTurns(double lowestInput, double output) {
        double off = 1 - USUAL_DUTY_CYCLE;
        return Optional.of(Transformer.Turns.atLeast(output * off / (USUAL_DUTY_CYCLE * lowestInput))
                .withoutReset());
    }

    /** Its magnetizing inductance is the inductance that stores the energy, which is proposed as such. */
    @Override
    public List<StagePart> proposed(List<Rating> ratings, Preferred preferred) {
        Rating lowest = ratings.get(0);
        return proposedTurns(lowest.inputVoltage(), lowest.outputVoltage())
                .<List<StagePart>>map(turns -> List.of(Transformer.of(turns, Double.NaN)))
                .orElse(List.of());
    }
}
