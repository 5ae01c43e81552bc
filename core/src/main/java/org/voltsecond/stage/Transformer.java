package org.voltsecond.stage;

import java.util.ArrayList;
import java.util.List;

/**
 * A transformer: ideal windings, with the magnetizing inductance across the primary and the leakage in series with it.
 *
 * <pre>{@code
 * Transformer core = Transformer.of(3, 1, micro(500)).withLeakage(micro(5)).withReset(3);
 * double ratio = core.turns().ratio(); // 3
 * }</pre>
 *
 * @param turns of its windings; only ratios count
 * @param magnetizingInductance seen from the primary, H; more than 0
 * @param leakageInductance at the primary, H; 0 for none
 * @param primaryResistance of each primary, Ω; 0 or more
 * @param secondaryResistance of each secondary, Ω; 0 or more
 */
public record Transformer(
        Turns turns,
        double magnetizingInductance,
        double leakageInductance,
        double primaryResistance,
        double secondaryResistance)
        implements StagePart {
    /**
     * Turns of the windings.
     *
     * @param primary of each primary; more than 0
     * @param secondary of each secondary; more than 0
     * @param reset of the winding by which the core is reset; more than 0, not a number where there is none
     */
    public record Turns(double primary, double secondary, double reset) {
        /** {@return turns of the primary for each of the secondary} */
        public double ratio() {
            return primary / secondary;
        }
    }

    /**
     * Returns a transformer without leakage, resistance and reset winding.
     *
     * @param primary turns; more than 0
     * @param secondary turns; more than 0
     * @param magnetizingInductance seen from the primary, H; more than 0
     * @return the transformer
     */
    public static Transformer of(double primary, double secondary, double magnetizingInductance) {
        return new Transformer(new Turns(primary, secondary, Double.NaN), magnetizingInductance, 0, 0, 0);
    }

    /**
     * Returns this transformer with a leakage inductance.
     *
     * @param henry at the primary, H; 0 for none
     * @return a new transformer
     */
    public Transformer withLeakage(double henry) {
        return new Transformer(turns, magnetizingInductance, henry, primaryResistance, secondaryResistance);
    }

    /**
     * Returns this transformer with a reset winding.
     *
     * @param reset turns; more than 0
     * @return a new transformer
     */
    public Transformer withReset(double reset) {
        return new Transformer(
                new Turns(turns.primary, turns.secondary, reset),
                magnetizingInductance,
                leakageInductance,
                primaryResistance,
                secondaryResistance);
    }

    /**
     * Returns this transformer with resistances of its windings.
     *
     * @param primary of each primary, Ω; 0 or more
     * @param secondary of each secondary, Ω; 0 or more
     * @return a new transformer
     */
    public Transformer withResistances(double primary, double secondary) {
        return new Transformer(turns, magnetizingInductance, leakageInductance, primary, secondary);
    }

    @Override
    public List<String> faults() {
        List<String> faults = new ArrayList<>();
        StageParts.positive(faults, "transformer: turns of the primary", turns.primary, "");
        StageParts.positive(faults, "transformer: turns of the secondary", turns.secondary, "");
        if (!Double.isNaN(turns.reset)) {
            StageParts.positive(faults, "transformer: turns of the reset winding", turns.reset, "");
        }
        StageParts.positive(faults, "transformer: magnetizing inductance", magnetizingInductance, "H");
        StageParts.notNegative(faults, "transformer: leakage inductance", leakageInductance, "H");
        StageParts.notNegative(faults, "transformer: resistance of the primary", primaryResistance, "Ω");
        StageParts.notNegative(faults, "transformer: resistance of the secondary", secondaryResistance, "Ω");
        return faults;
    }
}
