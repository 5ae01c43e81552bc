package org.voltsecond.examples.gallery;

import static org.voltsecond.examples.gallery.Rails.logicRail;
import static org.voltsecond.examples.gallery.Rails.regulatedRail;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.List;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.converter.StageValue;
import org.voltsecond.figures.Figures;
import org.voltsecond.losses.EfficiencyCurve;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.explain.Balance;
import org.voltsecond.plot.explain.ConversionCurve;
import org.voltsecond.plot.explain.CurrentPaths;
import org.voltsecond.plot.explain.Family;
import org.voltsecond.plot.explain.LinearBeside;
import org.voltsecond.plot.explain.LoadStep;
import org.voltsecond.plot.explain.Pulses;
import org.voltsecond.plot.explain.RippleShares;
import org.voltsecond.plot.explain.ToleranceSpread;
import org.voltsecond.stage.Load;
import org.voltsecond.study.Tolerance;

/** How a stage works. */
final class Explaining {
    private Explaining() {}

    static Converter boost() {
        return PowerStage.boost()
                .input(12)
                .inductor(micro(22), milli(50))
                .outputCapacitor(micro(100), milli(5))
                .transistor(milli(30))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(5))
                .drive(Drive.fixedDuty(0.4, kilo(200)));
    }

    @Shown(
            value = "Where the current flows",
            about =
                    "What carries in each interval is bold, with its mean current; at each node the arrows add up to zero.")
    static Picture currentPaths() {
        Converter light = logicRail().withLoad(Load.resistor(60));
        return CurrentPaths.of(light.steadyState())
                .picture("Logic rail at light load: on, off and idle")
                .orElseThrow();
    }

    @Shown(
            value = "Volt-seconds, charge and energy",
            about = "Over one period each part hands on what it took up; that is why the output is what it is.")
    static Picture balances() {
        return Balance.picture("Boost, 12 V to 19 V", boost().steadyState());
    }

    @Shown(
            value = "Conversion ratio",
            about =
                    "What the duty cycle does at several loads. Losses turn a boost over: beyond, more pulse gives less.")
    static Picture conversionRatio() {
        return ConversionCurve.of(boost().steadyState(), 60, 10, 50).picture("Boost, 12 V to 19 V");
    }

    @Shown(
            value = "How the pulse widens",
            about = "After a step of the load the control voltage rises, and cuts the ramp later.")
    static Picture pulseWidth() {
        ConverterTransient run = regulatedRail()
                .transientFromSteadyState(milli(0.1), Change.at(milli(0.04)).load(Load.resistor(1)));
        return Pulses.around(run, 0, 10).picture("Regulated rail, load from 2 A to 5 A");
    }

    @Shown(
            value = "Who feeds a step of the load",
            about = "The capacitor, until the stage has caught up: the missing charge, and what it does to the output.")
    static Picture loadStep() {
        ConverterTransient run = regulatedRail()
                .transientFromSteadyState(milli(0.3), Change.at(milli(0.05)).load(Load.resistor(1)));
        return LoadStep.of(run, 0).picture("Regulated rail, load from 2 A to 5 A");
    }

    @Shown(value = "Families", about = "The same converter with three inductances; any other value goes as well.")
    static Picture family() {
        return Family.of(logicRail(), StageValue.INDUCTANCE, micro(10), micro(22), micro(47))
                .picture("Logic rail with three inductances");
    }

    @Shown(value = "Shares of the ripple", about = "What the charge of the capacitor makes, and what its resistance.")
    static Picture rippleShares() {
        return RippleShares.of(logicRail().steadyState()).picture("Logic rail: output ripple");
    }

    @Shown(value = "Linear beside switching: heat", about = "Bars to scale; the linear regulator at its best.")
    static Picture linearHeat() {
        EfficiencyCurve curve = EfficiencyCurve.of(logicRail(), 5, List.of(), 0.1, 0.5, 1, 2);
        return LinearBeside.of(curve, 60).heat("Logic rail: heat beside a linear regulator");
    }

    @Shown(value = "Linear beside switching: battery life", about = "Days from the battery of the buoy, 60 A h.")
    static Picture batteryLife() {
        EfficiencyCurve curve = EfficiencyCurve.of(logicRail(), 5, List.of(), EfficiencyCurve.loads(milli(5), 2, 20));
        return LinearBeside.of(curve, 60).life("Logic rail: days from a battery of 60 A h");
    }

    private static ToleranceSpread spread() {
        List<Tolerance> tolerances = List.of(
                Tolerance.relative(logicRail(), StageValue.INPUT_VOLTAGE, 0.05),
                Tolerance.relative(logicRail(), StageValue.DUTY_CYCLE, 0.01),
                Tolerance.relative(logicRail(), StageValue.FORWARD_DROP, 0.2));
        return ToleranceSpread.of(logicRail(), tolerances, Figures.OUTPUT_VOLTAGE, 4.8, 5.25, 2000, 1);
    }

    @Shown(value = "Tolerance: histogram", about = "Where 2000 random designs lie, against the limits.")
    static Picture histogram() {
        return spread().histogram("Logic rail: output of 2000 designs");
    }

    @Shown(value = "Tolerance: what contributes most", about = "Derivative times half width of each value.")
    static Picture contributions() {
        return spread().bars("Logic rail: what moves the output");
    }
}
