package org.voltsecond.circuit;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Random;
import net.jqwik.api.Assume;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import org.assertj.core.data.Offset;
import org.hipparchus.linear.EigenDecompositionSymmetric;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.SwitchingException;

/** What holds for every passive circuit, in whatever position its devices are. */
class NetworkProperties {
    private static int count(Circuit circuit, Class<? extends Part> kind) {
        return (int) circuit.parts().stream().filter(kind::isInstance).count();
    }

    private static RealMatrix scaledDynamics(Network network, Regime regime) {
        double[] scale = network.scale();
        RealMatrix a = MatrixUtils.createRealMatrix(scale.length, scale.length);
        for (int i = 0; i < scale.length; i++) {
            for (int j = 0; j < scale.length; j++) {
                a.setEntry(i, j, scale[i] * regime.rates().get(i).coefficient(j) / scale[j]);
            }
        }
        return a;
    }

    private static double[] randomState(Network network, Random random) {
        double[] state = network.scale();
        for (int j = 0; j < state.length; j++) {
            state[j] = random.nextGaussian() * 1e-3 / state[j];
        }
        return state;
    }

    private static Regime anyRegime(Circuit circuit, Network network, Random random) {
        long closed = random.nextLong() & (1L << count(circuit, Part.Switch.class)) - 1;
        long conducting = random.nextLong() & (1L << count(circuit, Part.Rectifier.class)) - 1;
        Regime regime = null;
        try {
            regime = network.regime(closed, conducting);
        } catch (SwitchingException refused) {
            Assume.that(false);
        }
        return java.util.Objects.requireNonNull(regime);
    }

    @Property(tries = 1000)
    void storedEnergyNeverGrowsOfItself(@ForAll long seed) {
        Circuit circuit = seed % 2 == 0 ? RandomCircuits.lossy(seed) : RandomCircuits.singular(seed);
        Network network = Network.of(circuit);
        Assume.that(network.scale().length > 0);
        RealMatrix a = scaledDynamics(network, anyRegime(circuit, network, new Random(seed)));
        RealMatrix symmetric = a.add(a.transpose()).scalarMultiply(0.5);
        double largest = new EigenDecompositionSymmetric(symmetric).getEigenvalues()[0];
        assertThat(largest).isLessThanOrEqualTo(1e-11 * (1e-300 + a.getNorm1()));
    }

    @Property(tries = 1000)
    void losslessCircuitsAreSkewSymmetric(@ForAll long seed) {
        Circuit circuit = RandomCircuits.lossless(seed);
        Network network = Network.of(circuit);
        Assume.that(network.scale().length > 0);
        RealMatrix a = scaledDynamics(network, anyRegime(circuit, network, new Random(seed)));
        assertThat(a.add(a.transpose()).getNorm1()).isLessThanOrEqualTo(1e-12 * a.getNorm1());
    }

    @Property(tries = 1000)
    void powersOfAllPartsAddUpToZero(@ForAll long seed) {
        Circuit circuit = seed % 2 == 0 ? RandomCircuits.lossy(seed) : RandomCircuits.singular(seed);
        Network network = Network.of(circuit);
        Random random = new Random(seed);
        Regime regime = anyRegime(circuit, network, random);
        double[] state = randomState(network, random);
        double sum = 0;
        double largestVoltage = 0;
        double largestCurrent = 0;
        for (Port port : circuit.ports()) {
            double voltage = Forms.voltage(network, regime, port.name()).valueAt(state, 0);
            double current = Forms.current(network, regime, port.name()).valueAt(state, 0);
            sum += voltage * current;
            largestVoltage = Math.max(largestVoltage, Math.abs(voltage));
            largestCurrent = Math.max(largestCurrent, Math.abs(current));
        }
        assertThat(sum).isCloseTo(0, Offset.offset(1e-12 * largestVoltage * largestCurrent + 1e-300));
    }

    @Property(tries = 1000)
    void theRegimeThatFollowsExistsAndItsSolutionIsUnique(@ForAll long seed) {
        Circuit circuit = RandomCircuits.lossy(seed);
        Network network = Network.of(circuit);
        Random random = new Random(seed);
        int rectifiers = count(circuit, Part.Rectifier.class);
        long closed = random.nextLong() & (1L << count(circuit, Part.Switch.class)) - 1;
        double[] state = randomState(network, random);
        Transition first = network.resolve(closed, 0, -1, state);
        double[] after = first.jump() == null ? state : Forms.after(first.jump(), state);
        for (long conducting = 0; conducting < 1L << rectifiers; conducting++) {
            Transition other = network.resolve(closed, conducting, -1, after);
            assertSameRates(network, first.regime(), other.regime(), after);
        }
    }

    private static void assertSameRates(Network network, Regime one, Regime other, double[] state) {
        double[] scale = network.scale();
        for (int j = 0; j < scale.length; j++) {
            AffineForm rate = one.rates().get(j);
            double size = Math.abs(rate.constant());
            for (int m = 0; m < scale.length; m++) {
                size = Math.max(size, Math.abs(rate.coefficient(m) * state[m]));
            }
            assertThat(other.rates().get(j).valueAt(state, 0))
                    .as("rate of %s in '%s' and '%s'", j, one.name(), other.name())
                    .isCloseTo(rate.valueAt(state, 0), Offset.offset(1e-9 * size + 1e-300));
        }
    }

    @Property(tries = 1000)
    void conditionsHoldInTheRegimeThatFollows(@ForAll long seed) {
        Circuit circuit = RandomCircuits.lossy(seed);
        Network network = Network.of(circuit);
        Random random = new Random(seed);
        long closed = random.nextLong() & (1L << count(circuit, Part.Switch.class)) - 1;
        double[] state = randomState(network, random);
        Transition next = network.resolve(
                closed, random.nextLong() & (1L << count(circuit, Part.Rectifier.class)) - 1, -1, state);
        double[] after = next.jump() == null ? state : Forms.after(next.jump(), state);
        for (AffineForm condition : next.regime().conditions()) {
            double size = Math.abs(condition.constant());
            for (int m = 0; m < after.length; m++) {
                size = Math.max(size, Math.abs(condition.coefficient(m) * after[m]));
            }
            assertThat(condition.valueAt(after, 0)).isGreaterThanOrEqualTo(-1e-12 * size);
        }
    }

    @Property(tries = 1000)
    void enteringAgainChangesNothing(@ForAll long seed) {
        Circuit circuit = RandomCircuits.singular(seed);
        Network network = Network.of(circuit);
        Random random = new Random(seed);
        Regime regime = anyRegime(circuit, network, random);
        Assume.that(regime.entry() != null);
        double[] before = randomState(network, random);
        double[] after = Forms.after(regime.entry(), before);
        double[] again = Forms.after(regime.entry(), after);
        double[] scale = network.scale();
        double norm = 0;
        for (int j = 0; j < scale.length; j++) {
            norm += Math.abs(scale[j] * before[j]) + Math.abs(scale[j] * after[j]);
        }
        for (int j = 0; j < scale.length; j++) {
            assertThat(scale[j] * again[j]).isCloseTo(scale[j] * after[j], Offset.offset(1e-12 * norm));
        }
    }

    /**
     * Positions gone through one by one as an oracle: where one of them is entered without a jump and has all its conditions
     * well above zero, every position that may be taken moves the state alike (rectifiers at a node that nothing else holds
     * may conduct a current of zero as well as block).
     */
    @Property(tries = 1000)
    void thePositionTakenMovesTheStateLikeTheOneThatFits(@ForAll long seed) {
        Circuit circuit = RandomRectifiers.of(seed, 1e-3);
        Network network = Network.of(circuit);
        Random random = new Random(seed);
        double[] state = randomState(network, random);
        int count = network.rectifierNames().size();
        long fitting = -1;
        for (long position = 0; position < 1L << count; position++) {
            Regime regime = network.regime(0, position);
            boolean fits = regime.entry() == null || isUnmoved(network, state, regime);
            for (AffineForm condition : regime.conditions()) {
                fits &= condition.valueAt(state, 0) > 1e-6;
            }
            fitting = fits ? position : fitting;
        }
        Assume.that(fitting >= 0);
        for (long before = 0; before < 1L << count; before++) {
            Regime taken = network.resolve(0, before, -1, state).regime();
            Regime expected = network.regime(0, fitting);
            for (int j = 0; j < state.length; j++) {
                double rate = expected.rates().get(j).valueAt(state, 0);
                assertThat(taken.rates().get(j).valueAt(state, 0))
                        .isCloseTo(rate, Offset.offset(1e-9 * Math.abs(rate) + 1e-9));
            }
        }
    }

    private static boolean isUnmoved(Network network, double[] state, Regime regime) {
        double[] after = Forms.after(regime.entry(), state);
        double[] scale = network.scale();
        double moved = 0;
        double size = 0;
        for (int j = 0; j < scale.length; j++) {
            moved += Math.abs(scale[j] * (after[j] - state[j]));
            size += Math.abs(scale[j] * state[j]);
        }
        return moved <= 1e-14 * size;
    }
}
