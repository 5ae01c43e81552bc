package org.voltsecond.examples.design;

import static org.voltsecond.examples.design.DesignText.quantity;
import static org.voltsecond.examples.design.DesignText.rounded;
import static org.voltsecond.examples.design.DesignText.roundedUp;
import static org.voltsecond.examples.design.DesignText.table;

import java.util.Optional;
import org.voltsecond.converter.Converter;
import org.voltsecond.study.LoopProposal;
import org.voltsecond.study.LoopTarget;
import org.voltsecond.study.SizingException;
import org.voltsecond.study.SizingFormulas;
import org.voltsecond.study.SizingSpecification;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/** The regulator of a proposed design, with a transient and a frequency response that show it. */
final class RailLoop {
    /** Of the switching frequency, and of the zero in the right half-plane; common practice, no source. */
    private static final double USUAL_SHARE = 0.1;

    private static final double USUAL_SHARE_OF_ZERO = 0.25;
    /** A crossover that suits no compensator or not every corner is lowered by this factor. */
    private static final double LOWER = 0.7;

    private static final int MOST_TRIES = 12;
    /** A load step has come to rest after some time constants of the loop; common practice, no source. */
    private static final double REST = 20;

    /** And of its slow tail, which the zeros of the compensator make. */
    private static final double REST_OF_TAIL = 10;

    private final RailRegulator asked;
    private final SizingSpecification wanted;
    private final LoopProposal loop;

    private RailLoop(RailRegulator asked, SizingSpecification wanted, LoopProposal loop) {
        this.asked = asked;
        this.wanted = wanted;
        this.loop = loop;
    }

    /**
     * Proposes a regulator.
     *
     * @param stage at the typical input and full load, with the duty cycle that gives the output
     * @param inductance of its inductor, H
     */
    static RailLoop of(RailRegulator asked, SizingSpecification wanted, Converter stage, double inductance) {
        LoopProposal loop = Double.isNaN(asked.crossover())
                ? fast(asked, wanted, stage, inductance)
                : LoopProposal.of(stage, target(asked, asked.crossover()));
        return new RailLoop(asked, wanted, loop);
    }

    private static LoopTarget target(RailRegulator asked, double crossover) {
        return new LoopTarget(crossover, asked.phaseMargin(), asked.reference(), asked.ramp());
    }

    /** The first of lower and lower crossovers that can be had and leaves every corner stable; if none does, the last. */
    private static LoopProposal fast(
            RailRegulator asked, SizingSpecification wanted, Converter stage, double inductance) {
        double crossover = usualCrossover(wanted, inductance);
        for (int k = 1; k < MOST_TRIES; k++) {
            Optional<LoopProposal> loop = tried(stage, target(asked, rounded(crossover)));
            if (loop.isPresent()
                    && loop.get().check(wanted.input(), wanted.load()).isStable()) {
                return loop.get();
            }
            crossover *= LOWER;
        }
        return LoopProposal.of(stage, target(asked, rounded(crossover)));
    }

    private static Optional<LoopProposal> tried(Converter stage, LoopTarget target) {
        try {
            return Optional.of(LoopProposal.of(stage, target));
        } catch (SizingException e) {
            return Optional.empty();
        }
    }

    private static double usualCrossover(SizingSpecification wanted, double inductance) {
        double output = wanted.outputVoltage();
        double duty = SizingFormulas.dutyCycle(wanted.topology(), wanted.input().low(), output, 0, 0);
        double zero = SizingFormulas.wrongWayZero(
                wanted.topology(), duty, output / wanted.load().high(), inductance);
        return Math.min(USUAL_SHARE * wanted.switchingFrequency(), USUAL_SHARE_OF_ZERO * zero);
    }

    /** The tables of drive, transient and frequency response. */
    String text(double usualSoftStart) {
        double softStart = Double.isNaN(asked.softStart()) ? usualSoftStart : asked.softStart();
        return String.join("\n\n", drive(softStart), transientRun(softStart), frequencies());
    }

    private String drive(double softStart) {
        String drive = table(
                "drive",
                "kind = \"voltage-mode\"",
                "switching_frequency = " + quantity(wanted.switchingFrequency(), Unit.HERTZ),
                "reference = " + quantity(asked.reference(), Unit.VOLT),
                "divider = " + asked.reference() / wanted.outputVoltage(),
                "ramp = { valley = \"0 V\", peak = " + quantity(asked.ramp(), Unit.VOLT) + " }",
                "control_limits = { low = \"0 V\", high = " + quantity(asked.ramp(), Unit.VOLT) + " }",
                "maximum_duty_cycle = " + rounded(loop.maximumDutyCycle()),
                "soft_start = " + brief(softStart));
        return drive + "\n" + compensator();
    }

    private String compensator() {
        String gain = "integrator_gain = " + rounded(loop.integratorGain()) + "  # a crossover of "
                + Quantity.brief(loop.target().crossover(), Unit.HERTZ) + " with a phase margin of "
                + Quantity.brief(loop.target().phaseMargin(), Unit.ONE) + " degrees at this input and load";
        String kind = "kind = \"type-" + loop.type() + "\"";
        return switch (loop.type()) {
            case 1 -> table("drive.compensator", kind, gain);
            case 2 ->
                table("drive.compensator", kind, gain, "zero = " + hertz(loop.zero()), "pole = " + hertz(loop.pole()));
            default ->
                table(
                        "drive.compensator",
                        kind,
                        gain,
                        "zeros = [" + hertz(loop.zero()) + ", " + hertz(loop.zero()) + "]",
                        "poles = [" + hertz(loop.pole()) + ", " + hertz(loop.pole()) + "]");
        };
    }

    private static String hertz(double value) {
        return quantity(rounded(value), Unit.HERTZ);
    }

    /** From rest to full load, then to half of it and back. */
    private String transientRun(double softStart) {
        double tail = loop.type() == 1 ? 0 : REST_OF_TAIL / loop.zero();
        double step = roundedUp(Math.max(REST / loop.target().crossover(), tail) / (2 * Math.PI));
        double ohm = wanted.outputVoltage() / wanted.load().high();
        return String.join(
                "\n\n",
                table("transient", "duration = " + brief(softStart + 3 * step), "start = \"rest\""),
                change(softStart + step, 2 * ohm),
                change(softStart + 2 * step, ohm));
    }

    private static String change(double time, double ohm) {
        return "[[transient.change]]\ntime = " + brief(time) + "\nload = { resistance = " + quantity(ohm, Unit.OHM)
                + " }";
    }

    private static String brief(double seconds) {
        return DesignText.quoted(Quantity.brief(seconds, Unit.SECOND));
    }

    private String frequencies() {
        return table(
                "frequency_response",
                "from = " + quantity(roundedUp(loop.target().crossover() / 100), Unit.HERTZ),
                "to = " + quantity(rounded(0.45 * wanted.switchingFrequency()), Unit.HERTZ),
                "points_per_decade = 40");
    }
}
