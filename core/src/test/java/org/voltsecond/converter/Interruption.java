package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.function.Supplier;
import net.jqwik.api.Assume;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.stage.Topology;
import org.voltsecond.waveform.Side;

/**
 * The one thing that a random stage may refuse: to interrupt a current that flows back into the input of a buck stage, whose
 * output has swung above its input, where the diode gives it no path.
 */
final class Interruption {
    private Interruption() {}

    /** What a run gives; a stage that may refuse it and does is left out of the property. */
    static <T> T leftOut(StageSpec stage, Supplier<T> run) {
        try {
            return run.get();
        } catch (SwitchingException e) {
            Assume.that(!isOne(stage, e));
            throw e;
        }
    }

    /**
     * The steady state; a stage that has none is left out of the property, and only that: where a body diode gives the
     * current a path, the steady state needs it.
     */
    static ConverterSteadyState steadyState(StageSpec stage) {
        try {
            return stage.converter().steadyState();
        } catch (NoSteadyStateException e) {
            if (!isOne(stage, e)) {
                throw e;
            }
            ConverterSteadyState other =
                    stage.converter().withBodyDiode(1e-3 * stage.input(), 0).steadyState();
            double current = other.of(other.converter().inductorCurrent()).at(other.onTime(), Side.BEFORE);
            assertThat(current).as("current at turn-off of %s", stage).isNegative();
            Assume.that(false);
            throw e;
        }
    }

    private static boolean isOne(StageSpec stage, RuntimeException refusal) {
        String message = String.valueOf(refusal.getMessage());
        return stage.topology() == Topology.BUCK
                && !stage.synchronous()
                && message.contains("current of L1 (-")
                && message.contains("interrupted");
    }
}
