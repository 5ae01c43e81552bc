package org.voltsecond.converter;

import org.voltsecond.control.Drive;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;

/** The numbers of a stage in SI units, as the random tests draw them. The load is a resistor or a constant current. */
record StageSpec(
        Topology topology,
        boolean synchronous,
        boolean constantCurrent,
        double input,
        double inductance,
        double coilOhm,
        double capacitance,
        double seriesOhm,
        double onOhm,
        double forwardDrop,
        double slopeOhm,
        double load,
        double dutyCycle,
        double frequency) {

    Converter converter() {
        PowerStage stage = PowerStage.of(topology)
                .input(input)
                .inductor(inductance, coilOhm)
                .outputCapacitor(capacitance, seriesOhm)
                .transistor(onOhm);
        stage = synchronous ? stage.synchronousRectifier(slopeOhm) : stage.rectifier(forwardDrop, slopeOhm);
        return stage.load(constantCurrent ? Load.current(load) : Load.resistor(load))
                .drive(Drive.fixedDuty(dutyCycle, frequency));
    }

    double period() {
        return 1 / frequency;
    }

    /** Sources, drops and currents times a factor: every voltage and current of the stage is then that much larger. */
    StageSpec scaled(double factor) {
        return new StageSpec(
                topology,
                synchronous,
                constantCurrent,
                factor * input,
                inductance,
                coilOhm,
                capacitance,
                seriesOhm,
                onOhm,
                factor * forwardDrop,
                slopeOhm,
                constantCurrent ? factor * load : load,
                dutyCycle,
                frequency);
    }
}
