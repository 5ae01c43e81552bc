/**
 * The piecewise-affine system: exact flow, guards, certified events and the trajectory. No word of electricity.
 *
 * <h2>The system</h2>
 *
 * <p>In a {@linkplain org.voltsecond.engine.Configuration configuration} the state x obeys
 *
 * <pre>  dx/dt = A x + b</pre>
 *
 * <p>and looks at <i>guards</i>, affine functions g(x, t) = c&#7488;x + d + e t of the state and of the time t since the clock edge.
 * Where a guard falls through zero, or a time known in advance comes, a {@linkplain org.voltsecond.engine.SwitchingLaw switching
 * law} says which {@linkplain org.voltsecond.engine.Phase phase} follows, and an {@linkplain org.voltsecond.engine.Entry entry} maps
 * the state, x&#8314; = S x&#8315; + r (nearly always the identity).
 *
 * <h2>The flow</h2>
 *
 * <p>Within an interval the solution is a power series in the interval's own time t, whose coefficients follow from each other:
 *
 * <pre>  x(t) = &#931; a_k t^k,   a_0 = x,   a_1 = A x + b,   a_(k+1) = A a_k / (k + 1)</pre>
 *
 * <p>It is cut after the degree n at which the remainder is below round-off; with h the length of the interval that remainder is at most
 *
 * <pre>  |a_(n+1)| h^(n+1) / (1 - |A| h / (n + 2))        for |A| h &lt; n + 2</pre>
 *
 * <p>(a geometric series of what is left out). Longer intervals are split, and stiff ones are passed by steps that double, through
 * powers of the same exponential matrix (C. Moler, C. Van Loan, Nineteen dubious ways to compute the exponential of a matrix,
 * twenty-five years later, SIAM Review 45 (2003) 3-49, from memory, methods 1 and 3). One polynomial so gives end state, values in
 * between and every guard. States are scaled so that the square of the norm is the stored energy: then the lossless part of A is
 * skew-symmetric, its norm is the natural frequency, and rounding does not grow.
 *
 * <h2>Events</h2>
 *
 * <p>A guard along an interval is a polynomial. Written with Bernstein polynomials on 0..h,
 *
 * <pre>  g(t) = &#931; c_k C(n, k) (t/h)^k (1 - t/h)^(n-k)      lies between the least and the largest c_k</pre>
 *
 * <p>so that coefficients of one sign are a proof that nothing crosses; otherwise the interval is halved until one crossing is alone,
 * which is then found to the last bit of time (R. T. Farouki, The Bernstein polynomial basis: a centennial retrospective,
 * Computer Aided Geometric Design 29 (2012) 379-419, from memory). Nothing is sampled, so a pair of crossings within one
 * interval is found as well.
 *
 * <h2>Periods that repeat</h2>
 *
 * <p>Most periods are like the one before: the same phases, with events at nearly the same times. Let d be by how much an event comes
 * later than where it was worked out before, t its time and t' that from there to the next edge. Then the state at the edge is
 *
 * <pre>  x' = e^(A' t') e^(-A' d) e^(A d) e^(A t) x  =  &#931; (X_k x + x_k) d^k        and the guard  g(d) = &#931; (c_k&#7488; x + e_k) d^k</pre>
 *
 * <p>(the constants of the dynamics are left out in the middle), two polynomials whose coefficients are affine in the state x at the
 * start and are worked out once. What makes this right is that every other guard stays above zero on the way. For one state that is a
 * number of inequalities m &gt; 0; by how much each m can change over a box of states about that one is a sum of magnitudes, so that
 * all hold in a box of a size that the least m tells. A period that starts in it needs no look at them.
 *
 * <h2>The map of a period and its derivative</h2>
 *
 * <p>{@link org.voltsecond.engine.PeriodMap} takes the state over one clock period. Its derivative is the product of the
 * exponential matrices of the intervals and, at an event of a guard, of the saltation matrix
 *
 * <pre>  I + (f&#8314; - f&#8315;) c&#7488; / (c&#7488; f&#8315; + e),        f&#8315; and f&#8314;: dx/dt before and after</pre>
 *
 * <p>since a disturbed state meets the guard earlier or later (R. I. Leine, H. Nijmeijer, Dynamics and Bifurcations of Non-Smooth
 * Mechanical Systems, Springer 2004, ch. 7, from memory). Steady states, stability and derivatives are read off it in
 * {@link org.voltsecond.analysis}.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.engine;

import org.jspecify.annotations.NullMarked;
