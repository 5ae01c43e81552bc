package org.voltsecond.stage;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;

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
 * @param saturation where the incremental magnetizing inductance changes with the magnetizing current at the primary, in ascending
 *     order; empty where it does not
 */
public record Transformer(
        Turns turns,
        double magnetizingInductance,
        double leakageInductance,
        double primaryResistance,
        double secondaryResistance,
        List<Bend> saturation)
        implements StagePart {
    /**
     * Turns of the windings.
     *
     * @param primary of each primary; more than 0
     * @param secondary of each secondary; more than 0
     * @param reset of the winding by which the core is reset; more than 0, not a number where there is none
     */
    public record Turns(double primary, double secondary, double reset) {
        /** Numbers of turns that a proposal counts up to. A choice: larger ones wind no better, and only ratios count. */
        private static final int MOST = 20;
        /** By how much the turns of the secondary may exceed what is asked for, relative. A choice. */
        private static final double NEAR = 0.2;

        /** {@return turns of the primary for each of the secondary} */
        public double ratio() {
            return primary / secondary;
        }

        /** {@return the same without a reset winding} */
        Turns withoutReset() {
            return new Turns(primary, secondary, Double.NaN);
        }

        /**
         * Returns the smallest whole numbers of turns whose ratio is at least one that is asked for, and close to it.
         *
         * @param least turns of the secondary for each of the primary; more than 0
         * @return turns, with as many of the reset winding as of the primary; where no small numbers are close, the ratio itself
         */
        static Turns atLeast(double least) {
            for (int sum = 2; sum <= 2 * MOST; sum++) {
                for (int secondary = 1; secondary < sum; secondary++) {
                    double primary = sum - secondary;
                    double excess = secondary / primary / least - 1;
                    if (excess >= 0 && excess <= NEAR) {
                        return new Turns(primary, secondary, primary);
                    }
                }
            }
            return least > 1
                    ? new Turns(1, Math.ceil(least), 1)
                    : new Turns(Math.floor(1 / least), 1, Math.floor(1 / least));
        }
    }

    /**
     * A winding where it lies in a stage.
     *
     * @param kind whose turns it has
     * @param dot node at its dotted end
     * @param other node at its other end
     */
    public record Coil(Kind kind, String dot, String other) {
        /** Whose turns a winding has. */
        public enum Kind {
            /** Of the side that is fed; the first one has the magnetizing inductance across it. */
            PRIMARY,
            /** Of the side that feeds the output. */
            SECONDARY,
            /** By which the core is reset. */
            RESET
        }

        /**
         * Returns a primary.
         *
         * @param dot node at its dotted end, by way of leakage and resistance
         * @param other node at its other end
         * @return the winding
         */
        public static Coil primary(String dot, String other) {
            return new Coil(Kind.PRIMARY, dot, other);
        }

        /**
         * Returns a secondary.
         *
         * @param dot node at its dotted end
         * @param other node at its other end
         * @return the winding
         */
        public static Coil secondary(String dot, String other) {
            return new Coil(Kind.SECONDARY, dot, other);
        }

        /**
         * Returns a reset winding.
         *
         * @param dot node at its dotted end
         * @param other node at its other end
         * @return the winding
         */
        public static Coil reset(String dot, String other) {
            return new Coil(Kind.RESET, dot, other);
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
        return new Transformer(new Turns(primary, secondary, Double.NaN), magnetizingInductance, 0, 0, 0, List.of());
    }

    /**
     * Returns a transformer without leakage and resistance.
     *
     * @param turns of its windings
     * @param magnetizingInductance seen from the primary, H; more than 0
     * @return the transformer
     */
    public static Transformer of(Turns turns, double magnetizingInductance) {
        return new Transformer(turns, magnetizingInductance, 0, 0, 0, List.of());
    }

    /**
     * Returns this transformer with a leakage inductance.
     *
     * @param henry at the primary, H; 0 for none
     * @return a new transformer
     */
    public Transformer withLeakage(double henry) {
        return new Transformer(turns, magnetizingInductance, henry, primaryResistance, secondaryResistance, saturation);
    }

    /**
     * Returns this transformer with another magnetizing inductance.
     *
     * @param henry seen from the primary, H; more than 0
     * @return a new transformer
     */
    public Transformer withMagnetizingInductance(double henry) {
        return new Transformer(turns, henry, leakageInductance, primaryResistance, secondaryResistance, saturation);
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
                secondaryResistance,
                saturation);
    }

    /**
     * Returns this transformer with resistances of its windings.
     *
     * @param primary of each primary, Ω; 0 or more
     * @param secondary of each secondary, Ω; 0 or more
     * @return a new transformer
     */
    public Transformer withResistances(double primary, double secondary) {
        return new Transformer(turns, magnetizingInductance, leakageInductance, primary, secondary, saturation);
    }

    @Override
    public List<String> faults() {
        List<String> faults = new ArrayList<>();
        StagePart.positive(faults, "transformer: turns of the primary", turns.primary, "");
        StagePart.positive(faults, "transformer: turns of the secondary", turns.secondary, "");
        if (!Double.isNaN(turns.reset)) {
            StagePart.positive(faults, "transformer: turns of the reset winding", turns.reset, "");
        }
        faults.addAll(new Part.Inductor("transformer", "", "", 1, 0, 0, saturation).faults());
        StagePart.positive(faults, "transformer: magnetizing inductance", magnetizingInductance, "H");
        StagePart.notNegative(faults, "transformer: leakage inductance", leakageInductance, "H");
        StagePart.notNegative(faults, "transformer: resistance of the primary", primaryResistance, "Ω");
        StagePart.notNegative(faults, "transformer: resistance of the secondary", secondaryResistance, "Ω");
        return faults;
    }

    /**
     * Returns this transformer with a core that saturates: its windings share the flux, which is that of the magnetizing current.
     *
     * @param bends where the incremental magnetizing inductance changes with the magnetizing current at the primary, A and H
     * @return the transformer
     */
    public Transformer withSaturation(Bend... bends) {
        return new Transformer(
                turns,
                magnetizingInductance,
                leakageInductance,
                primaryResistance,
                secondaryResistance,
                List.of(bends));
    }

    /**
     * Adds the ideal transformer T1, the magnetizing inductance LM across its first primary, and before each primary what leakage LK
     * and resistance it has.
     *
     * @return reference designators of what turns power into heat
     */
    List<String> wire(Circuit.Builder builder, List<Coil> coils) {
        List<String> heating = new ArrayList<>();
        List<Part.Winding> windings = new ArrayList<>();
        double[] numbers = new double[coils.size()];
        for (int k = 0; k < numbers.length; k++) {
            Coil coil = coils.get(k);
            boolean primary = coil.kind() == Coil.Kind.PRIMARY;
            long before = coils.subList(0, k).stream()
                    .filter(other -> other.kind() == coil.kind())
                    .count();
            String number = before == 0 ? "" : String.valueOf(before + 1);
            String dot = primary ? led(builder, coil.dot(), number, heating) : coil.dot();
            if (primary && before == 0) {
                builder.part(new Part.Inductor(
                        StageWiring.MAGNETIZING, dot, coil.other(), magnetizingInductance, 0, 0, saturation));
            }
            numbers[k] = switch (coil.kind()) {
                case PRIMARY -> turns.primary;
                case SECONDARY -> turns.secondary;
                case RESET -> turns.reset;
            };
            windings.add(Part.Winding.of(coil.kind().name().toLowerCase(Locale.ROOT) + number, dot, coil.other())
                    .withResistance(coil.kind() == Coil.Kind.SECONDARY ? secondaryResistance : 0));
        }
        builder.idealTransformer(StageWiring.TRANSFORMER, windings, numbers);
        if (secondaryResistance > 0) {
            heating.add(StageWiring.TRANSFORMER);
        }
        return heating;
    }

    /** The node behind leakage and resistance of a primary. */
    private String led(Circuit.Builder builder, String from, String number, List<String> heating) {
        String inside = "core" + number;
        if (leakageInductance > 0) {
            builder.inductor("LK" + number, from, inside, leakageInductance, primaryResistance);
        } else if (primaryResistance > 0) {
            builder.resistor("RP" + number, from, inside, primaryResistance);
        } else {
            return from;
        }
        if (primaryResistance > 0) {
            heating.add((leakageInductance > 0 ? "LK" : "RP") + number);
        }
        return inside;
    }
}
