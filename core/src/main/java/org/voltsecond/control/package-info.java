/**
 * What drives the switches of a converter, one or many.
 *
 * <h2>Who is who</h2>
 *
 * <ul>
 *   <li>A {@link org.voltsecond.control.Drive} is the gate of one switch in an open loop: when it is on within each period.
 *   <li>A {@link org.voltsecond.control.Regulator} is a control method with its values, before it is put to a circuit:
 *       {@link org.voltsecond.control.VoltageMode}, {@link org.voltsecond.control.CurrentMode} and the others. This is what one chooses.
 *   <li>A {@link org.voltsecond.control.Plant} says which switches of a circuit it drives and which signals it senses.
 *   <li>A {@link org.voltsecond.control.Controller} is a regulator on a plant: a set of modes with states of its own, which the engine
 *       runs together with the circuit; {@link org.voltsecond.control.ControlLaw} says what holds in a mode. Who writes a control method of
 *       a new kind writes these.
 *   <li>A {@link org.voltsecond.control.DrivenCircuit} is a circuit with all of its drives and its controller.
 *   <li>An {@link org.voltsecond.analysis.OutputRegulation} is what came of it: whether a steady state holds its output, and
 *       which {@link org.voltsecond.control.Limiter} keeps it from that.
 * </ul>
 *
 * <h2>From an error to a pulse</h2>
 *
 * <p>The error e = reference - divider &#183; |output voltage| passes a {@link org.voltsecond.control.Compensator}, and the control
 * voltage v_c that comes out decides the pulse:
 *
 * <pre>
 *   type 1    K / s
 *   type 2    K / s &#183; (1 + s / w_z) / (1 + s / w_p)
 *   type 3    K / s &#183; (1 + s / w_z1)(1 + s / w_z2) / ((1 + s / w_p1)(1 + s / w_p2))
 * </pre>
 *
 * <p>(names and use: R. W. Erickson, D. Maksimovi&#263;, Fundamentals of Power Electronics, 3rd ed. 2020, ch. 9; H. D. Venable, The K
 * factor: a new mathematical tool for stability analysis and synthesis, Proc. Powercon 10, 1983; both from memory).
 *
 * <ul>
 *   <li><b>Voltage mode</b>: on from the reset of a ramp until it reaches v_c. On a ramp from V_v to V_p that is a duty cycle of
 *       D = (v_c - V_v) / (V_p - V_v).
 *   <li><b>Current mode</b>: on at the clock until the inductor current plus a compensating slope m_a reaches the command. A small error of the
 *       current is multiplied from one period to the next by
 *
 *       <pre>  -(m_2 - m_a) / (m_1 + m_a)        m_1, m_2: rising and falling slope of the current</pre>
 *
 *       <p>so that without compensation (m_a = 0, m_2 / m_1 = D / (1 - D)) every duty cycle above one half alternates between wide and
 *       narrow pulses (Erickson and Maksimovi&#263;, 3rd ed., ch. 18, from memory). The loop need not be averaged to see that: the run
 *       shows it, and the multipliers of the steady state tell it.
 *   <li><b>Hysteretic</b> and <b>constant on-time</b>: without a clock; the frequency follows from the circuit.
 *   <li><b>Sampled</b>: a digital compensator with its delay and, if asked for, its steps of duty cycle.
 * </ul>
 *
 * <p>Comparators are guards like those of rectifiers, and compensators are states like those of the circuit, so that a closed loop runs in
 * the same exact engine as an open one. {@link org.voltsecond.control.Protection} surrounds a regulator: current limit, hiccup,
 * lock-out, dead time, pulse skipping, diode emulation.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.control;

import org.jspecify.annotations.NullMarked;
