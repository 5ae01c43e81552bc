package org.voltsecond.examples.gallery;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;
import static org.voltsecond.units.Si.nano;
import static org.voltsecond.units.Si.pico;

import org.voltsecond.characteristic.Bend;
import org.voltsecond.characteristic.Junction;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Drive;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;

/** The converters in the pictures. */
final class Rails {
    private Rails() {}

    /** A 5 V rail at a fixed duty cycle. */
    static Converter logicRail() {
        return PowerStage.buck()
                .input(12) // V
                .inductor(micro(22), milli(30)) // H, series ohm
                .outputCapacitor(micro(47), milli(5)) // F, series ohm
                .transistor(milli(80)) // on-resistance, ohm
                .rectifier(0.4, milli(20)) // forward drop V, slope ohm
                .load(Load.resistor(2.5)) // ohm
                .drive(Drive.fixedDuty(0.45, kilo(300))); // duty cycle, Hz
    }

    /** The same rail with a choke that has less than half of its inductance left above 2 A. */
    static Converter saturatingRail() {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .saturation(new Bend(2, micro(12)), new Bend(2.3, micro(5))) // from so many A on, H
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.45, kilo(300)));
    }

    /** The same rail with a rectifier that recovers, the capacitances of both devices, and the inductance of their loop. */
    static Converter ringingRail() {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .outputCapacitance(pico(250))
                .loopInductance(nano(20), 0.5)
                .rectifier(0.4, milli(20))
                .junction(Junction.IDEAL.withRecovery(
                        new Junction.Recovery(nano(60), nano(15)))) // lifetime, transit time
                .junctionCapacitance(pico(150))
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.45, kilo(300)));
    }

    /** The same rail, regulated in voltage mode. */
    static Converter regulatedRail() {
        Compensator compensator = Compensator.type3(36e3, kilo(3.5), kilo(3.5), kilo(120), kilo(150));
        return logicRail()
                .withRegulator(VoltageMode.of(kilo(300), 1, 0.2, compensator)
                        .withMaximumDutyCycle(0.95)
                        .withSoftStart(milli(1)));
    }
}
