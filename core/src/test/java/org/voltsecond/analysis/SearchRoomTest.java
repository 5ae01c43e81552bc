package org.voltsecond.analysis;

import static org.assertj.core.api.Assertions.assertThat;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.junit.jupiter.api.Test;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;

/** A search leaves its room to the next one of the same circuit, which must find the same to the bit as in a room of its own. */
class SearchRoomTest {
    private static PowerStage stage(double load) {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(load));
    }

    private static DrivenCircuit open(double load) {
        return stage(load).drive(Drive.fixedDuty(0.31, kilo(300))).driven();
    }

    private static DrivenCircuit regulated() {
        return stage(20)
                .drive(VoltageMode.of(kilo(300), 1, 0.2, Compensator.type2(1500, 4557, kilo(100))))
                .driven();
    }

    private static void sameAgain(DrivenCircuit circuit, DrivenCircuit other, double[] elsewhere) {
        double[] fresh = SteadyState.of(circuit).state();
        double[] again = SteadyState.of(circuit).state();
        SteadyState.of(circuit, elsewhere, 1);
        SteadyState.of(circuit, elsewhere, 2);
        double[] afterAnotherStart = SteadyState.of(circuit).state();
        SteadyState.of(other);
        double[] afterAnotherCircuit = SteadyState.of(circuit).state();
        assertThat(again).containsExactly(fresh);
        assertThat(afterAnotherStart).containsExactly(fresh);
        assertThat(afterAnotherCircuit).containsExactly(fresh);
    }

    @Test
    void whatWasSearchedBeforeChangesNoBit() {
        sameAgain(open(2.5), open(100), new double[] {3, 1});
        sameAgain(open(100), open(2.5), new double[] {3, 1});
        DrivenCircuit regulated = regulated();
        double[] elsewhere = SteadyState.of(regulated).state();
        elsewhere[0] += 0.5;
        sameAgain(regulated, open(2.5), elsewhere);
    }

    @Test
    void onTwoThreadsAtOnceEachHasARoomOfItsOwn() throws Exception {
        DrivenCircuit first = open(2.5);
        DrivenCircuit second = open(100);
        double[] ofFirst = SteadyState.of(first).state();
        double[] ofSecond = SteadyState.of(second).state();
        ExecutorService threads = Executors.newFixedThreadPool(4);
        try {
            List<Future<?>> all = new ArrayList<>();
            for (int t = 0; t < 4; t++) {
                DrivenCircuit mine = t % 2 == 0 ? first : second;
                double[] expected = t % 2 == 0 ? ofFirst : ofSecond;
                all.add(threads.submit(() -> {
                    for (int k = 0; k < 500; k++) {
                        assertThat(SteadyState.of(mine).state()).containsExactly(expected);
                    }
                }));
            }
            for (Future<?> each : all) {
                each.get();
            }
        } finally {
            threads.shutdownNow();
        }
    }
}
