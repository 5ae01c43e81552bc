package org.voltsecond.benchmark;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.mega;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;
import static org.voltsecond.units.Si.nano;
import static org.voltsecond.units.Si.pico;

import org.voltsecond.analysis.SteadyState;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.OperationalAmplifier;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.Plant;
import org.voltsecond.control.Regulator;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.ErrorAmplifier;
import org.voltsecond.converter.ErrorAmplifier.Branch;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Phases;

/** The lossy buck stage of the benchmarks in its variants, each with the state that its run begins with. */
enum PeerCircuit {
    /** Continuous conduction, from rest. */
    CONTINUOUS(false) {
        @Override
        DrivenCircuit driven() {
            return buck(2.5, 0.45);
        }
    },
    /** From rest, through continuous conduction into discontinuous. */
    DISCONTINUOUS(false) {
        @Override
        DrivenCircuit driven() {
            return buck(100, 0.25);
        }
    },
    /** Voltage mode with a type 2 compensator, from rest, with a load step down at 5 ms and up again at 10 ms. */
    CLOSED_LOOP(false) {
        @Override
        DrivenCircuit driven() {
            // v_c = y + 0.05 x with y' = 1500 e and x' = (e - x) 2 pi 100 kHz, which is a zero near 4557 Hz
            double zero = 1 / (2 * Math.PI * 0.05 / 1500 + 1 / kilo(100));
            DrivenCircuit open = buck(2.5, 0.45);
            Circuit circuit = open.circuit();
            Plant plant = new Plant("Q1", null, open.nodeVoltage("out"), open.current("L1"), open.nodeVoltage("in"));
            return DrivenCircuit.builder(circuit)
                    .controlledBy(voltageModeOf(Compensator.type2(1500, zero, kilo(100)))
                            .on(plant))
                    .change(milli(5), circuit.withResistance("R1", 25))
                    .change(milli(10), circuit)
                    .build();
        }
    },
    /** A pole of the compensator so fast that a period is longer than a base of the flow; settled. */
    FAST_POLE(true) {
        @Override
        DrivenCircuit driven() {
            return voltageMode(Compensator.type2(1500, 4557, kilo(140)));
        }
    },
    /** Two zeros and two fast poles, with the limits of the control voltage that the regulator takes of itself; settled. */
    TYPE_3(true) {
        @Override
        DrivenCircuit driven() {
            return voltageMode(Compensator.type3(400, kilo(3), kilo(5), kilo(100), kilo(150)));
        }
    },
    /** Peak current mode under a voltage loop, with slope compensation; settled. */
    PEAK_CURRENT(true) {
        @Override
        DrivenCircuit driven() {
            return regulated(
                    CurrentMode.peak(FREQUENCY, REFERENCE, DIVIDER, Compensator.type2(10_000, 3400, kilo(100)), 0.25)
                            .withSlopeCompensation(mega(0.2)));
        }
    },
    /** Twelve interleaved phases at a fixed duty cycle, thirteen states; settled. */
    TWELVE_PHASES(true) {
        @Override
        DrivenCircuit driven() {
            return stage(0.25)
                    .with(new Phases(12))
                    .drive(Drive.fixedDuty(0.45, FREQUENCY))
                    .driven();
        }
    },
    /** An error amplifier of parts with its network in place of a transfer function, which makes the circuit stiff; settled. */
    AMPLIFIER(true) {
        @Override
        DrivenCircuit driven() {
            OperationalAmplifier amplifier = OperationalAmplifier.of(1e5, mega(10), 0, 1);
            Branch feedback = new Branch(kilo(1.1), nano(31.8));
            return stage(2.5)
                    .drive(
                            VoltageMode.withErrorAmplifier(FREQUENCY).withMaximumDutyCycle(LONGEST),
                            new ErrorAmplifier(
                                    REFERENCE, DIVIDER, amplifier, kilo(20), feedback, Branch.NONE, nano(1.5)))
                    .driven();
        }
    },
    /** An inductor that saturates at the peak of its current, from rest. */
    SATURATING(false) {
        @Override
        DrivenCircuit driven() {
            return stage(2.5)
                    .saturation(new Bend(1.75, micro(12)))
                    .drive(Drive.fixedDuty(0.45, FREQUENCY))
                    .driven();
        }
    },
    /** The capacitance of the transistor rings at 50 MHz with the inductance of its loop; settled. */
    RINGING(true) {
        @Override
        DrivenCircuit driven() {
            Circuit circuit = Circuit.builder()
                    .voltageSource("V1", "in", Circuit.GROUND, 12)
                    .inductor("L2", "in", "drain", nano(40), milli(20))
                    .switchPart("Q1", "drain", "sw", milli(80))
                    .capacitor("C2", "drain", "sw", pico(250), milli(0.5))
                    .rectifier("D1", Circuit.GROUND, "sw", 0.4, milli(20))
                    .inductor("L1", "sw", "out", micro(22), milli(30))
                    .capacitor("C1", "out", Circuit.GROUND, micro(47), milli(5))
                    .resistor("R1", "out", Circuit.GROUND, 2.5)
                    .build();
            return DrivenCircuit.builder(circuit)
                    .gate("Q1", Drive.fixedDuty(0.45, FREQUENCY))
                    .build();
        }
    };

    static final double FREQUENCY = kilo(300);
    private static final double REFERENCE = 1;
    private static final double DIVIDER = 0.2;
    private static final double LONGEST = 0.95;

    private final boolean settled;

    PeerCircuit(boolean settled) {
        this.settled = settled;
    }

    abstract DrivenCircuit driven();

    /** What a run begins with: all at rest, or the steady state. */
    double[] start(DrivenCircuit driven) {
        return settled ? SteadyState.of(driven).state() : driven.restState();
    }

    /** The stage without a drive. */
    static PowerStage stage(double load) {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(load));
    }

    /** The regulator of the benchmarks with some compensator. */
    static Regulator voltageModeOf(Compensator compensator) {
        return VoltageMode.of(FREQUENCY, REFERENCE, DIVIDER, compensator).withMaximumDutyCycle(LONGEST);
    }

    private static DrivenCircuit buck(double load, double dutyCycle) {
        return stage(load).drive(Drive.fixedDuty(dutyCycle, FREQUENCY)).driven();
    }

    private static DrivenCircuit voltageMode(Compensator compensator) {
        return regulated(voltageModeOf(compensator));
    }

    private static DrivenCircuit regulated(Regulator regulator) {
        return stage(2.5).drive(regulator).driven();
    }
}
