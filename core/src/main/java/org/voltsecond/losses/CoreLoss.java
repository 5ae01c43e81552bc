package org.voltsecond.losses;

import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.hipparchus.analysis.integration.gauss.GaussIntegrator;
import org.hipparchus.analysis.integration.gauss.LegendreRuleFactory;
import org.hipparchus.util.Pair;
import org.voltsecond.circuit.Port;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.engine.Piece;
import org.voltsecond.numeric.PolynomialRoots;

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
 * @param volume effective volume, m^3; more than 0
 * @param core cross-section and turns
 */
public record CoreLoss(SteinmetzMaterial material, double volume, WoundCore core) implements LossModel {
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
        this(material, volume, WoundCore.of(crossSection, turns));
    }

    /**
     * Creates the model.
     *
     * @param material the material of the core
     * @param volume effective volume, m^3; more than 0
     * @param core cross-section and turns
     * @throws IllegalArgumentException if the volume is not more than 0 and finite
     */
    public CoreLoss {
        LossChecks.positive("core loss", "volume", volume, "m^3");
    }

    @Override
    public String cause() {
        return "core";
    }

    @Override
    public Map<String, Double> powers(ConverterSteadyState steady) {
        Map<String, Double> powers = new LinkedHashMap<>();
        for (Port port : core.ports(steady.converter())) {
            powers.merge(port.part(), volume * density(material, core.fluxDensity(steady, port)), Double::sum);
        }
        return powers;
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

    /**
     * Nodes and weights, which take longer to find than many cores to measure: found once, when first asked for. The usual factory
     * of Hipparchus would work out constants of 40 digits besides.
     */
    private static final class Rule {
        static final GaussIntegrator LEGENDRE = legendre();

        private Rule() {}

        private static GaussIntegrator legendre() {
            Pair<double[], double[]> rule = new LegendreRuleFactory().getRule(NODES);
            // from -1 to 1 on to 0 to 1
            return new GaussIntegrator(
                    Arrays.stream(rule.getFirst()).map(node -> 0.5 * node + 0.5).toArray(),
                    Arrays.stream(rule.getSecond()).map(weight -> 0.5 * weight).toArray());
        }
    }
}
