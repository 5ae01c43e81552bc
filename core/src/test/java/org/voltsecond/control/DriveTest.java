package org.voltsecond.control;

import static org.assertj.core.api.Assertions.assertThat;

import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.voltsecond.control.Drive.OnWindow;

/** Gate drives in fractions of the period. */
class DriveTest {
    private static final double F = 1000;

    @Test
    void fixedDuty() {
        Drive drive = Drive.fixedDuty(0.3, F);
        assertThat(drive.windows()).containsExactly(new OnWindow(0, 0.3));
        assertThat(drive.dutyCycle()).isEqualTo(0.3);
        assertThat(drive.period()).isEqualTo(1e-3);
        assertThat(drive.faults()).isEmpty();
    }

    @Test
    void theEndsOfTheRangeMakeNoEdges() {
        assertThat(Drive.fixedDuty(0, F).windows()).isEmpty();
        assertThat(Drive.fixedDuty(1, F).windows()).containsExactly(new OnWindow(0, 1));
        assertThat(Drive.fixedDuty(1, F).complement().windows()).isEmpty();
        assertThat(Drive.fixedDuty(0, F).complement().dutyCycle()).isEqualTo(1);
    }

    @Test
    void theComplementSharesItsEdges() {
        assertThat(Drive.fixedDuty(0.3, F).complement().windows()).containsExactly(new OnWindow(0.3, 1));
        Drive two = Drive.on(F, new OnWindow(0.6, 0.7), new OnWindow(0.1, 0.2));
        assertThat(two.complement().windows())
                .containsExactly(new OnWindow(0, 0.1), new OnWindow(0.2, 0.6), new OnWindow(0.7, 1));
        assertThat(two.complement().complement()).isEqualTo(two);
    }

    @Test
    void delaysWrapAround() {
        assertThat(Drive.fixedDuty(0.25, F).delayedBy(0.5).windows()).containsExactly(new OnWindow(0.5, 0.75));
        Drive wrapped = Drive.fixedDuty(0.5, F).delayedBy(0.75);
        assertThat(wrapped.windows()).containsExactly(new OnWindow(0, 0.25), new OnWindow(0.75, 1));
        assertThat(Drive.fixedDuty(1, F).delayedBy(0.25).windows()).containsExactly(new OnWindow(0, 1));
        assertThat(wrapped.dutyCycle()).isCloseTo(0.5, Offset.offset(1e-15));
    }

    @Test
    void faultsAreCollected() {
        assertThat(Drive.fixedDuty(1.2, -3).faults()).hasSize(2).anyMatch(fault -> fault.contains("1.2"));
        assertThat(Drive.fixedDuty(Double.NaN, Double.NaN).faults()).hasSize(2);
        assertThat(Drive.on(F, new OnWindow(0.1, 0.5), new OnWindow(0.4, 0.6)).faults())
                .singleElement()
                .asString()
                .contains("0.4 to 0.6");
        assertThat(Drive.on(F, new OnWindow(0.5, 0.5)).faults()).hasSize(1);
        assertThat(Drive.fixedDuty(0.5, F).delayedBy(1).faults())
                .singleElement()
                .asString()
                .contains("1.0");
    }
}
