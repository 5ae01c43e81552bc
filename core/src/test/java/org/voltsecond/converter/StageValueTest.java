package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.voltsecond.circuit.Part;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Drive;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.losses.EfficiencyCurve;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;

/** A changed value changes nothing else: not the kind of a part, not what lies across it, not when its pulse begins. */
class StageValueTest {
    private static final Converter DIODE = Stages.lossy(Topology.BUCK);

    private static Converter synchronous() {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .synchronousRectifier(milli(20), 0.7, milli(10))
                .load(Load.current(2))
                .drive(Drive.fixedDuty(0.45, kilo(300)).delayedBy(0.25));
    }

    private static Converter regulated() {
        return DIODE.withRegulator(VoltageMode.of(kilo(300), 1, 0.2, Compensator.type2(1500, 4557, kilo(100)))
                .withRamp(0, 1));
    }

    static List<StageValue> values() {
        return StageValue.usual();
    }

    @ParameterizedTest
    @MethodSource("values")
    void aValueIsReadBackAndNothingElseChanges(StageValue value) {
        for (Converter converter : List.of(DIODE, synchronous(), regulated())) {
            if (!value.appliesTo(converter)) {
                assertThatThrownBy(() -> value.set(converter, 0.5))
                        .isInstanceOf(IllegalArgumentException.class)
                        .hasMessageContaining("has no " + value)
                        .hasMessageContaining("inductance");
                assertThatThrownBy(() -> value.in(converter)).isInstanceOf(IllegalArgumentException.class);
                continue;
            }
            double other = 0.9 * value.in(converter);
            Converter changed = value.set(converter, other);
            assertThat(value.in(changed)).isCloseTo(other, within(1e-15 * Math.abs(other)));
            assertThat(StageValue.of(changed)).isEqualTo(StageValue.of(converter));
            for (StageValue untouched : StageValue.of(converter)) {
                if (!untouched.equals(value)) {
                    double before = untouched.in(converter);
                    assertThat(untouched.in(changed)).isCloseTo(before, within(4e-16 * Math.abs(before)));
                }
            }
        }
    }

    /** It was taken for the rectifier of a stage with a diode, and a synchronous one became a diode. */
    @Test
    void aSynchronousRectifierHasNoForwardDrop() {
        assertThatThrownBy(() -> StageValue.FORWARD_DROP.set(synchronous(), 0.4))
                .hasMessageContaining("has no forward drop")
                .hasMessageContaining("withRectifier");
    }

    @Test
    void theBodyDiodeOfASynchronousRectifierStays() {
        Converter better = synchronous().withSynchronousRectifier(milli(8));
        assertThat(better.circuit().part("Q2")).isEqualTo(new Part.Switch("Q2", "ground", "sw", milli(8)));
        assertThat(better.circuit().part("D3"))
                .isEqualTo(synchronous().circuit().part("D3"));
        assertThat(DIODE.withSynchronousRectifier(milli(8)).circuit().parts())
                .extracting(Part::name)
                .doesNotContain("D3");
    }

    @Test
    void aDelayedPulseStaysDelayed() {
        Converter longer = synchronous().withDutyCycle(0.9);
        assertThat(longer.drive())
                .isEqualTo(Drive.fixedDuty(0.9, kilo(300)).delayedBy(0.25))
                .isNotEqualTo(Drive.fixedDuty(0.9, kilo(300)));
        // the pulse goes on over the end of the period now, and back again
        assertThat(longer.withDutyCycle(0.45).drive()).isEqualTo(synchronous().drive());
        assertThat(StageValue.DUTY_CYCLE.set(synchronous(), 0.9).drive()).isEqualTo(longer.drive());
        assertThat(StageValue.FREQUENCY.set(longer, kilo(200)).drive())
                .isEqualTo(Drive.fixedDuty(0.9, kilo(200)).delayedBy(0.25));
    }

    @Test
    void ofSeveralPulsesNoneIsTheOneToChange() {
        Drive twice = Drive.on(kilo(100), new Drive.OnWindow(0.1, 0.2), new Drive.OnWindow(0.5, 0.7));
        assertThatThrownBy(() -> twice.withDutyCycle(0.4))
                .isInstanceOf(IllegalStateException.class)
                .hasMessageContaining("from 0.1 to 0.2 and from 0.5 to 0.7");
    }

    /** A sink and a resistor that draw the same current on average differ in the ripple. */
    @Test
    void loadCurrentIsDrawnByTheKindOfLoadThatTheConverterHas() {
        assertThat(Load.current(2).drawing(0.5, 5)).isEqualTo(Load.current(0.5));
        assertThat(Load.resistor(2).drawing(0.5, 5)).isEqualTo(Load.resistor(10));
        assertThatThrownBy(() -> Load.resistor(2).drawing(0, 5)).hasMessageContaining("Load.current");
        // a sink draws its current to the last bit; a resistor draws it as a mean of its ripple
        EfficiencyCurve curve = EfficiencyCurve.of(synchronous(), 5, List.of(), 2);
        double power = curve.points().get(0).budget().outputPower();
        assertThat(power).isCloseTo(5 * 2, within(1e-9));
        EfficiencyCurve resistive = EfficiencyCurve.of(synchronous().withLoad(Load.resistor(1)), 5, List.of(), 2);
        assertThat(resistive.points().get(0).budget().outputPower()).isGreaterThan(power + 1e-9);
    }
}
