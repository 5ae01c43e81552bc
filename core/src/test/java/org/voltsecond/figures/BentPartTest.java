package org.voltsecond.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Unit;

/** How far parts that bend are driven, and what is said of it. */
class BentPartTest {
    /** Lossless, 6 V out of 12 V; the output capacitor is so large that the inductor sees 6 V of either sign. */
    private static Converter buck(double ohm, Bend... saturation) {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(20), 0)
                .saturation(saturation)
                .outputCapacitor(10, 0)
                .load(Load.resistor(ohm))
                .drive(Drive.fixedDuty(0.5, kilo(100)));
    }

    /**
     * By hand: in 5 µs 6 V make a flux of 30 µVs. From 2 A to the knee at 3 A they are 20 µVs, from there on 10 µVs at 5 µH, which
     * is 2 A: the current goes from 2 A to 5 A. Its mean over the flux, thus over time: (2/3)(2.5 A) + (1/3)(4 A) = 3 A.
     */
    @Test
    void rampsOfTwoSegmentsAreThoseByHand() {
        Converter converter = buck(2, new Bend(3, micro(5)));
        BentPart part = BentPart.of(converter, converter.steadyState()).get(0);
        assertThat(part.name()).isEqualTo("L1");
        assertThat(part.lowest()).isCloseTo(2, within(1e-6));
        assertThat(part.peak()).isCloseTo(5, within(1e-6));
        assertThat(part.valueAt(part.peak())).isEqualTo(micro(5));
        assertThat(part.left()).isEqualTo(0.25);
        assertThat(part.isSaturated()).isTrue();
        assertThat(part.unit()).isEqualTo(Unit.HENRY);
        assertThat(Headlines.of(converter.steadyState()))
                .contains(new Headlines.Line(
                        "saturation", "L1 saturates: at its peak of 5.000 A it has 5.000 µH left of 20.00 µH", false));
    }

    @Test
    void atItsKneeAnInductorIsWhatItIsBelow() {
        BentPart part = new BentPart("L1", true, 0, 3, micro(20), List.of(new Bend(3, micro(5))));
        assertThat(part.valueAt(3)).isEqualTo(micro(20));
        assertThat(part.valueAt(Math.nextUp(3.0))).isEqualTo(micro(5));
        assertThat(part.isSaturated()).isFalse();
    }

    /** The voltage of a capacitance is without that of its series resistance, which here is most of the ripple. */
    @Test
    void aCapacitorIsMeasuredByTheVoltageOfItsCapacitance() {
        Converter converter = PowerStage.buck()
                .input(12)
                .inductor(micro(20), 0)
                .outputCapacitor(milli(1), 0.1)
                .bias(new Bend(5, micro(400)))
                .load(Load.resistor(2))
                .drive(Drive.fixedDuty(0.5, kilo(100)));
        var steady = converter.steadyState();
        BentPart part = BentPart.of(converter, steady).get(0);
        double terminals = steady.of(converter.outputVoltage()).peakToPeak();
        assertThat(part.isInductor()).isFalse();
        assertThat(part.peak() - part.lowest()).isLessThan(terminals / 10);
        double[] state = steady.periodic().state();
        assertThat(part.peak()).isGreaterThanOrEqualTo(state[1]);
        assertThat(part.lowest()).isLessThanOrEqualTo(state[1]);
        assertThat(part.left()).isEqualTo(0.4);
        assertThat(part.isSaturated()).isFalse();
    }

    /** At 2 Ω the peak is 3.75 A, below the knee at 3.8 A; at 5 A, from 1 ms on, it is above. */
    @Test
    void theWorstStretchCounts() {
        Converter converter = buck(2, new Bend(3.8, micro(12))).with("C1.capacitance", micro(100));
        ConverterTransient run =
                converter.transientFromSteadyState(milli(2), Change.at(milli(1)).load(Load.current(5)));
        LimitChecks checks = LimitChecks.of(converter).with(TransientFigures.of(run, 0.02));
        LimitCheck check = checks.check(Limit.INDUCTANCE_LEFT, 0.7);
        assertThat(check.isMet()).isFalse();
        assertThat(check.value().get()).isEqualTo(0.6);
        assertThat(check.where()).isEqualTo("after the change at 1 ms");
        assertThat(LimitChecks.of(converter).check(Limit.INDUCTANCE_LEFT, 0.7).isMet())
                .isTrue();
        assertThat(checks.check(Limit.CAPACITANCE_LEFT, 0.7).isKnown()).isFalse();
        assertThat(checks.check(Limit.CAPACITANCE_LEFT, 0.7).value().reason())
                .isEqualTo("no capacitor fades; give its bias");
    }
}
