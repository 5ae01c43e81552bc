package org.voltsecond.circuit;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.AffineMap;

/** Compares affine forms with what was derived by hand. */
final class Forms {
    private Forms() {}

    /** Factors of the states, then the constant, to a few units in the last place of the largest. */
    static void assertForm(AffineForm form, double... expected) {
        double largest = 0;
        for (double value : expected) {
            largest = Math.max(largest, Math.abs(value));
        }
        assertThat(form.dimension()).isEqualTo(expected.length - 1);
        for (int j = 0; j < expected.length; j++) {
            double value = j < form.dimension() ? form.coefficient(j) : form.constant();
            assertThat(value).as("entry %d of %s", j, form).isCloseTo(expected[j], within(largest));
        }
    }

    /** Exactly these numbers, bit for bit but for the sign of zero. */
    static void assertExactly(AffineForm form, double... expected) {
        for (int j = 0; j < expected.length; j++) {
            double value = j < form.dimension() ? form.coefficient(j) : form.constant();
            assertThat(value + 0.0).as("entry %d of %s", j, form).isEqualTo(expected[j] + 0.0);
        }
    }

    private static org.assertj.core.data.Offset<Double> within(double size) {
        return org.assertj.core.data.Offset.offset(1e-14 * size);
    }

    static AffineForm node(Network network, Regime regime, String node) {
        return regime.channels().get(network.nodeChannel(node));
    }

    static AffineForm voltage(Network network, Regime regime, String port) {
        return regime.channels().get(network.voltageChannel(port));
    }

    static AffineForm current(Network network, Regime regime, String port) {
        return regime.channels().get(network.currentChannel(port));
    }

    /** The state after a jump that must be there. */
    static double[] after(@Nullable AffineMap jump, double... state) {
        return Objects.requireNonNull(jump, "no jump").apply(state);
    }
}
