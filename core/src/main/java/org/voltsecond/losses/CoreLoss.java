package org.voltsecond.losses;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.hipparchus.analysis.integration.gauss.GaussIntegrator;
import org.hipparchus.analysis.integration.gauss.GaussIntegratorFactory;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Port;
import org.voltsecond.control.SwitchPattern;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.engine.Piece;
import org.voltsecond.numeric.PolynomialRoots;
import org.voltsecond.stage.Roles;
import org.voltsecond.waveform.Signal;

/**
 * Loss in the core of the inductor by the improved generalised Steinmetz equation,
 * P_v = (1/T) integral of k_i |dB/dt|^alpha (Delta B)^(beta-alpha) dt, on the exact flux waveform. Where the flux is a
 * straight line in time the integral is in closed form, elsewhere it is a quadrature of the exact polynomial.
 *
 * <p>Source: K. Venkatachalam, C. R. Sullivan, T. Abdallah, H. Tacca, IEEE Workshop on Computers in Power Electronics 2002.
 *
 * <p>A flux that turns more than twice in a period, as under subharmonic oscillation or a ripple of the input, is split into
 * its major loop and minor loops, each with its own Delta B, as that source does. The effects of dc bias and of relaxation
 * while the flux rests are not in the equation.
 *
 * <pre>{@code
 * SteinmetzMaterial ferrite = new SteinmetzMaterial(0.25, 1.6, 2.5);
 * CoreLoss core = new CoreLoss(ferrite, 12e-6, 0.4e-6, 12); // 12 mm^2, 400 mm^3, 12 turns
 * double power = core.power(steady); // 12.08 mW
 * }</pre>
 *
 * @param material the material of the core
 * @param crossSection effective cross-section, m^2; more than 0
 * @param volume effective volume, m^3; more than 0
 * @param turns number of turns; more than 0
 * @param winding reference designator of the inductor, or "part.winding" of coupled inductors, that has these turns; empty for
 *     the inductor of the converter, of interleaved phases each
 */
public record CoreLoss(SteinmetzMaterial material, double crossSection, double volume, double turns, String winding)
        implements LossModel {
    private static final int NODES = 24;

    /**
     * Creates the model of the inductor of a converter.
     *
     * @param material the material of the core
     * @param crossSection effective cross-section, m^2; more than 0
     * @param volume effective volume, m^3; more than 0
     * @param turns number of turns; more than 0
     * @throws IllegalArgumentException if a value is not more than 0 and finite
     */
    public CoreLoss(SteinmetzMaterial material, double crossSection, double volume, double turns) {
        this(material, crossSection, volume, turns, "");
    }

    /**
     * Creates the model.
     *
     * @param material the material of the core
     * @param crossSection effective cross-section, m^2; more than 0
     * @param volume effective volume, m^3; more than 0
     * @param turns number of turns; more than 0
     * @param winding reference designator of the inductor, or "part.winding"; empty for the inductor of the converter
     * @throws IllegalArgumentException if a value is not more than 0 and finite
     */
    public CoreLoss {
        LossChecks.positive("core loss", "cross-section", crossSection, "m^2");
        LossChecks.positive("core loss", "volume", volume, "m^3");
        LossChecks.positive("core loss", "number of turns", turns, "(plain number)");
    }

    @Override
    public String cause() {
        return "core";
    }

    @Override
    public Map<String, Double> powers(ConverterSteadyState steady) {
        Converter converter = steady.converter();
        Map<String, Double> powers = new LinkedHashMap<>();
        for (String name : windings(converter)) {
            Port port = port(converter, name);
            powers.put(port.part(), volume * density(material, fluxDensity(steady, port)));
        }
        return powers;
    }

    /** Interleaved phases have an inductor each, all of the same kind. */
    private List<String> windings(Converter converter) {
        Roles roles = converter.roles();
        boolean phases = winding.isEmpty() && roles.pattern().timing() == SwitchPattern.Timing.INTERLEAVED;
        return phases
                ? roles.inductors()
                : List.of(winding.isEmpty() ? roles.inductor().orElse("") : winding);
    }

    private static Port port(Converter converter, String name) {
        return converter.circuit().ports().stream()
                .filter(port -> port.name().equals(name))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("core loss: there is no inductor or winding '" + name
                        + "' in the " + converter + "; name one, as \"L1\" or \"part.winding\""));
    }

    /**
     * Returns the flux density, which follows the current, of coupled inductors the currents of all: B = L i / (N A), of an inductor
     * that saturates B = λ(i) / (N A).
     *
     * @param steady a periodic steady state
     * @return the flux density over a period in T, without gaps; of interleaved phases that of the first
     * @throws IllegalArgumentException if there is no such inductor or winding
     */
    public List<Piece> fluxDensity(ConverterSteadyState steady) {
        Converter converter = steady.converter();
        return fluxDensity(steady, port(converter, windings(converter).get(0)));
    }

    private List<Piece> fluxDensity(ConverterSteadyState steady, Port port) {
        Converter converter = steady.converter();
        Part part = converter.circuit().part(port.part());
        if (part instanceof Part.Inductor inductor) {
            return pieces(steady, converter.driven().current(port.name())).stream()
                    .map(current -> linked(inductor, current, 1 / (turns * crossSection)))
                    .toList();
        }
        if (part instanceof Part.CoupledInductors coupled) {
            return pieces(steady, flux(converter, coupled, port).times(1 / (turns * crossSection)));
        }
        throw new IllegalArgumentException("core loss: " + part.name()
                + " stores no flux; give the core to the inductor that stands for its magnetizing inductance");
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

    /** The flux times a factor: a piece of the current lies on one segment between the knees of an inductor. */
    private static Piece linked(Part.Inductor inductor, Piece current, double factor) {
        double middle = current.valueAt(0.5);
        double incremental = inductor.inductance();
        double beyond = 0;
        for (Bend bend : inductor.saturation()) {
            if (Math.abs(middle) > bend.above()) {
                beyond += (incremental - bend.value()) * bend.above();
                incremental = bend.value();
            }
        }
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

    /**
     * Returns the loss for a flux density that repeats itself.
     *
     * @param material the material of the core
     * @param fluxDensity one period, T, as polynomials over time without gaps
     * @return the loss, W/m^3
     */
    public static double density(SteinmetzMaterial material, List<Piece> fluxDensity) {
        double period = fluxDensity.stream().mapToDouble(Piece::length).sum();
        double sum = 0;
        for (FluxLoops.Loop loop : FluxLoops.of(fluxDensity)) {
            double integral = loop.pieces().stream()
                    .mapToDouble(piece -> rateIntegral(piece, material.alpha()))
                    .sum();
            sum += StrictMath.pow(loop.swing(), material.beta() - material.alpha()) * integral;
        }
        return material.generalisedFactor() * sum / period;
    }

    /** The integral of |dB/dt|^alpha over one polynomial. */
    private static double rateIntegral(Piece piece, double alpha) {
        Piece rate = piece.derivative();
        if (rate.degree() == 0) {
            return StrictMath.pow(Math.abs(rate.coefficient(0)), alpha) * piece.length();
        }
        double sum = 0;
        double from = 0;
        for (double turn : PolynomialRoots.in01(rate.coefficients())) {
            sum += between(rate, alpha, from, turn);
            from = turn;
        }
        return (sum + between(rate, alpha, from, 1)) * piece.length();
    }

    /**
     * Between two turning points. There the rate is zero and its power not smooth, so the time is stretched at both ends by
     * the polynomial 10 s^3 - 15 s^4 + 6 s^5, which makes the integrand smooth enough for few nodes.
     */
    private static double between(Piece rate, double alpha, double from, double to) {
        return (to - from)
                * Rule.LEGENDRE.integrate(s -> {
                    double u = from + (to - from) * s * s * s * (10 + s * (-15 + 6 * s));
                    double stretch = 30 * s * s * (1 - s) * (1 - s);
                    return stretch * StrictMath.pow(Math.abs(rate.valueAt(u)), alpha);
                });
    }

    /** Nodes and weights, which take longer to find than many cores to measure: found once, when first asked for. */
    private static final class Rule {
        static final GaussIntegrator LEGENDRE = new GaussIntegratorFactory().legendre(NODES, 0, 1);

        private Rule() {}
    }
}
