package org.voltsecond.plot.explain;

import java.util.LinkedHashMap;
import java.util.Map;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Clamp;
import org.voltsecond.stage.CouplingCapacitor;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Phases;
import org.voltsecond.stage.SecondInductor;
import org.voltsecond.stage.Transformer;

/** One of each stage. */
public final class Stages {
    private static final Transformer CORE = Transformer.of(2, 1, 200e-6);

    private Stages() {}

    public static Map<String, Converter> all() {
        Map<String, Converter> stages = new LinkedHashMap<>();
        stages.put("buck", buck());
        stages.put("light buck", lightBuck());
        stages.put("boost", boost());
        stages.put("inverting", driven(PowerStage.invertingBuckBoost().inductor(22e-6)));
        stages.put("SEPIC", driven(two(PowerStage.sepic())));
        stages.put("Ćuk", driven(two(PowerStage.cuk())));
        stages.put("zeta", driven(two(PowerStage.zeta())));
        stages.put("four switches", driven(PowerStage.fourSwitchBuckBoost().inductor(22e-6)));
        stages.put("phases", driven(PowerStage.buck().inductor(22e-6, 30e-3).with(new Phases(4))));
        stages.put(
                "flyback",
                driven(PowerStage.flyback().with(CORE.withLeakage(1e-6)).with(Clamp.of(20))));
        stages.put("forward", driven(PowerStage.forward().inductor(22e-6).with(CORE.withReset(2))));
        stages.put(
                "two-switch forward",
                driven(PowerStage.twoSwitchForward().inductor(22e-6).with(CORE)));
        stages.put("push-pull", driven(PowerStage.pushPull().inductor(22e-6).with(CORE)));
        stages.put("half bridge", driven(PowerStage.halfBridge().inductor(22e-6).with(CORE)));
        stages.put("full bridge", driven(PowerStage.fullBridge().inductor(22e-6).with(CORE)));
        return stages;
    }

    static Converter buck() {
        return driven(PowerStage.buck().inductor(22e-6, 30e-3));
    }

    static Converter lightBuck() {
        return buck().withLoad(Load.resistor(60));
    }

    static Converter boost() {
        return driven(PowerStage.boost().inductor(22e-6, 50e-3));
    }

    private static PowerStage two(PowerStage stage) {
        return stage.inductor(47e-6).with(new SecondInductor(47e-6, 30e-3, 0)).with(new CouplingCapacitor(10e-6, 5e-3));
    }

    private static Converter driven(PowerStage stage) {
        return stage.input(12)
                .outputCapacitor(100e-6, 5e-3)
                .transistor(30e-3)
                .rectifier(0.4, 20e-3)
                .load(Load.resistor(5))
                .drive(Drive.fixedDuty(0.4, 200e3));
    }
}
