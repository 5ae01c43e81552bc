package org.voltsecond.plot.command;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * Designs that are in the jar, which a command without a design runs.
 *
 * <pre>{@code
 * String text = "[rail]\ninput = { low = \"9 V\", high = \"15 V\" }\noutput = \"5 V\"\nload = \"2 A\"\n";
 * Demo demo = new Demo("No design given: here is our board.", Map.of("logic-rail", text));
 * Command command = new Command(System.out, System.err).withDemo(demo);
 * }</pre>
 *
 * @param introduction what is said before they run
 * @param designs the text of each design file by its name, which is that of its folder; in the order of running
 */
public record Demo(String introduction, Map<String, String> designs) {
    /** None: the command says how to give a design. */
    static final Demo NONE =
            new Demo("No design given; valid: voltsecond.jar DESIGN.toml... (--help says more)", Map.of());

    /**
     * Copies the designs.
     *
     * @param introduction what is said before they run
     * @param designs the text of each design file by its name
     */
    public Demo {
        designs = Collections.unmodifiableMap(new LinkedHashMap<>(designs));
    }

    List<Job> jobs() {
        return designs.entrySet().stream()
                .map(design -> Job.of(design.getKey() + ".toml (built in)", design.getKey(), design.getValue()))
                .toList();
    }
}
