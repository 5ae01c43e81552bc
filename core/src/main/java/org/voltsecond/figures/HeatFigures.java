package org.voltsecond.figures;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Function;
import java.util.function.Predicate;
import org.voltsecond.circuit.Part;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.losses.CapacitorStress;
import org.voltsecond.losses.HeatBalance;
import org.voltsecond.losses.HeatModel;
import org.voltsecond.losses.HeatedBody;
import org.voltsecond.losses.RippleCurrent;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/**
 * What is told of temperatures and of the currents that age capacitors, and what limits are held against. Temperatures are in °C.
 *
 * <pre>{@code
 * HeatBalance balance = HeatModel.at(50, HeatedBody.of("Q1", 60)).balance(steady).get();
 * double hot = FigureSheet.of(balance).get(HeatFigures.temperature("Q1")).get(); // 58.77 °C
 * }</pre>
 */
public final class HeatFigures {
    /** The temperature around the converter, °C. */
    public static final Figure<HeatBalance> AMBIENT = Figure.of(
            "ambient",
            "ambient",
            Unit.CELSIUS,
            balance -> Result.of(balance.model().ambient()));

    /** See {@link HeatBalance#loopGain}: thermal runaway at 1. */
    public static final Figure<HeatBalance> LOOP_GAIN =
            Figure.of("loop_gain", "thermal loop gain", Unit.ONE, balance -> Result.of(balance.loopGain()));

    /** The ambient above which no temperature balances, °C. */
    public static final Figure<HeatBalance> RUNAWAY_AMBIENT =
            Figure.of("runaway_ambient", "ambient of thermal runaway", Unit.CELSIUS, HeatBalance::runawayAmbient);

    /** All losses with the values that the parts have at their temperatures, W. */
    public static final Figure<HeatBalance> LOSSES = Figure.of(
            "losses",
            "losses at temperature",
            Unit.WATT,
            balance -> Result.of(balance.budget().total()));

    /** The efficiency with these losses. */
    public static final Figure<HeatBalance> EFFICIENCY = Figure.of(
            "efficiency",
            "efficiency at temperature",
            Unit.ONE,
            balance -> Result.finite(balance.budget().efficiency(), StageFigure.NO_POWER));

    private HeatFigures() {}

    /**
     * Returns the temperature of a body.
     *
     * @param body its name
     * @return the figure, °C
     */
    public static Figure<HeatBalance> temperature(String body) {
        return of(
                "parts/" + body + "/temperature",
                "temperature of " + body,
                Unit.CELSIUS,
                found -> found.temperature(body));
    }

    private static Figure<HeatBalance> of(String path, String words, Unit unit, Function<HeatBalance, Double> measure) {
        return Figure.of(path, words, unit, balance -> Result.of(measure.apply(balance)));
    }

    /** All that is told of a balance. */
    static List<Figure<HeatBalance>> told(HeatBalance balance) {
        List<Figure<HeatBalance>> all =
                new ArrayList<>(List.of(AMBIENT, LOOP_GAIN, RUNAWAY_AMBIENT, LOSSES, EFFICIENCY));
        for (HeatedBody body : balance.model().bodies()) {
            String name = body.name();
            String path = "parts/" + name + "/";
            all.add(temperature(name));
            all.add(of(
                    path + "loss",
                    "heat of " + name,
                    Unit.WATT,
                    found -> found.powers().getOrDefault(name, 0.0)));
            if (!Double.isNaN(body.maximum())) {
                all.add(of(path + "maximum", "what " + name + " stands", Unit.CELSIUS, found -> body.maximum()));
                all.add(of(
                        path + "margin",
                        "margin of " + name,
                        Unit.KELVIN,
                        found -> body.maximum() - found.temperature(name)));
            }
        }
        for (String sink : balance.model().sinks().keySet()) {
            all.add(of(
                    "sinks/" + sink + "/temperature",
                    "temperature of sink " + sink,
                    Unit.CELSIUS,
                    found -> found.sinkTemperatures().getOrDefault(sink, Double.NaN)));
        }
        for (int k = 0; k < balance.capacitors().size(); k++) {
            add(all, balance.capacitors().get(k), k);
        }
        return all;
    }

    private static void add(List<Figure<HeatBalance>> all, CapacitorStress stress, int index) {
        String path = "capacitors/" + stress.part() + "/";
        String of = " of " + stress.part();
        all.add(of(
                path + "rms",
                "ripple current" + of,
                Unit.AMPERE,
                found -> at(found, index).current().rms()));
        List<RippleCurrent.Band> bands = stress.current().bands();
        for (int k = 0; k < bands.size(); k++) {
            int band = k;
            String words = words(bands.get(k));
            all.add(of(
                    path + "bands/" + words.replace(' ', '_'),
                    "ripple current" + of + ' ' + words,
                    Unit.AMPERE,
                    found -> at(found, index).current().bands().get(band).rms()));
        }
        if (stress.rating() != null) {
            all.add(Figure.of(
                    path + "equivalent_ripple_current",
                    "ripple current at the rated frequency that heats " + stress.part() + " alike",
                    Unit.AMPERE,
                    found -> at(found, index).equivalent()));
            all.add(Figure.of(
                    path + "ripple_current_share",
                    "share of the permitted ripple current" + of,
                    Unit.ONE,
                    found -> at(found, index).share()));
            all.add(Figure.of(
                    path + "hot_spot",
                    "hot spot" + of,
                    Unit.CELSIUS,
                    found -> at(found, index).hotSpot()));
            double maximum = stress.rating().maximum();
            if (!Double.isNaN(maximum)) {
                all.add(of(path + "maximum", "what " + stress.part() + " stands", Unit.CELSIUS, found -> maximum));
                all.add(Figure.of(
                        path + "margin",
                        "margin" + of,
                        Unit.KELVIN,
                        found -> at(found, index).hotSpot().map(hot -> maximum - hot)));
            }
            all.add(Figure.of(
                    path + "expected_hours",
                    "hours that " + stress.part() + " is expected to live",
                    Unit.ONE,
                    found -> at(found, index).hours()));
        }
    }

    private static CapacitorStress at(HeatBalance found, int index) {
        return found.capacitors().get(index);
    }

    /**
     * Names a band of frequencies.
     *
     * @param band the band
     * @return for example "from 100 kHz to 1 MHz", "below 1 kHz" or "from 1 MHz on"
     */
    public static String words(RippleCurrent.Band band) {
        String to = Double.isInfinite(band.to()) ? "" : Quantity.brief(band.to(), Unit.HERTZ);
        if (band.from() == 0) {
            return to.isEmpty() ? "at all frequencies" : "below " + to;
        }
        String from = "from " + Quantity.brief(band.from(), Unit.HERTZ);
        return to.isEmpty() ? from + " on" : from + " to " + to;
    }

    /**
     * Returns what limits of temperatures and ripple currents are held against.
     *
     * @param model the thermal model
     * @param converter the converter; of what it has none of, no limit can be checked
     * @return by the limit, what it is of a steady state, or why there is none, as under thermal runaway
     */
    public static Map<Limit, Function<ConverterSteadyState, Result<Double>>> limits(
            HeatModel model, Converter converter) {
        Map<ConverterSteadyState, Result<HeatBalance>> known = new ConcurrentHashMap<>();
        Function<ConverterSteadyState, Result<HeatBalance>> balance =
                steady -> known.computeIfAbsent(steady, model::balance);
        Map<Limit, Function<ConverterSteadyState, Result<Double>>> limits = new EnumMap<>(Limit.class);
        hottest(model, converter, part -> part instanceof Part.Switch || part instanceof Part.Rectifier)
                .ifExists(hot -> limits.put(Limit.JUNCTION_TEMPERATURE, balance.andThen(found -> found.map(hot))));
        hottest(
                        model,
                        converter,
                        part -> part instanceof Part.Inductor
                                || part instanceof Part.CoupledInductors
                                || part instanceof Part.IdealTransformer)
                .ifExists(hot -> limits.put(Limit.WINDING_TEMPERATURE, balance.andThen(found -> found.map(hot))));
        if (!model.capacitors().isEmpty()) {
            limits.put(
                    Limit.CAPACITOR_TEMPERATURE,
                    balance.andThen(all -> all.flatMap(
                            found -> most(found, CapacitorStress::hotSpot, "no hot spot of a capacitor is known"))));
            limits.put(
                    Limit.RIPPLE_CURRENT_SHARE,
                    balance.andThen(all -> all.flatMap(
                            found -> most(found, CapacitorStress::share, "no capacitor has a rated ripple current"))));
        }
        return limits;
    }

    private static Result<Double> most(
            HeatBalance found, Function<CapacitorStress, Result<Double>> measure, String otherwise) {
        return found.capacitors().stream()
                .map(measure)
                .filter(Result::exists)
                .map(Result::get)
                .max(Double::compare)
                .map(Result::of)
                .orElse(Result.missing(otherwise));
    }

    private static Result<Function<HeatBalance, Double>> hottest(
            HeatModel model, Converter converter, Predicate<Part> kind) {
        List<String> names = model.bodies().stream()
                .filter(body -> kind.test(converter.circuit().part(body.parts().get(0))))
                .map(HeatedBody::name)
                .toList();
        return names.isEmpty()
                ? Result.missing("nothing of that kind")
                : Result.of(found ->
                        names.stream().mapToDouble(found::temperature).max().orElseThrow());
    }
}
