package org.voltsecond.plot.slides;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.circuit.Part;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.StageValue;
import org.voltsecond.plot.Panel;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.plot.RowBuilder;
import org.voltsecond.plot.RowBuilder.Sketch;
import org.voltsecond.plot.StackBuilder;
import org.voltsecond.plot.TimeBand;
import org.voltsecond.plot.explain.Balance;
import org.voltsecond.plot.explain.CurrentPaths;
import org.voltsecond.plot.explain.CurrentPaths.Slice;
import org.voltsecond.plot.explain.Family;
import org.voltsecond.plot.explain.RippleShares;
import org.voltsecond.plot.report.Findings;
import org.voltsecond.plot.slides.Slide.Draft;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/** What happens within one period. */
final class SteadySlides {
    /** A change of several devices one after the other makes short intervals in between, which nobody needs to see. */
    private static final int MOST_INTERVALS = 4;

    private static final double SHORTEST = 0.02;

    /** With a line ripple there are very many, all alike. */
    private static final int MOST_BANDS = 60;

    /** So many devices are told by their current. */
    private static final int MOST_DEVICES = 2;

    /** So many currents have room in a line. */
    private static final int MOST_CURRENTS = 4;

    /** A smaller share of the largest current is not told: it has no arrow either. */
    private static final double LEAST_SHARE = 0.01;

    private static final int DIGITS = 3;

    private SteadySlides() {}

    /**
     * What most slides begin from.
     *
     * @param findings what was found about the design
     * @param steady its steady state
     */
    record Orbit(Findings findings, ConverterSteadyState steady) {
        static Orbit of(Findings findings) {
            return new Orbit(findings, findings.steadyState().get());
        }

        Converter converter() {
            return steady.converter();
        }

        Waveform output() {
            return steady.of(converter().outputVoltage());
        }

        boolean isCountable() {
            return steady.periodic().trajectory().size() <= MOST_BANDS;
        }

        List<TimeBand> bands() {
            return isCountable() ? TimeBand.of(steady) : List.of();
        }

        /** A line that warns below the message of each slide that shows this orbit. */
        Draft draft(String name) {
            String lasting = FrameSlides.lasting(steady);
            return new Draft(name).below(lasting.isEmpty() ? "" : "this orbit is" + lasting.substring(1));
        }

        /** The inductor whose current is the inductor current; of a transformer its winding. */
        Optional<String> inductor() {
            return converter().roles().inductor().or(() -> converter().roles().magnetizing());
        }
    }

    static Result<List<Slide>> currentPaths(Orbit orbit) {
        if (!orbit.isCountable()) {
            return Result.missing("its period has more intervals than can be told apart");
        }
        List<Slice> shown = CurrentPaths.of(orbit.steady).slices().stream()
                .filter(slice -> slice.end() - slice.start() > SHORTEST * orbit.steady.period())
                .sorted(Comparator.comparingDouble((Slice slice) -> slice.start() - slice.end()))
                .limit(MOST_INTERVALS)
                .sorted(Comparator.comparingDouble(Slice::start))
                .toList();
        List<Slide> slides = new ArrayList<>();
        for (Slice slice : shown) {
            Optional<Sketch> sketch =
                    FrameSlides.schematic(orbit.converter().circuit(), slice.currents(), slice.voltages());
            if (sketch.isEmpty()) {
                return Result.missing("its circuit has too many parts for a drawing that can be followed");
            }
            slides.add(path(
                    orbit,
                    slice,
                    "current-paths-" + (slides.size() + 1),
                    new RowBuilder("").row("", sketch.get()).build()));
        }
        return Result.of(slides);
    }

    private static Slide path(Orbit orbit, Slice slice, String name, Picture picture) {
        Draft draft = orbit.draft(name)
                .definition(
                        "Currents and voltages are means over the interval; bold is what carries, an arrow the way it flows, "
                                + "+ and − the voltage across an inductor. The currents at each node add up to zero.");
        String kind = slice.kind().name();
        String message = kind.charAt(0) + kind.substring(1).toLowerCase(java.util.Locale.ROOT) + " for "
                + draft.tell("duration", slice.end() - slice.start(), Unit.SECOND) + ": "
                + carrying(orbit, slice, draft)
                + inductor(orbit, slice, draft);
        slice.currents().forEach((port, current) -> draft.note(port, current, Unit.AMPERE));
        double most =
                slice.currents().values().stream().mapToDouble(Math::abs).max().orElse(0);
        String below = slice.currents().entrySet().stream()
                .sorted(Comparator.comparingDouble(each -> -Math.abs(each.getValue())))
                .filter(each -> Math.abs(each.getValue()) > LEAST_SHARE * most)
                .limit(MOST_CURRENTS)
                .map(each -> each.getKey() + " " + Quantity.format(Math.abs(each.getValue()), Unit.AMPERE, DIGITS))
                .collect(Collectors.joining(", ", "mean currents: ", ""));
        return draft.below(below + FrameSlides.lasting(orbit.steady)).of(message, picture);
    }

    private static String carrying(Orbit orbit, Slice slice, Draft draft) {
        if (slice.conducting().isEmpty()) {
            return "nothing conducts"
                    + orbit.converter()
                            .roles()
                            .outputCapacitor()
                            .map(name -> ", " + name + " alone feeds the load")
                            .orElse("");
        }
        return slice.conducting().stream()
                .sorted(Comparator.comparingDouble(device -> -current(slice, device)))
                .limit(MOST_DEVICES)
                .map(device -> device + " carries " + draft.tell(device, current(slice, device), Unit.AMPERE))
                .collect(Collectors.joining(", "));
    }

    private static double current(Slice slice, String device) {
        return Math.abs(slice.currents().getOrDefault(device, 0.0));
    }

    private static String inductor(Orbit orbit, Slice slice, Draft draft) {
        return orbit.inductor()
                .filter(slice.voltages()::containsKey)
                .filter(name -> !slice.conducting().isEmpty())
                .map(name -> ", " + name + " sees "
                        + draft.tell("across " + name, slice.voltages().getOrDefault(name, Double.NaN), Unit.VOLT))
                .orElse("");
    }

    static Result<List<Slide>> balance(Orbit orbit) {
        List<Slide> slides = new ArrayList<>();
        orbit.inductor().ifPresent(name -> slides.add(voltSeconds(orbit, name)));
        orbit.converter().roles().outputCapacitor().ifPresent(name -> slides.add(charge(orbit, name)));
        orbit.inductor().filter(name -> isInductor(orbit, name)).ifPresent(name -> slides.add(energy(orbit, name)));
        return slides.isEmpty() ? Result.missing("it has neither inductor nor output capacitor") : Result.of(slides);
    }

    private static boolean isInductor(Orbit orbit, String name) {
        return orbit.converter().circuit().ports().stream()
                .anyMatch(port -> port.name().equals(name)
                        && orbit.converter().circuit().part(port.part()) instanceof Part.Inductor);
    }

    private static Slide voltSeconds(Orbit orbit, String name) {
        Panel current = Panel.of(
                orbit.steady.of(orbit.converter().driven().current(name)).named("current, " + name));
        return balance(
                orbit.draft("volt-seconds")
                        .definition(
                                "Over one period of a steady state the voltage across an inductor, less that of its resistance, "
                                        + "integrates to zero: the two areas are equal."),
                orbit,
                Balance.voltSeconds(orbit.steady, name),
                Unit.VOLT_SECOND,
                name + " takes up %s and hands on as much: that holds the current",
                current);
    }

    private static Slide charge(Orbit orbit, String name) {
        return balance(
                orbit.draft("charge")
                        .definition(
                                "Over one period of a steady state the current of a capacitor integrates to zero: as much charge "
                                        + "flows in as out. Over the capacitance it is the part of the ripple that the charge makes."),
                orbit,
                Balance.charge(orbit.steady, name),
                Unit.COULOMB,
                name + " takes up %s and hands on as much: that holds the output",
                Panel.of(orbit.output().ripple().named("output about its mean")));
    }

    private static Slide energy(Orbit orbit, String name) {
        return balance(
                orbit.draft("energy")
                        .definition(
                                "The power into the inductance, without what the resistance of the inductor turns into heat, "
                                        + "integrated over one period."),
                orbit,
                Balance.energy(orbit.steady, name),
                Unit.JOULE,
                name + " takes up %s in each period and hands them on");
    }

    /** The areas, with what follows from them below. */
    private static Slide balance(Draft draft, Orbit orbit, Balance balance, Unit unit, String message, Panel... below) {
        String told = String.format(Locale.ROOT, message, draft.tell("taken up", balance.taken(), unit));
        draft.note("handed on", balance.given(), unit);
        StackBuilder stack = Pictures.stack().panel(balance.panel());
        for (Panel panel : below) {
            stack.panel(panel);
        }
        return draft.of(told, stack.bands(orbit.bands()).build());
    }

    static Result<List<Slide>> ripple(Orbit orbit) {
        if (orbit.converter().roles().outputCapacitor().isEmpty()) {
            return Result.missing("it has no output capacitor");
        }
        RippleShares shares = RippleShares.of(orbit.steady);
        Draft draft = orbit.draft("ripple")
                .definition(
                        "The ripple across the output capacitor at any instant is the sum of both parts; their peaks come at "
                                + "different instants, so that the peak to peak of the sum is less than the sum of both.");
        String message = "Of " + draft.tell("ripple", shares.whole().peakToPeak(), Unit.VOLT)
                + " of ripple the charge makes "
                + draft.tell("by the charge", shares.capacitive().peakToPeak(), Unit.VOLT)
                + ", the series resistance "
                + draft.tell("by the series resistance", shares.resistive().peakToPeak(), Unit.VOLT);
        return Result.of(List.of(draft.of(message, shares.picture(""))));
    }

    static Result<List<Slide>> inductances(Orbit orbit) {
        Converter converter = orbit.converter();
        Optional<String> name = orbit.inductor().filter(each -> isInductor(orbit, each));
        if (name.isEmpty()) {
            return Result.missing("it has no inductor of its own");
        }
        double own = ((Part.Inductor) converter.circuit().part(name.get())).inductance();
        Family family;
        try {
            family = Family.of(converter, StageValue.INDUCTANCE, own / 2, own, own * 2);
        } catch (NoSteadyStateException | IllegalArgumentException e) {
            return Result.missing(String.valueOf(e.getMessage()));
        }
        Draft draft = orbit.draft("inductances")
                .definition(
                        "Ripple of the inductor current from peak to peak, of steady states that differ in the inductance alone.");
        List<Family.Member> members = family.members();
        String message = "Half the inductance: "
                + draft.tell("ripple at half", members.get(0).inductorRipple(), Unit.AMPERE)
                + " of ripple current, twice: "
                + draft.tell("ripple at twice", members.get(2).inductorRipple(), Unit.AMPERE);
        draft.note("ripple of the design", members.get(1).inductorRipple(), Unit.AMPERE);
        return Result.of(List.of(draft.of(message, family.picture(""))));
    }
}
