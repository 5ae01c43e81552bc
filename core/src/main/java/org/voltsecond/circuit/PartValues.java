package org.voltsecond.circuit;

import java.util.ArrayList;
import java.util.List;

/**
 * Several numbers of the parts of a circuit, looked up once and set together: circuits that differ in values alone, for very many
 * of them. Immutable.
 *
 * <pre>{@code
 * PartValues varied = PartValues.of(rail.circuit(), List.of("L1.inductance", "L1.resistance"));
 * Circuit design = varied.set(new double[] {micro(18), milli(40)});
 * }</pre>
 */
public final class PartValues {
    private final Circuit circuit;
    /** Where the part of each number stands in the circuit, and the number among those of its part. */
    private final int[] part;

    private final int[] place;

    private PartValues(Circuit circuit, int[] part, int[] place) {
        this.circuit = circuit;
        this.part = part;
        this.place = place;
    }

    /**
     * Finds the numbers.
     *
     * @param circuit the circuit
     * @param names their names, such as "L1.inductance"
     * @return the numbers, in that order
     * @throws IllegalArgumentException if the circuit has no such value
     */
    public static PartValues of(Circuit circuit, List<String> names) {
        int[] part = new int[names.size()];
        int[] place = new int[names.size()];
        for (int k = 0; k < part.length; k++) {
            String name = PartValue.of(circuit, names.get(k)).name();
            for (int i = 0; i < circuit.parts().size(); i++) {
                List<PartValue> ofPart =
                        PartValue.ofPart(circuit, circuit.parts().get(i));
                for (int j = 0; j < ofPart.size(); j++) {
                    if (ofPart.get(j).name().equals(name)) {
                        part[k] = i;
                        place[k] = j;
                    }
                }
            }
        }
        return new PartValues(circuit, part, place);
    }

    /**
     * Sets all of them.
     *
     * @param values one for each name, in SI units; of two for the same number the last counts
     * @return a new circuit
     * @throws InvalidCircuitException if a part cannot have such values, all faults at once
     */
    public Circuit set(double[] values) {
        Part[] parts = circuit.parts().toArray(Part[]::new);
        for (int k = 0; k < part.length; k++) {
            Part old = parts[part[k]];
            parts[part[k]] = PartValue.ofPart(circuit, old).get(place[k]).written(values[k]);
        }
        List<String> faults = new ArrayList<>();
        for (int index : part) {
            // a part of several numbers tells its faults but once
            parts[index].faults().stream()
                    .filter(each -> !faults.contains(each))
                    .forEach(faults::add);
        }
        if (!faults.isEmpty()) {
            throw new InvalidCircuitException(faults);
        }
        return new Circuit(List.of(parts), circuit.terminals);
    }

    @Override
    public String toString() {
        return part.length + " values of " + circuit;
    }
}
