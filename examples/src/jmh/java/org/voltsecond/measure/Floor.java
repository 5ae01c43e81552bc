package org.voltsecond.measure;

import java.io.IOException;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** The hand-written program, compiled and run. */
final class Floor {
    private static final String LETTERS = "ABCDEF";

    private final Map<String, Double> times = new LinkedHashMap<>();
    private final Map<String, String> states = new LinkedHashMap<>();

    private Floor(List<String> lines) {
        lines.forEach(line -> read(line.split(",", -1)));
    }

    static Floor run(Path program) throws IOException {
        return new Floor(Child.lines(program.toString()));
    }

    /** T: time of a period, its tenth percentile. P: time of a steady state. S: state after some periods. */
    private void read(String[] words) {
        if (words[0].equals("T") && !words[1].contains("samples")) {
            times.merge(words[2], Double.valueOf(words[6]), Math::min);
        } else if (words[0].equals("P")) {
            times.put("P" + words[1], Double.valueOf(words[5]));
        } else if (words[0].equals("S") && words[3].equals("300")) {
            states.putIfAbsent(words[2], words[5] + "," + words[6]);
        }
    }

    /** Time of each of its cases, ns. */
    Map<String, Double> times() {
        return times;
    }

    /** Current and voltage after 300 periods of a case, by its letter. */
    String state(char letter) {
        if (LETTERS.indexOf(letter) < 0 || !states.containsKey("" + letter)) {
            throw new IllegalStateException("the hand-written program told no state of case " + letter);
        }
        return states.get("" + letter);
    }
}
