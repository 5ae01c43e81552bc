package org.voltsecond.losses;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Port;
import org.voltsecond.control.SwitchPattern;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.engine.Piece;
import org.voltsecond.stage.Roles;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;

/**
 * A core with the turns on it, and so the flux density in it: B = λ / (N A), where the flux linkage λ follows the current; of coupled
 * inductors the currents of all. Where the inductance bends λ is the integral of it over the current, and not L i.
 *
 * <pre>{@code
 * WoundCore core = WoundCore.of(12e-6, 12); // 12 mm^2, 12 turns
 * double peak = core.peaks(rail, steady::of).get("L1"); // 342.3 mT
 * }</pre>
 *
 * @param crossSection effective cross-section, m^2; more than 0
 * @param turns number of turns; more than 0
 * @param winding reference designator of the inductor, or "part.winding" of coupled inductors or of a transformer with a magnetizing
 *     inductance across that winding, that has these turns; empty for the inductor of the converter, of interleaved phases each
 */
public record WoundCore(double crossSection, double turns, String winding) {
    /**
     * Checks the values.
     *
     * @param crossSection effective cross-section, m^2; more than 0
     * @param turns number of turns; more than 0
     * @param winding reference designator of the inductor, or "part.winding"; empty for the inductor of the converter
     * @throws IllegalArgumentException if a value is not more than 0 and finite
     */
    public WoundCore {
        LossChecks.positive("core", "cross-section", crossSection, "m^2");
        LossChecks.positive("core", "number of turns", turns, "(plain number)");
    }

    /**
     * Returns the core of the inductor of a converter.
     *
     * @param crossSection effective cross-section, m^2; more than 0
     * @param turns number of turns; more than 0
     * @return the core
     * @throws IllegalArgumentException if a value is not more than 0 and finite
     */
    public static WoundCore of(double crossSection, double turns) {
        return new WoundCore(crossSection, turns, "");
    }

    /**
     * Returns where a winding is linked with flux that a part of the circuit stores.
     *
     * @param converter the converter
     * @param name reference designator of an inductor, or "part.winding"
     * @return that inductor or winding; of a transformer the inductor across the winding
     * @throws IllegalArgumentException if there is none
     */
    static Port storing(Converter converter, String name) {
        Port named = converter.circuit().ports().stream()
                .filter(port -> port.name().equals(name))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("core: there is no inductor or winding '" + name
                        + "' in the " + converter + "; name one, as \"L1\" or \"part.winding\""));
        Part part = converter.circuit().part(named.part());
        if (part instanceof Part.IdealTransformer) {
            for (Part other : converter.circuit().parts()) {
                Port across = other.ports().get(0);
                if (other instanceof Part.Inductor
                        && across.plus().equals(named.plus())
                        && across.minus().equals(named.minus())) {
                    return across;
                }
            }
        }
        if (part instanceof Part.Inductor || part instanceof Part.CoupledInductors) {
            return named;
        }
        throw new IllegalArgumentException("core: " + name
                + " stores no flux; give the core to the inductor that stands for its magnetizing inductance");
    }

    /** Interleaved phases have an inductor each, all of the same kind. */
    List<Port> ports(Converter converter) {
        Roles roles = converter.roles();
        boolean phases = winding.isEmpty() && roles.pattern().timing() == SwitchPattern.Timing.INTERLEAVED;
        List<String> names = phases
                ? roles.inductors()
                : List.of(winding.isEmpty() ? roles.inductor().orElse("") : winding);
        return names.stream().map(name -> storing(converter, name)).toList();
    }

    /**
     * Returns the flux density in a steady state.
     *
     * @param steady a periodic steady state
     * @return the flux density over a period in T, without gaps; of interleaved phases that of the first
     * @throws IllegalArgumentException if there is no such inductor or winding
     */
    public List<Piece> fluxDensity(ConverterSteadyState steady) {
        return fluxDensity(steady, ports(steady.converter()).get(0));
    }

    List<Piece> fluxDensity(ConverterSteadyState steady, Port port) {
        Converter converter = steady.converter();
        List<Piece> linked = new ArrayList<>();
        for (Piece piece : pieces(steady, linking(converter, port))) {
            linked.add(
                    converter.circuit().part(port.part()) instanceof Part.Inductor inductor
                            ? linked(inductor, piece)
                            : piece);
        }
        return linked;
    }

    /**
     * Returns the highest magnitude of the flux density.
     *
     * @param converter the converter
     * @param waveforms of its signals: those of a steady state or of a run, or of a part of one
     * @return T by the names of the inductors or windings
     * @throws IllegalArgumentException if there is no such inductor or winding
     */
    public Map<String, Double> peaks(Converter converter, Function<Signal, Waveform> waveforms) {
        Map<String, Double> peaks = new LinkedHashMap<>();
        for (Port port : ports(converter)) {
            Waveform linking = waveforms.apply(linking(converter, port));
            double most = Math.max(Math.abs(linking.minimum()), Math.abs(linking.maximum()));
            // the flux grows with the current, so both are highest at once
            peaks.put(
                    port.name(),
                    converter.circuit().part(port.part()) instanceof Part.Inductor inductor
                            ? linked(inductor, Piece.of(0, 1, new double[] {most}))
                                    .valueAt(0)
                            : most);
        }
        return peaks;
    }

    /** The current of an inductor, which alone says how its inductance bends; of coupled ones the flux density itself. */
    private Signal linking(Converter converter, Port port) {
        return converter.circuit().part(port.part()) instanceof Part.CoupledInductors coupled
                ? flux(converter, coupled, port).times(1 / (turns * crossSection))
                : converter.driven().current(port.name());
    }

    /** The flux that the turns are linked with: that of their own current, and of the currents coupled with it. */
    private static Signal flux(Converter converter, Part.CoupledInductors coupled, Port port) {
        List<Double> row = coupled.inductances().get(coupled.ports().indexOf(port));
        Signal sum = converter.driven().current(port.name()).times(0);
        for (int k = 0; k < row.size(); k++) {
            String name = coupled.ports().get(k).name();
            sum = sum.plus(converter.driven().current(name).times(row.get(k)));
        }
        return sum;
    }

    /** The flux density of a current: a piece of it lies on one segment between the knees of an inductor. */
    private Piece linked(Part.Inductor inductor, Piece current) {
        double middle = current.valueAt(0.5);
        double incremental = inductor.inductance();
        double beyond = 0;
        for (Bend bend : inductor.saturation()) {
            if (Math.abs(middle) > bend.above()) {
                beyond += (incremental - bend.value()) * bend.above();
                incremental = bend.value();
            }
        }
        double factor = 1 / (turns * crossSection);
        double[] flux = current.coefficients();
        for (int k = 0; k < flux.length; k++) {
            flux[k] *= incremental * factor;
        }
        flux[0] += Math.signum(middle) * beyond * factor;
        return Piece.of(current.start(), current.length(), flux);
    }

    private static List<Piece> pieces(ConverterSteadyState steady, Signal signal) {
        return steady.periodic().trajectory().intervals().stream()
                .filter(interval -> interval.duration() > 0)
                .flatMap(interval -> interval.pieces(signal.in(interval.configuration())).stream())
                .toList();
    }
}
