package org.voltsecond.examples.gallery;

import static org.voltsecond.examples.gallery.Rails.logicRail;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.explain.Balance;
import org.voltsecond.plot.explain.ConversionCurve;
import org.voltsecond.stage.Load;

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
                .drive(Drive.fixedDuty(0.4, 200e3));
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
            value = "Conversion ratio, stepping down",
            about = "Where the current runs dry the output rises above the duty cycle.")
    static Picture conversionRatioOfBuck() {
        return ConversionCurve.of(logicRail().steadyState(), 60, 10, 50).picture("Logic rail, 12 V to 5 V");
    }
}
