package org.voltsecond.circuit;

import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.AffineMap;

/**
 * The linear circuit that is left when every switch and every rectifier is in a known position: its dynamics and
 * everything that can be read off it. Immutable and safe to use from any thread.
 *
 * <pre>{@code
 * Network network = Network.of(rail.circuit());
 * Regime freewheeling = network.regime(0, network.rectifierBit("D1"));
 * double slope = freewheeling.rates().get(0).valueAt(new double[] {2, 5}, 0) * micro(1); // -0.2500 A in a microsecond
 * }</pre>
 *
 * @param name which switches are closed and which rectifiers conduct
 * @param closed the closed switches, bit k for switch k of the circuit
 * @param conducting the conducting rectifiers, bit k for rectifier k of the circuit; in the bits above, the segments of the
 *     parts that bend
 * @param rates the rate of each state, SI units
 * @param channels what can be read off, in the order of {@link Network#nodeChannel}, {@link Network#voltageChannel},
 *     {@link Network#currentChannel}
 * @param conditions for each rectifier, what must not be negative: its current while it conducts (A), its forward drop
 *     less its voltage while it blocks (V); then for each part that bends what is left to the upper end of its segment, and
 *     what it is above the lower end (A of an inductor, else V)
 * @param constraints what is zero in this regime, such as the current of an inductor that is cut off
 * @param entry how the state jumps on entering; null where there are no constraints. The jump is no more than round-off
 *     unless capacitances meet through a path without resistance
 * @param impulses for each rectifier, what must not be negative over the instant of entering, as a form of the state before:
 *     the charge that it carries while it conducts (C), less the volt-seconds across it while it blocks (V s); empty where
 *     there are no constraints
 */
public record Regime(
        String name,
        long closed,
        long conducting,
        List<AffineForm> rates,
        List<AffineForm> channels,
        List<AffineForm> conditions,
        List<AffineForm> constraints,
        @Nullable AffineMap entry,
        List<AffineForm> impulses) {}
