package org.voltsecond.examples.gallery;

import static org.voltsecond.units.Si.micro;

import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.stage.Clamp;
import org.voltsecond.stage.CouplingCapacitor;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Phases;
import org.voltsecond.stage.SecondInductor;
import org.voltsecond.stage.Transformer;

/** Where the current of each stage flows. */
final class Stages {
    private static final Transformer CORE = Transformer.of(2, 1, micro(200));

    private Stages() {}

    static Picture stage(PowerStage parts, double dutyCycle) {
        Converter rail = parts.input(12)
                .outputCapacitor(micro(100), 5e-3)
                .transistor(30e-3)
                .rectifier(0.4, 20e-3)
                .load(Load.resistor(5))
                .drive(Drive.fixedDuty(dutyCycle, 200e3));
        return Pictures.stacked(
                rail.steadyState(),
                rail.switchNode(),
                rail.inductorCurrent(),
                rail.transistorCurrent(),
                rail.rectifierCurrent(),
                rail.outputVoltage());
    }

    @Shown(value = "Boost", about = "The rectifier passes on what the inductor took up.")
    static Picture boost() {
        return stage(PowerStage.boost().inductor(micro(22)), 0.4);
    }

    @Shown(value = "Inverting buck-boost", about = "The inductor hands on what it took; the output is negative.")
    static Picture inverting() {
        return stage(PowerStage.invertingBuckBoost().inductor(micro(22)), 0.4);
    }

    @Shown(value = "SEPIC", about = "Both inductors charge at once, and feed the output together.")
    static Picture sepic() {
        return stage(twoInductors(PowerStage.sepic()), 0.4);
    }

    @Shown(value = "Ćuk", about = "Currents of input and output without steps; the output is negative.")
    static Picture cuk() {
        return stage(twoInductors(PowerStage.cuk()), 0.4);
    }

    @Shown(value = "Zeta", about = "A SEPIC turned around: the current of the output has no steps.")
    static Picture zeta() {
        return stage(twoInductors(PowerStage.zeta()), 0.4);
    }

    private static PowerStage twoInductors(PowerStage stage) {
        return stage.inductor(micro(47))
                .with(new SecondInductor(micro(47), 30e-3, 0))
                .with(new CouplingCapacitor(micro(10), 5e-3));
    }

    @Shown(value = "Four-switch buck-boost", about = "Both legs at once: up or down by one inductor.")
    static Picture fourSwitch() {
        return stage(PowerStage.fourSwitchBuckBoost().inductor(micro(22)), 0.4);
    }

    @Shown(value = "Four phases", about = "The first of four currents; their ripples cancel at the output.")
    static Picture phases() {
        return stage(PowerStage.buck().inductor(micro(22), 30e-3).with(new Phases(4)), 0.4);
    }

    @Shown(value = "Flyback", about = "The leakage empties into the clamp before the secondary takes over.")
    static Picture flyback() {
        return stage(PowerStage.flyback().with(CORE.withLeakage(micro(1))).with(Clamp.of(20)), 0.4);
    }

    @Shown(value = "Forward", about = "The reset winding hands the magnetizing current back.")
    static Picture forward() {
        return stage(PowerStage.forward().inductor(micro(22)).with(CORE.withReset(2)), 0.4);
    }

    @Shown(value = "Two-switch forward", about = "Two transistors close at once; two diodes reset the core.")
    static Picture twoSwitchForward() {
        return stage(PowerStage.twoSwitchForward().inductor(micro(22)).with(CORE), 0.4);
    }

    @Shown(value = "Push-pull", about = "Halves take turns; between pulses both rectifiers share the current.")
    static Picture pushPull() {
        return stage(PowerStage.pushPull().inductor(micro(22)).with(CORE), 0.4);
    }

    @Shown(value = "Half bridge", about = "Two transistors take turns at half the input.")
    static Picture halfBridge() {
        return stage(PowerStage.halfBridge().inductor(micro(22)).with(CORE), 0.4);
    }

    @Shown(value = "Full bridge", about = "Diagonals that take turns across the whole input.")
    static Picture fullBridge() {
        return stage(PowerStage.fullBridge().inductor(micro(22)).with(CORE), 0.4);
    }
}
