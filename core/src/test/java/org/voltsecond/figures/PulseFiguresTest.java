package org.voltsecond.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;

import org.junit.jupiter.api.Test;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;

/** Volt-seconds, and currents at the instants of switching, against closed forms of a buck stage. */
class PulseFiguresTest {
    private static ConverterSteadyState buck(double duty, double ohm) {
        Converter converter = PowerStage.buck()
                .input(12)
                .inductor(micro(22), 0)
                .outputCapacitor(0.1, 0)
                .transistor(0)
                .rectifier(0, 0)
                .load(Load.resistor(ohm))
                .drive(Drive.fixedDuty(duty, kilo(300)));
        return converter.steadyState();
    }

    /** V D (1 - D) / f, and the mean current less and more half the ripple. */
    @Test
    void inContinuousConduction() {
        ConverterSteadyState steady = buck(0.4, 2.5);
        double flux = 12 * 0.4 * 0.6 / kilo(300);
        double mean = 4.8 / 2.5;
        double ripple = flux / micro(22);
        assertThat(PulseFigures.VOLT_SECONDS.in(steady)).isCloseTo(flux, within(1e-6 * flux));
        assertThat(PulseFigures.CURRENT_BEFORE_TURN_ON.in(steady)).isZero();
        assertThat(PulseFigures.CURRENT_AFTER_TURN_ON.in(steady)).isCloseTo(mean - 0.5 * ripple, within(1e-6));
        assertThat(PulseFigures.CURRENT_BEFORE_TURN_OFF.in(steady)).isCloseTo(mean + 0.5 * ripple, within(1e-6));
        assertThat(PulseFigures.CURRENT_AFTER_TURN_OFF.in(steady)).isZero();
        assertThat(FigureSheet.of(steady).figures()).containsAll(PulseFigures.told());
    }

    /** The current begins at zero in each pulse. */
    @Test
    void inDiscontinuousConduction() {
        ConverterSteadyState steady = buck(0.2, 50);
        double output = steady.of(steady.converter().outputVoltage()).mean();
        double peak = (12 - output) * 0.2 / (kilo(300) * micro(22));
        assertThat(PulseFigures.CURRENT_AFTER_TURN_ON.in(steady)).isCloseTo(0, within(1e-12));
        assertThat(PulseFigures.CURRENT_BEFORE_TURN_OFF.in(steady)).isCloseTo(peak, within(1e-6));
        assertThat(PulseFigures.VOLT_SECONDS.in(steady)).isCloseTo(micro(22) * peak, within(1e-12));
    }

    @Test
    void aTransistorThatNeverChangesHasNone() {
        assertThat(PulseFigures.CURRENT_AFTER_TURN_ON.of(buck(1, 2.5)).reason())
                .isEqualTo("the transistor never changes");
        assertThat(PulseFigures.VOLT_SECONDS.in(buck(1, 2.5))).isZero();
    }
}
