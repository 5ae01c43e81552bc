/**
 * Emissions into the supply: what a receiver would read at an artificial network in each supply line, from the exact harmonics of the
 * steady state, against limit lines. It is an estimate before a measurement, not one: layout, coupling between parts, what parts and
 * leads radiate, and all that a part is beside its value at high frequencies are not in the circuit.
 *
 * <p>The network (CISPR 16-1-2, its high-frequency part: an inductor beside the 50 Ω of the receiver; the supply ideal, the coupling of
 * the measuring side left out) lies in both supply lines and is part of the circuit whose steady state is taken. The harmonics are Fourier integrals in
 * closed form ({@link org.voltsecond.waveform.Spectrum#of}); levels are in dBµV of the RMS value.
 */
@NullMarked
package org.voltsecond.emission;

import org.jspecify.annotations.NullMarked;
