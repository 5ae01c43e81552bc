package org.voltsecond.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Drive;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/** What must be known before any figure, and what is no figure at all. */
class HeadlinesTest {
    private static PowerStage buck(double inductorResistance) {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), inductorResistance)
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20));
    }

    @Test
    void aStableConverterNeedsNone() {
        Converter rail = buck(milli(30)).load(Load.resistor(2.5)).drive(Drive.fixedDuty(0.45, kilo(300)));
        assertThat(Headlines.of(rail.steadyState())).isEmpty();
    }

    /** A boost at a duty cycle of two thirds, its current commanded without compensating slope: it doubles its period. */
    @Test
    void anUnstableOneSaysWhatHappensInstead() {
        Converter boost = PowerStage.boost()
                .input(10)
                .inductor(micro(100), 0)
                .outputCapacitor(micro(22), milli(10))
                .transistor(milli(50))
                .rectifier(0.4, 0)
                .load(Load.resistor(20))
                .drive(CurrentMode.peak(kilo(100), 5));
        assertThat(Headlines.of(boost.steadyState()).get(0).text())
                .startsWith("unstable: period doubling, wide and narrow pulses alternate (multiplier -2.1")
                .endsWith("the steady state does not last");
    }

    /** A logic rail that is asked for 15 V from 12 V gives what the longest pulses give, and says so first. */
    @Test
    void lostRegulationSaysWhatHoldsTheOutput() {
        Converter asked = buck(milli(30))
                .load(Load.resistor(25))
                .drive(VoltageMode.of(
                                kilo(300), 3, 0.2, Compensator.type3(36000, kilo(3.5), kilo(3.5), kilo(120), kilo(150)))
                        .withRamp(0, 1)
                        .withMaximumDutyCycle(0.95));
        List<Headlines.Line> lines = Headlines.of(asked.steadyState());
        assertThat(lines.get(0).label()).isEqualTo("regulation");
        assertThat(lines.get(0).text()).startsWith("lost: 11.3").contains("in place of 15.00 V");
        assertThat(lines.get(0).isGood()).isFalse();
        assertThat(lines.get(1).label()).isEqualTo("control limits");
        assertThat(Headlines.of(asked.withReference(1).steadyState()).get(0).text())
                .isEqualTo("the output is held at its target of 5.000 V");
    }

    /** A sink of 2 A behind 20 ohm drags the output below ground: what is taken from it comes from the load. */
    @Test
    void aLoadThatIsTheSourceHasNoEfficiency() {
        ConverterSteadyState dragged = buck(20).load(Load.current(2))
                .drive(Drive.fixedDuty(0.2, kilo(300)))
                .steadyState();
        assertThat(dragged.of(dragged.converter().outputVoltage()).mean()).isLessThan(-30);
        assertThat(Headlines.of(dragged).get(0).text()).startsWith("the load delivers 75.97 W");
        assertThat(FigureSheet.of(dragged).get(Figures.EFFICIENCY).reason()).startsWith("the load delivers power");
        LimitCheck check = LimitChecks.of(Result.of(dragged)).check(Limit.EFFICIENCY, 0.5);
        assertThat(check.isMet()).isFalse();
        assertThat(check.verdict()).startsWith("not checked: the load delivers power");
    }

    /** An inductor current that comes to rest in every period: its lowest value is 0 A and no rounding of that. */
    @Test
    void roundOffIsToldAsNought() {
        ConverterSteadyState light = buck(milli(30))
                .load(Load.resistor(100))
                .drive(Drive.fixedDuty(0.45, kilo(300)))
                .steadyState();
        Waveform current = light.of(light.converter().inductorCurrent());
        assertThat(Told.number(1e-16 * current.maximum(), current)).isZero();
        assertThat(Told.number(1e-14, current)).isEqualTo(1e-14);
        assertThat(Told.quantity(-50.88e-27, Unit.VOLT, 4)).isEqualTo("0 V");
        var lowest = SignalMeasure.steadyState("inductor_current").stream()
                .filter(figure -> figure.key().equals("minimum"))
                .findFirst()
                .orElseThrow();
        assertThat(FigureSheet.of(light).get(lowest).get()).isZero();
    }
}
