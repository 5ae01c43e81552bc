package org.voltsecond.converter;

import org.voltsecond.control.Drive;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;

/** Converters for tests. */
final class Stages {
    private Stages() {}

    /** 12 V in, 300 kHz, D = 0.45, 2.5 Ω, losses everywhere. */
    static Converter lossy(Topology topology) {
        return PowerStage.of(topology)
                .input(12)
                .inductor(22e-6, 30e-3)
                .outputCapacitor(47e-6, 5e-3)
                .transistor(80e-3)
                .rectifier(0.4, 20e-3)
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.45, 300e3));
    }

    static Converter ideal(
            Topology topology, double input, double henry, double farad, double ohm, double duty, double frequency) {
        return PowerStage.of(topology)
                .input(input)
                .inductor(henry)
                .outputCapacitor(farad)
                .load(Load.resistor(ohm))
                .drive(Drive.fixedDuty(duty, frequency));
    }
}
