package org.voltsecond.study;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.Test;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;

/** The load at which the inductor current runs dry, by closed forms and by the steady states to either side. */
class BoundaryLoadTest {
    private static Converter buck(double load) {
        return PowerStage.buck()
                .input(12)
                .inductor(22e-6, 0)
                .outputCapacitor(1, 0)
                .load(Load.resistor(load))
                .drive(Drive.fixedDuty(0.5, 300e3));
    }

    /** At the boundary the load draws half the ripple: V (1 - D) / (2 L f), by definition of the mean of a triangle. */
    @Test
    void anIdealBuckRunsDryAtHalfItsRipple() {
        double half = 6 * 0.5 / (2 * 22e-6 * 300e3);
        // the closed form takes the output for constant: its ripple is this share of it, (1 - D) / (8 L C f²)
        double ripple = 0.5 / (8 * 22e-6 * 1 * 300e3 * 300e3);
        for (double load : new double[] {2.5, 200}) {
            BoundaryLoad found = BoundaryLoad.of(buck(load).steadyState()).get();
            assertThat(found.current()).isCloseTo(half, within(ripple * half));
            assertThat(found.resistance()).isCloseTo(6 / half, within(ripple * 6 / half));
        }
    }

    @Test
    void losslessOrNotTheModeChangesThere() {
        Converter rail = boost();
        double current = BoundaryLoad.of(rail.steadyState()).get().current();
        assertThat(rail.withLoad(Load.current(0.9999 * current)).steadyState().conduction())
                .isEqualTo(Conduction.DISCONTINUOUS);
        assertThat(rail.withLoad(Load.current(1.0001 * current)).steadyState().conduction())
                .isEqualTo(Conduction.CONTINUOUS);
    }

    @Test
    void aCurrentThatTurnsRoundNeverRunsDry() {
        Converter synchronous = PowerStage.buck()
                .input(12)
                .inductor(22e-6, 0.03)
                .outputCapacitor(47e-6, 0.005)
                .transistor(0.08)
                .synchronousRectifier(0.02)
                .load(Load.resistor(100))
                .drive(Drive.fixedDuty(0.5, 300e3));
        assertThat(BoundaryLoad.of(synchronous.steadyState()).reason()).contains("never ends by itself");
    }

    /** Four are for the last digits; secants need fewer, where bracketing took ten and more. */
    @Test
    void fewSteadyStatesLeadToTheBoundary() {
        for (Converter rail : List.of(buck(2.5), boost(), buck(2.5).withInput(7))) {
            AtomicInteger asked = new AtomicInteger();
            ConductionBoundary search = new ConductionBoundary(
                    (current, near) -> {
                        asked.incrementAndGet();
                        Converter here = rail.withLoad(Load.current(current));
                        return near == null ? here.steadyState() : here.steadyStateNear(near);
                    },
                    true);
            double low = 0.02;
            double high = 5;
            double found = search.between(low, margin(rail, low), high, margin(rail, high));
            assertThat(asked.get()).as(rail.toString()).isBetween(6, 8);
            assertThat(margin(rail, found * (1 + 1e-9))).isPositive().isLessThan(1e-7);
            assertThat(margin(rail, found * (1 - 1e-9))).isNegative();
        }
    }

    private static double margin(Converter rail, double current) {
        return rail.withLoad(Load.current(current)).steadyState().conductionMargin();
    }

    private static Converter boost() {
        return PowerStage.boost()
                .input(12)
                .inductor(47e-6, 0.04)
                .outputCapacitor(100e-6, 0.02)
                .transistor(0.05)
                .rectifier(0.45, 0.03)
                .load(Load.current(0.5))
                .drive(Drive.fixedDuty(0.513, 250e3));
    }
}
