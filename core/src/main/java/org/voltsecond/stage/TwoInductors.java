package org.voltsecond.stage;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.ToDoubleFunction;

/**
 * What SEPIC, Ćuk and zeta stage have in common: two inductors that the same voltages drive, the input voltage in the on interval
 * and the output voltage in the off interval, and a coupling capacitor between them.
 *
 * <p>Sources: ratio in continuous conduction: R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, 3rd ed., Springer
 * 2020, ch. 2 and 6; sizing of the second inductor and of the coupling capacitor: D. W. Hart, Power Electronics, McGraw-Hill 2011,
 * ex. 6-7 and 6-8. In discontinuous conduction and at its boundary the rectifier carries the currents of both inductors, whose
 * slopes add: the same balance as of an inverting stage with both side by side, L = L1 L2 / (L1 + L2), and with a coupling of
 * mutual inductance M, L = (L1 L2 - M<sup>2</sup>) / (L1 + L2 - 2 M). K counts with that.
 */
abstract class TwoInductors implements Topology {
    /** How much of its mean voltage a coupling capacitor swings, peak to peak: that of Hart's ex. 6-7. */
    private static final double COUPLING_RIPPLE = 0.05;

    /** Ripple of both inductor currents together, and of the second one, over that of the first. */
    private final double bothRipples;

    private final double secondRipple;
    /** Inductance of both side by side over that of the first. */
    private final double sideBySide;

    /** Both alike and apart, where no values are given yet. */
    TwoInductors() {
        bothRipples = 2;
        secondRipple = 1;
        sideBySide = 0.5;
    }

    TwoInductors(StageParts parts) {
        SecondInductor second = parts.required(SecondInductor.class);
        double l1 = parts.inductor().value();
        double l2 = second.inductance();
        double mutual = second.coupling() * Math.sqrt(l1 * l2);
        secondRipple = (l1 - mutual) / (l2 - mutual);
        bothRipples = 1 + secondRipple;
        sideBySide = (l1 * l2 - mutual * mutual) / (l1 + l2 - 2 * mutual) / l1;
    }

    @Override
    public final Topology with(StageParts parts) {
        return parts.get(SecondInductor.class).isPresent() ? of(parts) : this;
    }

    /** The same stage with the inductors of parts that have both. */
    abstract Topology of(StageParts parts);

    /** Ripple of the second inductor current over that of the first. */
    final double secondRipple() {
        return secondRipple;
    }

    @Override
    public final Set<Class<? extends StagePart>> needs() {
        return Set.of(SecondInductor.class, CouplingCapacitor.class);
    }

    @Override
    public final double continuousRatio(double dutyCycle) {
        return (isInverting() ? -1 : 1) * dutyCycle / (1 - dutyCycle);
    }

    @Override
    public final double discontinuousRatio(double dutyCycle, double k) {
        return (isInverting() ? -1 : 1) * dutyCycle / Math.sqrt(k);
    }

    @Override
    public final double criticalK(double dutyCycle) {
        return (1 - dutyCycle) * (1 - dutyCycle);
    }

    @Override
    public final double dutyCycle(double input, double output, double transistorDrop, double rectifierDrop) {
        return (output + rectifierDrop) / (input - transistorDrop + output + rectifierDrop);
    }

    @Override
    public final double discontinuousDutyCycleSquared(
            double input, double output, double rectifierDrop, double twiceFlux) {
        return sideBySide * twiceFlux * (output + rectifierDrop) / (input * input);
    }

    @Override
    public final Optional<String> obstacle(double lowestInput, double highestInput, double output) {
        return output > 0 == isInverting()
                ? Optional.of("its output is " + (isInverting() ? "below" : "above") + " 0 V")
                : Optional.empty();
    }

    /** The first inductor carries the input current, the second one that of the load. */
    @Override
    public final double outputShare(double dutyCycle) {
        return (1 - dutyCycle) / dutyCycle;
    }

    @Override
    public final double boundaryLoad(double dutyCycle, double inductorRipple) {
        return (1 - dutyCycle) * bothRipples * inductorRipple / 2;
    }

    @Override
    public final double onVoltage(double input, double output) {
        return input;
    }

    @Override
    public final double blockedVoltage(double input, double output) {
        return input + output;
    }

    /** What the rectifier carries at most: the currents of both inductors. */
    final double rectifierPeak(double loadCurrent, double dutyCycle, double inductorRipple) {
        return loadCurrent / (1 - dutyCycle) + bothRipples * inductorRipple / 2;
    }

    /** The second inductor for the ripple of the first, each as a share of its mean, and the coupling capacitor for its own. */
    @Override
    public final List<StagePart> proposed(List<Rating> ratings, Preferred preferred) {
        double inductance = most(
                ratings,
                at -> at.inputVoltage() * at.dutyCycle() / (at.frequency() * at.inductorRipple() * at.loadCurrent()));
        double capacitance = most(
                ratings,
                at -> at.loadCurrent() * at.dutyCycle() / (at.frequency() * COUPLING_RIPPLE * couplingVoltage(at)));
        double ohm = ratings.get(0).inductorResistance();
        return List.of(
                new SecondInductor(preferred.inductance().applyAsDouble(inductance), ohm, 0),
                new CouplingCapacitor(preferred.capacitance().applyAsDouble(capacitance), 0));
    }

    private static double most(List<Rating> ratings, ToDoubleFunction<Rating> figure) {
        return ratings.stream().mapToDouble(figure).max().orElseThrow();
    }

    /** The mean voltage of the coupling capacitor. */
    abstract double couplingVoltage(Rating at);
}
