package org.voltsecond.emission;

import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Port;
import org.voltsecond.converter.Converter;
import org.voltsecond.numeric.Complex;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Signal;

/**
 * What a supply line is measured at: an inductor, and beside it the resistor that stands for the receiver. The supply is ideal, and the
 * capacitor that couples the receiver is left out (CISPR 16-1-2, the networks 50 Ω/50 µH and 50 Ω/5 µH, from memory).
 *
 * <pre>{@code
 * double ohm = ArtificialNetwork.FIFTY_MICROHENRY.impedance(kilo(150)).magnitude(); // 34.29 Ω
 * }</pre>
 *
 * @param inductance H; more than 0
 * @param resistance Ω; more than 0
 */
public record ArtificialNetwork(double inductance, double resistance) {
    /** That of the mains and of most supplies: 50 µH beside 50 Ω. */
    public static final ArtificialNetwork FIFTY_MICROHENRY = new ArtificialNetwork(50e-6, 50);

    /** That of vehicles and vessels, with short leads: 5 µH beside 50 Ω. */
    public static final ArtificialNetwork FIVE_MICROHENRY = new ArtificialNetwork(5e-6, 50);

    static final String WORDS = "artificial network";

    /**
     * Checks the values.
     *
     * @param inductance H; more than 0
     * @param resistance Ω; more than 0
     * @throws IllegalArgumentException if one is not more than 0
     */
    public ArtificialNetwork {
        if (!(inductance > 0 && inductance < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("artificial network: the inductance must be more than 0 H but was "
                    + Quantity.brief(inductance, Unit.HENRY) + "; usual: 50 µH or 5 µH");
        }
        if (!(resistance > 0 && resistance < Double.POSITIVE_INFINITY)) {
            throw new IllegalArgumentException("artificial network: the resistance must be more than 0 ohm but was "
                    + Quantity.brief(resistance, Unit.OHM) + "; usual: 50 Ω");
        }
    }

    /**
     * Returns what a line is loaded with.
     *
     * @param frequency Hz; more than 0
     * @return inductor and resistor side by side, Ω
     */
    public Complex impedance(double frequency) {
        Complex coil = new Complex(0, 2 * Math.PI * frequency * inductance);
        return coil.multiply(resistance).divide(coil.add(resistance));
    }

    /**
     * A converter that is fed through a network in each line.
     *
     * @param converter the converter with the networks
     * @param plusLine what a receiver would see at the network of the plus line, V
     * @param minusLine the same of the minus line
     */
    record Installed(Converter converter, Signal plusLine, Signal minusLine) {}

    /** Puts one network in each supply line, and a capacitor from each switch node to earth, which is the minus of the supply. */
    Installed in(Converter bare, double earthCapacitance) {
        Port source = bare.circuit().part(bare.roles().source()).ports().get(0);
        Set<String> names = bare.circuit().parts().stream().map(Part::name).collect(Collectors.toSet());
        Predicate<String> isNode = name -> bare.circuit().nodes().contains(name);
        String supply = free("supply plus", isNode);
        String earth = free("earth", isNode);
        List<Part> parts = new ArrayList<>();
        List<String> added = new ArrayList<>(); // so that one name is not given twice
        Predicate<String> taken = name -> names.contains(name) || added.contains(name);
        String plus = numbered("LN", taken, added);
        parts.add(new Part.Inductor(plus, source.plus(), supply, inductance, 0, 0));
        parts.add(new Part.Resistor(numbered("RN", taken, added), source.plus(), supply, resistance));
        String minus = numbered("LN", taken, added);
        parts.add(new Part.Inductor(minus, source.minus(), earth, inductance, 0, 0));
        parts.add(new Part.Resistor(numbered("RN", taken, added), source.minus(), earth, resistance));
        if (earthCapacitance > 0) {
            for (String node : switchNodes(bare)) {
                parts.add(new Part.Capacitor(numbered("CE", taken, added), node, earth, earthCapacitance, 0, 0));
            }
        }
        Converter fed = bare.fedThrough(supply, earth, WORDS, parts);
        return new Installed(
                fed,
                fed.driven().voltageAcross(plus).named("plus line"),
                fed.driven().voltageAcross(minus).named("minus line"));
    }

    /** Of interleaved phases each has one; what is not named and cannot be found is asked for. */
    private static List<String> switchNodes(Converter converter) {
        String named = converter
                .roles()
                .switchNode()
                .orElseThrow(() -> new InvalidStageException(
                        "emissions",
                        List.of(
                                "earth capacitance: it lies between switch node and earth, but which node that is, is not known; "
                                        + "name the switch node, or leave the capacitance out")));
        List<String> nodes = new ArrayList<>(List.of(named));
        for (String coil : converter.roles().inductors()) {
            Part part = converter.circuit().part(coil.split("\\.", 2)[0]);
            if (part instanceof Part.Inductor inductor
                    && converter.roles().inductors().size() > 1) {
                for (String end : List.of(inductor.a(), inductor.b())) {
                    boolean switched = converter.roles().switches().stream()
                            .map(each -> converter.circuit().part(each).ports().get(0))
                            .anyMatch(port ->
                                    port.plus().equals(end) || port.minus().equals(end));
                    if (switched && !nodes.contains(end)) {
                        nodes.add(end);
                    }
                }
            }
        }
        nodes.remove(Circuit.GROUND);
        return nodes;
    }

    private static String free(String name, Predicate<String> taken) {
        return taken.test(name) ? free(name + " of the network", taken) : name;
    }

    private static String numbered(String letters, Predicate<String> taken, List<String> added) {
        int number = 1;
        while (taken.test(letters + number)) {
            number++;
        }
        added.add(letters + number);
        return letters + number;
    }

    @Override
    public String toString() {
        return Quantity.brief(inductance, Unit.HENRY) + " beside " + Quantity.brief(resistance, Unit.OHM);
    }
}
