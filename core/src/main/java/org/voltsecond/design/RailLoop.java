package org.voltsecond.design;

import static org.voltsecond.design.RailDesign.DesignText.quantity;
import static org.voltsecond.design.RailDesign.DesignText.rounded;
import static org.voltsecond.design.RailDesign.DesignText.roundedUp;
import static org.voltsecond.design.RailDesign.DesignText.table;

import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.DutyCycleSearch;
import org.voltsecond.design.RailDesign.DesignText;
import org.voltsecond.design.RailReader.CarriedTables;
import org.voltsecond.design.RailReader.RailRegulator;
import org.voltsecond.sizing.Corner;
import org.voltsecond.sizing.LoopProposal;
import org.voltsecond.sizing.LoopTarget;
import org.voltsecond.sizing.PartsProposal;
import org.voltsecond.sizing.SizingException;
import org.voltsecond.sizing.Specification;
import org.voltsecond.sizing.StageFormulas;
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
    private static final int POINTS_PER_DECADE = 10;

    /** Limit of the duty cycle where less would do; common practice, no source. */
    private static final double USUAL_LIMIT = 0.9;
    /** A dip of the loop gain just below the crossover is none. */
    private static final double SHARE_OF_CROSSOVER = 0.7;
    /** A load step has come to rest after some time constants of the loop; common practice, no source. */
    private static final double REST = 10;

    /** And of its slow tail, of which exp(-5) is left. */
    private static final double REST_OF_TAIL = 5;

    /** Where the slowest crossing is sought from, in switching frequencies. */
    private static final double LOWEST = 1e-6;

    private final RailRegulator asked;
    private final Specification wanted;
    private final LoopProposal loop;
    private final double slowest;

    private RailLoop(RailRegulator asked, Specification wanted, LoopProposal loop) {
        this.asked = asked;
        this.wanted = wanted;
        this.loop = loop;
        slowest = slowestCrossing(loop, LOWEST * wanted.switchingFrequency());
    }

    /**
     * Proposes a regulator.
     *
     * @param stage at the typical input and full load, with the duty cycle that gives the output
     * @param parts its parts
     * @throws NoLoopException if there is no regulator as asked for
     */
    static RailLoop of(RailRegulator asked, Specification wanted, Converter stage, PartsProposal parts) {
        double most = mostDutyCycle(wanted, parts);
        try {
            RailLoop loop = Double.isNaN(asked.crossover())
                    ? fast(asked, wanted, stage, parts.inductance(), most)
                    : new RailLoop(asked, wanted, LoopProposal.of(stage, target(asked, asked.crossover()), most));
            return loop.requiredNotToDip();
        } catch (SizingException e) {
            throw new NoLoopException(e);
        } catch (IllegalStateException e) {
            throw new NoLoopException(new SizingException(List.of("the regulated converter has no loop gain ("
                    + e.getMessage() + "): take a lower crossover, or more ripple of the inductor current")));
        }
    }

    /** Half of what is left at the lowest input is left; what the controller can do at most, if the file says so. */
    private static double mostDutyCycle(Specification wanted, PartsProposal parts) {
        Corner lowest = new Corner(wanted.input().low(), wanted.load().high());
        double highest = DutyCycleSearch.forOutput(parts.converter(lowest), wanted.outputVoltage())
                .drive()
                .dutyCycle();
        return Math.min(wanted.limits().dutyCycle(), rounded(Math.max(USUAL_LIMIT, (1 + highest) / 2)));
    }

    /**
     * Where the loop gain falls through one first. With zeros far below the resonance of the filter it does so long before
     * the crossover, rises again, and the output then comes to rest as slowly as this says.
     */
    private static double slowestCrossing(LoopProposal loop, double from) {
        double crossover = loop.target().crossover();
        FrequencyResponse gain = loop.converter()
                .steadyState()
                .smallSignal()
                .loopGain(FrequencyResponse.decades(from, crossover, POINTS_PER_DECADE));
        return IntStream.range(0, gain.size())
                .filter(i -> gain.magnitude(i) < 1)
                // below its zeros the compensator is an integrator, so that the gain falls as the frequency rises
                .mapToDouble(i -> gain.frequency(i) * gain.magnitude(i))
                .findFirst()
                .orElse(crossover);
    }

    private static LoopTarget target(RailRegulator asked, double crossover) {
        return new LoopTarget(crossover, asked.phaseMargin(), asked.reference(), asked.ramp());
    }

    /**
     * The first of lower and lower crossovers that can be had, leaves every corner stable and is the only one. One with others
     * below it is taken where the file says so.
     */
    private static RailLoop fast(
            RailRegulator asked, Specification wanted, Converter stage, double inductance, double most) {
        double crossover = usualCrossover(wanted, inductance);
        RailLoop slow = null;
        for (int k = 1; k < MOST_TRIES; k++) {
            Optional<LoopProposal> loop = tried(stage, target(asked, rounded(crossover)), most);
            if (loop.isPresent()
                    && loop.get().check(wanted.input(), wanted.load()).isStable()) {
                RailLoop found = new RailLoop(asked, wanted, loop.get());
                if (!found.dips() || asked.slow()) {
                    return found;
                }
                slow = slow == null ? found : slow;
            }
            crossover *= LOWER;
        }
        return slow != null
                ? slow
                : new RailLoop(asked, wanted, LoopProposal.of(stage, target(asked, rounded(crossover)), most));
    }

    /** A loop gain of at least one below the crossover is a practical limit that holds unless the file says otherwise. */
    private RailLoop requiredNotToDip() {
        if (dips() && !asked.slow()) {
            throw new SizingException(List.of("loop gain of at least one below the crossover: with a crossover of "
                    + Quantity.format(loop.target().crossover(), Unit.HERTZ, 2) + " it is below one from about "
                    + Quantity.format(slowest, Unit.HERTZ, 2)
                    + " on, so that the output settles slowly; possible at that limit: current mode, which this table"
                    + " does not propose, a fixed duty cycle, or slow_loop = true for such a loop"));
        }
        return this;
    }

    private boolean dips() {
        return slowest < SHARE_OF_CROSSOVER * loop.target().crossover();
    }

    private static Optional<LoopProposal> tried(Converter stage, LoopTarget target, double most) {
        try {
            return Optional.of(LoopProposal.of(stage, target, most));
        } catch (SizingException e) {
            return Optional.empty();
        }
    }

    private static double usualCrossover(Specification wanted, double inductance) {
        double output = wanted.outputVoltage();
        double duty = StageFormulas.dutyCycle(wanted.topology(), wanted.input().low(), output, 0, 0);
        double zero = StageFormulas.rightHalfPlaneZero(
                wanted.topology(), duty, output / wanted.load().high(), inductance);
        double usual = USUAL_SHARE * wanted.switchingFrequency();
        // a stage of two inductors states no zero: there lower ones are tried until each corner is stable
        return Double.isNaN(zero) ? usual : Math.min(usual, USUAL_SHARE_OF_ZERO * zero);
    }

    /** The tables of drive, transient and frequency response. */
    String text(double softStart, CarriedTables carried) {
        return String.join(
                "\n\n",
                drive(softStart),
                carried.or("transient", transientRun(softStart)),
                carried.or("frequency_response", frequencies()));
    }

    /** The soft start of the file, or else a usual one. */
    double softStart(double usual) {
        return Double.isNaN(asked.softStart()) ? usual : asked.softStart();
    }

    /** The converter with its regulator, as it starts. */
    Converter starting(double softStart) {
        return loop.converter().withRegulator(((VoltageMode) loop.converter().regulator()).withSoftStart(softStart));
    }

    private String drive(double softStart) {
        String drive = table(
                "drive",
                "kind = \"voltage-mode\"",
                "switching_frequency = " + quantity(wanted.switchingFrequency(), Unit.HERTZ),
                "reference = " + quantity(asked.reference(), Unit.VOLT),
                "divider = " + DesignText.written(asked.reference() / wanted.outputVoltage()),
                "ramp = { valley = \"0 V\", peak = " + quantity(asked.ramp(), Unit.VOLT) + " }",
                "control_limits = { low = \"0 V\", high = "
                        + quantity(LoopProposal.heights(loop.converter()) * asked.ramp(), Unit.VOLT) + " }",
                "maximum_duty_cycle = " + rounded(loop.maximumDutyCycle()),
                "soft_start = " + brief(softStart));
        return drive + "\n\n" + dip() + compensator();
    }

    /** A comment; empty if the loop gain stays above one up to the crossover. */
    private String dip() {
        return dips()
                ? "# Below the crossover the loop gain is under one from about "
                        + Quantity.format(slowest, Unit.HERTZ, 2)
                        + " on: the output settles slowly. Current mode may suit this stage better.\n"
                : "";
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
        double step = roundedUp(Math.max(REST / loop.target().crossover(), REST_OF_TAIL * slowTime()) / (2 * Math.PI));
        double ohm = wanted.outputVoltage() / wanted.load().high();
        return String.join(
                "\n\n",
                surge() + table("transient", "duration = " + brief(softStart + 3 * step), "start = \"rest\""),
                change(softStart + step, 2 * ohm),
                change(softStart + 2 * step, ohm));
    }

    /**
     * Time constant of the slow tail, in radians: well below the filter's resonance the loop gain is (w / s) (1 + s / z)^n,
     * and 1 plus that has, to first order in s, its zero at s = -1 / (1 / w + n / z).
     */
    private double slowTime() {
        return 1 / slowest + (loop.type() == 1 ? 0 : (loop.type() - 1) / loop.zero());
    }

    private String surge() {
        return wanted.topology().feedsThrough()
                ? "# The input charges the output capacitor through inductor and rectifier, whatever the regulator does.\n"
                : "";
    }

    private static String change(double time, double ohm) {
        return "[[transient.change]]\ntime = " + brief(time) + "\nload = { resistance = "
                + quantity(DesignText.written(ohm), Unit.OHM) + " }";
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

    /** There is no regulator that does what the table [rail.regulator] asks for. */
    static final class NoLoopException extends RuntimeException {
        private static final long serialVersionUID = 1L;

        NoLoopException(SizingException reason) {
            super(String.join("; ", reason.faults()), reason);
        }
    }
}
