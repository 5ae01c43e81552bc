package org.voltsecond.reference;

import org.voltsecond.control.Compensator;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.control.VoltageMode.Edge;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;

/**
 * The voltage-mode buck of J. H. B. Deane, D. C. Hamill, PESC 1990, doi 10.1109/PESC.1990.131228; its amplifier gain of
 * 8.4 and the period doublings at 24.516, 31.121 and 32.095 V (E. Fossas, G. Olivar, IEEE Trans. Circuits Syst. I
 * 43(1):13-25, 1996) from memory of the literature; computed for this project: 24.51657, 31.11790, 32.08763 V. Chaos from
 * 33 V on.
 */
public final class PublishedBuck {
    private PublishedBuck() {}

    public static Converter at(double input) {
        return PowerStage.buck()
                .input(input)
                .inductor(20e-3)
                .outputCapacitor(47e-6)
                .load(Load.resistor(22))
                .drive(VoltageMode.of(2500, 11.3, 1, Compensator.proportional(8.4, 12))
                        .withRamp(3.8, 8.2)
                        .withModulation(Edge.LEADING, false));
    }
}
