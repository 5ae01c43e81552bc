/**
 * Nodes and parts of a circuit, and their compilation into a piecewise-affine system.
 *
 * <h2>The equations of one configuration</h2>
 *
 * <p>While the same switches and rectifiers conduct a {@linkplain org.voltsecond.circuit.Circuit circuit} is linear. Inductors are taken
 * as current sources and capacitors as voltage sources, whose values are the state x; what is left is a network of resistances and
 * sources (C.-W. Ho, A. E. Ruehli, P. A. Brennan, The modified nodal approach to network analysis, IEEE Trans. Circuits and
 * Systems 22 (1975) 504-509, from memory):
 *
 * <pre>
 *   K y = F x + s             y: node voltages and branch currents, K symmetric, s: sources
 *   E dx/dt = S F&#7488; y         E: inductance matrix and capacitances, S: -1 for inductors, +1 for capacitors
 * </pre>
 *
 * <p>With K regular this is dx/dt = A x + b at once. Coupled inductors stand in E with their mutual inductances M = k &#8730;(L1 L2).
 *
 * <h2>Where states hang together</h2>
 *
 * <p>K is singular where inductors are cut off by open devices, or capacitors and ideal sources form a loop. With N the null space of K,
 *
 * <pre>  N&#7488; (F x + s) = 0</pre>
 *
 * <p>ties the states to each other: a cut-off inductor has no current, capacitors in a loop have voltages that add up. Differentiated,
 * the same condition gives the part of y that K leaves open. On entering such a configuration the state jumps to the tie, along the
 * direction that conserves flux linkage and charge,
 *
 * <pre>  x&#8314; = x&#8315; + E&#8315;&#185; S F&#7488; N &#946;        &#946; from N&#7488; (F x&#8314; + s) = 0</pre>
 *
 * <p>A null vector with F&#7488; N = 0 is a floating node or a loop of sources, which is refused by name; so is a jump that would let
 * energy vanish without a path, such as opening a switch on a current that has nowhere to go.
 *
 * <h2>Which rectifiers conduct</h2>
 *
 * <p>Of each rectifier either the current or the voltage below its forward drop is zero, and neither is negative:
 *
 * <pre>  i &#8805; 0,   V_F + R_D i - v &#8805; 0,   i (V_F + R_D i - v) = 0</pre>
 *
 * <p>a complementarity problem (M. K. &#199;amlibel, W. P. M. H. Heemels, A. J. van der Schaft, J. M. Schumacher, Switched networks and
 * complementarity, IEEE Trans. Circuits and Systems I 50 (2003) 1036-1046; R. W. Cottle, J.-S. Pang, R. E. Stone, The Linear
 * Complementarity Problem, 1992; both from memory). Of the configurations that the stored energy can enter without an impulse
 * that one holds whose currents and blocking voltages are right for the first instant: by their values, where these are zero by
 * their derivatives, and so on. No leak resistors and no table of one topology: in the idle interval of a buck stage the current is zero
 * and the switch node rests at the output voltage because the circuit says so.
 *
 * <h2>Reference directions</h2>
 *
 * <p>Two-terminal parts are given as plus and minus node: voltages count from plus to minus, currents flow from plus through
 * the part to minus. Reference designators are those of IEEE 315 (R, L, C, D, Q, V).
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.circuit;

import org.jspecify.annotations.NullMarked;
