package org.voltsecond.sizing;

import java.util.ArrayList;
import java.util.List;
import java.util.function.ToDoubleFunction;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.StagePart;
import org.voltsecond.stage.StageParts;
import org.voltsecond.stage.Topology;
import org.voltsecond.stage.Transformer;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Parts that the formulas propose for a specification, the output capacitor by what is left of it at the output voltage. Inductance and capacitance are the least that meet the targets over
 * the whole input range at full load, rounded up to the preferred series, and the ESR limit is rounded down.
 *
 * <p>The largest ripple of a boost stage, as a fraction of its mean current, is not at an end of the input range but at
 * about two thirds of the output voltage; where that lies in the range it is looked at, and checked, as well.
 *
 * <pre>{@code
 * double inductance = proposal.inductance(); // 22.0 µH
 * double capacitance = proposal.capacitance(); // 10.0 µF
 * Converter full = proposal.converter(new Corner(15, 2)); // at 15 V and 2 A, ready to run
 * boolean holds = proposal.check().passes(); // true
 * }</pre>
 *
 * @param specification what was asked for
 * @param dutyCycle range over the input range at full load, with drops
 * @param leastInductance what the formula asks for, H
 * @param inductance the preferred value, H
 * @param leastCapacitance what the formula asks for, F
 * @param capacitance the preferred value, F
 * @param largestSeriesResistance the ESR that the formula allows with this inductor and capacitor, Ω; 0 if nothing is left
 *     of the ripple
 * @param seriesResistance the preferred value, Ω
 * @param further the parts beyond the usual ones that the stage proposes, such as a coupling capacitor
 */
public record PartsProposal(
        Specification specification,
        Span dutyCycle,
        double leastInductance,
        double inductance,
        double leastCapacitance,
        double capacitance,
        double largestSeriesResistance,
        double seriesResistance,
        List<StagePart> further) {
    private static final int MOST_STEPS = 24;

    /** The next preferred value is looked for this much above the last, a quarter of the finest step there is. */
    private static final double BEYOND = 1.003;

    /**
     * Copies the list.
     *
     * @param specification what was asked for
     * @param dutyCycle range over the input range at full load, with drops
     * @param leastInductance what the formula asks for, H
     * @param inductance the preferred value, H
     * @param leastCapacitance what the formula asks for, F
     * @param capacitance the preferred value, F
     * @param largestSeriesResistance the ESR that the formula allows, Ω
     * @param seriesResistance the preferred value, Ω
     * @param further the parts beyond the usual ones that the stage proposes
     */
    public PartsProposal {
        further = List.copyOf(further);
    }

    /**
     * Proposes parts.
     *
     * @param wanted what the stage is to do
     * @return the proposal
     * @throws SizingException if the drops leave no duty cycle
     */
    public static PartsProposal of(Specification wanted) {
        double least = highest(wanted, point -> leastInductance(wanted, point));
        return with(wanted, wanted.series().inductance().atLeast(least), 0);
    }

    /** The proposal with a given inductor and at least some capacitance, F. */
    private static PartsProposal with(Specification wanted, double inductance, double atLeast) {
        double share = wanted.capacitiveShare() * wanted.outputRipple();
        List<StagePart> further = further(wanted);
        Topology stage = wanted.topology().with(all(wanted, inductance, further));
        double low = -highest(wanted, point -> -point.dutyCycle());
        double high = highest(wanted, RatedPoint::dutyCycle);
        double left = wanted.series().leftAt(wanted.outputVoltage());
        double least = highest(wanted, point -> capacitance(wanted, stage, point, inductance, share)) / left;
        double capacitance = wanted.series().capacitance().atLeast(Math.max(least, atLeast));
        double resistance = Math.max(
                0, -highest(wanted, point -> -resistance(wanted, stage, point, inductance, left * capacitance)));
        return new PartsProposal(
                wanted,
                new Span(low, high),
                highest(wanted, point -> leastInductance(wanted, point)),
                inductance,
                least,
                capacitance,
                resistance,
                resistance > 0 ? wanted.series().resistance().atMost(resistance) : 0,
                further);
    }

    private static List<StagePart> further(Specification wanted) {
        List<Topology.Rating> ratings = inputs(wanted).stream()
                .map(input -> point(wanted, input).rating(wanted))
                .toList();
        PartSeries series = wanted.series();
        return wanted.topology()
                .proposed(ratings, new Topology.Preferred(series.inductance()::atLeast, series.capacitance()::atLeast));
    }

    /** All values on which the rules of a stage may depend. */
    private static StageParts all(Specification wanted, double inductance, List<StagePart> further) {
        StageParts given = Specification.withAll(StageParts.none(), wanted.given());
        StageParts all = Specification.withAll(given, further);
        // turns that are given stay; where the transformer stores the energy the inductance is its own
        Transformer core = given.get(Transformer.class)
                .or(() -> all.get(Transformer.class))
                .orElse(null);
        double proposed = all.get(Transformer.class)
                .map(Transformer::magnetizingInductance)
                .orElse(Double.NaN);
        boolean stores = !wanted.topology().hasInductor();
        StageParts with = core == null ? all : all.with(core.withMagnetizingInductance(stores ? inductance : proposed));
        return stores
                ? with
                : with.withInductor(
                        new StageParts.Series(inductance, wanted.parts().inductorResistance()));
    }

    private static double highest(Specification wanted, ToDoubleFunction<RatedPoint> figure) {
        return inputs(wanted).stream()
                .map(input -> point(wanted, input))
                .mapToDouble(figure)
                .max()
                .orElseThrow();
    }

    private static RatedPoint point(Specification wanted, double input) {
        RatedPoint point = RatedPoint.of(wanted, input);
        if (!(point.dutyCycle() < 1)) {
            throw new SizingException(List.of("the drops of the parts leave no duty cycle for "
                    + Quantity.brief(wanted.outputVoltage(), Unit.VOLT) + " at an input of "
                    + Quantity.brief(input, Unit.VOLT) + " and a load of "
                    + Quantity.brief(wanted.load().high(), Unit.AMPERE)
                    + "; take parts with less resistance, a higher input or a smaller load"));
        }
        return point;
    }

    private static double leastInductance(Specification wanted, RatedPoint point) {
        double ripple = wanted.inductorRipple() * point.inductorCurrent();
        return StageFormulas.inductance(point.onVoltage(), point.dutyCycle(), wanted.switchingFrequency(), ripple);
    }

    private static double capacitance(
            Specification wanted, Topology stage, RatedPoint point, double inductance, double outputRipple) {
        double frequency = wanted.switchingFrequency();
        return StageFormulas.capacitance(
                stage,
                wanted.load().high(),
                point.dutyCycle(),
                point.ripple(frequency, inductance),
                frequency,
                outputRipple);
    }

    /** What the chosen capacitance takes of the ripple is not left for the ESR. */
    private static double resistance(
            Specification wanted, Topology stage, RatedPoint point, double inductance, double capacitance) {
        double ripple = point.ripple(wanted.switchingFrequency(), inductance);
        double capacitive = capacitance(wanted, stage, point, inductance, 1) / capacitance;
        double load = wanted.load().high();
        return StageFormulas.seriesResistance(
                stage, load, point.dutyCycle(), ripple, wanted.outputRipple() - capacitive);
    }

    /** The ends of the input range, and what lies between them where the stage has most ripple for its current. */
    static List<Double> inputs(Specification wanted) {
        Span range = wanted.input();
        List<Double> inputs = new ArrayList<>(List.of(range.low()));
        double current = 1.5 * wanted.load().high();
        wanted.topology()
                .inputOfMostRipple(
                        wanted.outputVoltage(),
                        wanted.parts().onDrop(current),
                        wanted.parts().offDrop(current))
                .ifPresent(worst -> {
                    if (worst > range.low() && worst < range.high()) {
                        inputs.add(worst);
                    }
                });
        if (range.high() > range.low()) {
            inputs.add(range.high());
        }
        return inputs;
    }

    /**
     * Returns the proposal with another inductor, with capacitor and ESR limit worked out for it.
     *
     * @param henry inductance, H; more than 0
     * @return a new proposal
     */
    public PartsProposal withInductance(double henry) {
        return with(specification, henry, capacitance);
    }

    /** {@return inductor and parts beyond the usual ones, such as a transformer, as they are proposed} */
    public StageParts parts() {
        return all(specification, inductance, further);
    }

    /**
     * Puts the exact steady state at every corner beside the targets.
     *
     * @return the check
     */
    public PartsCheck check() {
        return PartsCheck.of(this);
    }

    /**
     * Tells which of the practical limits the stage passes at full load, before anything is simulated.
     *
     * @return each limit with the duty cycle that passes it and what would be possible at it; empty for none
     */
    public List<String> obstacles() {
        return Obstacles.of(this);
    }

    /**
     * Takes the next larger inductor or capacitor of the series, as the check asks for, until both ripples meet their
     * targets at every corner, at most 24 times. Other limits are not served.
     *
     * @return this proposal if it passes, otherwise the last one tried; its check tells whether it passes
     */
    public PartsProposal refined() {
        PartsProposal next = this;
        for (int step = 0; step < MOST_STEPS; step++) {
            PartsCheck check = next.check();
            if (check.violates(Criterion.INDUCTOR_RIPPLE)) {
                next = next.withInductance(specification.series().inductance().atLeast(BEYOND * next.inductance));
            } else if (check.violates(Criterion.OUTPUT_RIPPLE)) {
                next = with(specification, next.inductance, BEYOND * next.capacitance);
            } else {
                return next;
            }
        }
        return next;
    }

    /**
     * Puts the converter together, with the ESR at its limit.
     *
     * @param corner the operating point; the load is the resistor that draws its current at the wanted output
     * @return the converter, with the ideal duty cycle of continuous conduction
     */
    public Converter converter(Corner corner) {
        ConductingParts parts = specification.parts();
        PowerStage stage = PowerStage.of(specification.topology())
                .with(all(specification, inductance, further))
                .input(corner.inputVoltage())
                .outputCapacitor(capacitance, seriesResistance)
                .bias(specification.series().bias(capacitance).toArray(Bend[]::new))
                .transistor(parts.onResistance(), parts.transistorDrop())
                .load(specification.loadKind().drawing(corner.loadCurrent(), specification.outputVoltage()));
        PowerStage rectified = parts.synchronous()
                ? stage.synchronousRectifier(parts.rectifierResistance())
                : stage.rectifier(parts.forwardDrop(), parts.rectifierResistance());
        double duty = StageFormulas.dutyCycle(
                specification.topology(), corner.inputVoltage(), specification.outputVoltage(), 0, 0);
        return rectified.drive(Drive.fixedDuty(duty, specification.switchingFrequency()));
    }

    @Override
    public String toString() {
        return "L " + Quantity.format(inductance, Unit.HENRY) + ", C " + Quantity.format(capacitance, Unit.FARAD)
                + ", ESR at most " + Quantity.format(seriesResistance, Unit.OHM);
    }
}
