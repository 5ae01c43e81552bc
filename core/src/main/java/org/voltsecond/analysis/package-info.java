/**
 * Transients, periodic steady state, conduction mode, stability, frequency response, derivatives and energy audit: walks over the
 * same piecewise-affine system, without averaging.
 *
 * <h2>Steady state</h2>
 *
 * <p>With P the map of the state over one period, a {@linkplain org.voltsecond.analysis.SteadyState steady state} is x = P(x). It is
 * found by Newton's method with the exact derivative M of the map (T. J. Aprille, T. N. Trick, Steady-state analysis of nonlinear
 * circuits with periodic inputs, Proc. IEEE 60 (1972) 108-114, from memory):
 *
 * <pre>  x &#8592; x + (I - M)&#8315;&#185; (P(x) - x)</pre>
 *
 * <p>Over it the mean voltage of every inductor and the mean current of every capacitor are zero, the balances of volt-seconds and of
 * charge from which the textbook's conversion ratios follow (R. W. Erickson, D. Maksimovi&#263;, Fundamentals of Power
 * Electronics, 3rd ed. 2020, ch. 2, from memory); tests hold results against them.
 *
 * <h2>Conduction</h2>
 *
 * <p>{@linkplain org.voltsecond.analysis.Conduction Conduction} is discontinuous where the rectifiers that carry the inductor current
 * end before the period does. For ideal parts, with K = 2 L / (R T), the boundary lies at
 *
 * <pre>
 *   buck  K = 1 - D      boost  K = D (1 - D)&#178;      inverting  K = (1 - D)&#178;
 * </pre>
 *
 * <p>(Erickson and Maksimovi&#263;, ch. 5, from memory). The analysis does not use them: it looks at which devices conduct.
 *
 * <h2>Stability</h2>
 *
 * <p>The eigenvalues of M are the multipliers: a small disturbance of the state is multiplied by them from period to period, and dies out
 * if all lie within the unit circle. Where one leaves it {@link org.voltsecond.analysis.Instability} tells how: at -1 the period doubles
 * (wide and narrow pulses alternate), at +1 two steady states meet, a complex pair begins a slow oscillation (S. Banerjee, G. C. Verghese,
 * eds., Nonlinear Phenomena in Power Electronics, IEEE Press 2001, ch. 3, from memory).
 *
 * <h2>Frequency response</h2>
 *
 * <p>{@link org.voltsecond.analysis.SmallSignal} linearises about the orbit. An injection u e^(j w t) gives a disturbance e^(j w t) p(t)
 * whose p repeats with the period,
 *
 * <pre>  dp/dt = (A - j w I) p + B u,      p(T) = p(0)</pre>
 *
 * <p>and at each event the saltation matrix of {@link org.voltsecond.engine} acts on it. The response is the mean of the signal's p. A
 * loop gain is taken without opening the loop, by an injection in series with the control voltage: T = - (what returns) / (what
 * goes in) (R. D. Middlebrook, Measurement of loop gain in feedback systems, Int. J. Electronics 38 (1975) 485-512, from memory).
 * {@link org.voltsecond.analysis.Margins} reads crossover, phase and gain margin off the exact curve.
 *
 * <h2>Derivatives</h2>
 *
 * <p>By a value q of a part the steady state changes by
 *
 * <pre>  dx/dq = (I - M)&#8315;&#185; &#8706;P/&#8706;q</pre>
 *
 * <p>and every measure by the chain rule ({@link org.voltsecond.analysis.Sensitivities}): no differences of two runs.
 *
 * <h2>Energy audit</h2>
 *
 * <p>For every run and every steady state {@link org.voltsecond.analysis.EnergyAudit} works out
 *
 * <pre>  energy in = energy out + losses + change of &#189; x&#7488; E x</pre>
 *
 * <p>from integrals of the same polynomials, and its residual is printed with the figures: what is wrong by more than round-off shows there.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.analysis;

import org.jspecify.annotations.NullMarked;
