package org.voltsecond.stage;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;

/**
 * The inductor at the output of a stage that has two, such as a SEPIC.
 *
 * <pre>{@code
 * SecondInductor apart = new SecondInductor(micro(90), milli(30), 0);
 * SecondInductor onOneCore = new SecondInductor(micro(90), milli(30), 0.98);
 * }</pre>
 *
 * @param inductance H; more than 0
 * @param resistance series resistance, Ω; 0 or more
 * @param coupling with the first inductor, 0 or more, below 1; both windings are driven alike in the on interval
 */
public record SecondInductor(double inductance, double resistance, double coupling) implements StagePart {
    @Override
    public List<String> faults() {
        List<String> faults = new ArrayList<>();
        StagePart.positive(faults, "second inductor: inductance", inductance, "H");
        StagePart.notNegative(faults, "second inductor: series resistance", resistance, "Ω");
        if (!(coupling >= 0 && coupling < 1)) {
            faults.add("second inductor: coupling must be from 0 up to, but not including, 1 but was " + coupling);
        }
        return faults;
    }

    /** Adds both windings as T1, which share a core. */
    void wire(Circuit.Builder builder, StageParts.Series first, Part.Winding one, Part.Winding other) {
        if (!first.bends().isEmpty()) {
            wireSaturating(builder, first, one, other);
            return;
        }
        double mutual = coupling * Math.sqrt(first.value() * inductance);
        builder.coupledInductors(StageWiring.TRANSFORMER, List.of(one, other), new double[][] {
            {first.value(), mutual}, {mutual, inductance}
        });
    }

    /**
     * On a core that saturates: the flux that links the first winding is that of LM, whose current is that of the first winding and
     * the second one's by its share; what of the second does not link the first is LK, in air. The winding "core" of the ideal
     * transformer is there so that the currents of the other two are those of the windings. While nothing saturates it is the same as
     * the two coupled inductances.
     */
    private void wireSaturating(
            Circuit.Builder builder, StageParts.Series first, Part.Winding one, Part.Winding other) {
        builder.idealTransformer(
                StageWiring.TRANSFORMER,
                List.of(
                        one,
                        Part.Winding.of(other.name(), "leakage", other.minus()).withResistance(resistance),
                        Part.Winding.of("core", "core", Circuit.GROUND)),
                1,
                coupling * Math.sqrt(inductance / first.value()),
                1);
        builder.part(
                new Part.Inductor(StageWiring.MAGNETIZING, "core", Circuit.GROUND, first.value(), 0, 0, first.bends()));
        builder.inductor("LK", other.plus(), "leakage", inductance * (1 - coupling * coupling), 0);
    }
}
