package org.voltsecond.sizing;

import org.voltsecond.stage.Topology;

/**
 * What the formulas say at one input voltage and full load, with the drops at that current.
 *
 * @param inputVoltage V
 * @param dutyCycle D; 1 or more if the drops leave none
 * @param inductorCurrent mean, A
 * @param onVoltage across the inductor in the on interval, V
 */
record RatedPoint(double inputVoltage, double dutyCycle, double inductorCurrent, double onVoltage) {
    /** The current sets the drops, and they the duty cycle and the current: this converges as fast as drops are small. */
    private static final int ROUNDS = 100;

    static RatedPoint of(Specification wanted, double input) {
        return of(wanted, input, wanted.outputVoltage());
    }

    static RatedPoint of(Specification wanted, double input, double output) {
        Topology topology = wanted.topology();
        ConductingParts parts = wanted.parts();
        double load = wanted.load().high();
        double duty = StageFormulas.dutyCycle(topology, input, output, 0, 0);
        double current = StageFormulas.inductorCurrent(topology, load, duty);
        for (int round = 0; round < ROUNDS && duty < 1; round++) {
            duty = StageFormulas.dutyCycle(topology, input, output, parts.onDrop(current), parts.offDrop(current));
            current = StageFormulas.inductorCurrent(topology, load, duty);
        }
        double across = topology.onVoltage(input - parts.onDrop(current), output);
        // Drops that grow beyond all bounds leave a number that is no duty cycle at all.
        return new RatedPoint(input, duty > 0 && across > 0 ? duty : Double.POSITIVE_INFINITY, current, across);
    }

    Topology.Rating rating(Specification wanted) {
        return new Topology.Rating(
                inputVoltage,
                wanted.outputVoltage(),
                wanted.load().high(),
                dutyCycle,
                wanted.switchingFrequency(),
                wanted.inductorRipple(),
                wanted.parts().inductorResistance());
    }

    double ripple(double frequency, double inductance) {
        return StageFormulas.inductorRipple(onVoltage, dutyCycle, frequency, inductance);
    }
}
