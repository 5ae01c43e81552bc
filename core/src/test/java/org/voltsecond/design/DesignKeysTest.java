package org.voltsecond.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import org.tomlj.Toml;

/** The table of keys is whole: each line has an example that is TOML, a unit that exists, a default that is valid. */
class DesignKeysTest {
    @Test
    void everyExampleIsToml() {
        String examples = DesignKeys.text()
                .lines()
                .filter(line -> line.matches(" {2}[a-z_]+ = .*"))
                .map(line -> "[[key]]\n" + line.strip())
                .reduce("", (all, each) -> all + each + "\n");
        assertThat(examples.lines().count()).isGreaterThan(300);
        assertThat(Toml.parse(examples).errors()).isEmpty();
    }

    @Test
    void quantitiesHaveAUnitAndAnExampleThatIsValid() {
        assertThat(DesignKeys.of("inductor", "inductance").kind().valid())
                .isEqualTo("more than 0 H, for example \"22 µH\"");
        assertThat(DesignKeys.of("inductor", "resistance").usual()).isZero();
        assertThat(DesignKeys.of("drive", "delay", "sampled").type()).isEqualTo("s");
        assertThat(DesignKeys.of("drive.compensator", "gain", "parts").example())
                .isEqualTo("1e5");
        assertThat(DesignKeys.of("drive", "numerator").most()).isEqualTo(16);
        assertThatThrownBy(() -> DesignKeys.of("inductor", "colour")).hasMessageContaining("no key colour");
    }

    @Test
    void aKeyOfAnotherKindOrTableIsKnown() {
        assertThat(DesignKeys.whereItBelongs("drive", "on_time")).contains("it is for constant-on-time");
        assertThat(DesignKeys.whereItBelongs("stage", "inductance")).contains("there is one in [inductor]");
        assertThat(DesignKeys.whereItBelongs("stage", "colour")).isEmpty();
    }

    /** What stands beside a table so that it is read. */
    private static final Map<String, String> BASE = base();

    private static Map<String, String> base() {
        Map<String, String> base = new LinkedHashMap<>();
        base.put("", "");
        base.put("stage", "topology = \"buck\"");
        base.put("input", "voltage = \"12 V\"");
        base.put("inductor", "inductance = \"22 µH\"");
        base.put("output_capacitor", "capacitance = \"47 µF\"");
        base.put("rectifier", "kind = \"synchronous\"\nbody_diode_drop = \"0.8 V\"");
        base.put("load", "resistance = \"2.5 Ω\"");
        base.put("drive", """
                kind = "voltage-mode"
                switching_frequency = "300 kHz"
                reference = "1 V"
                divider = 0.2
                """);
        base.put("drive.compensator", "kind = \"proportional\"\ngain = 8");
        base.put("transient", "duration = \"15 ms\"");
        return base;
    }

    /** Keys without which a key of a kind is not asked for. */
    private static String companions(String path, Key key) {
        boolean looped = List.of("reference", "divider", "compensator", "sense").contains(key.name());
        return switch (path) {
            case "drive" ->
                (key.name().equals("reference") || !looped ? "" : "reference = \"1 V\"\n")
                        + (key.name().equals("current_command")
                                        || (looped && !key.name().equals("reference"))
                                ? "current_band = \"0.5 A\"\n"
                                : "");
            case "drive.compensator" ->
                key.name().startsWith("lead_") ? "lead_resistor = 1\nlead_capacitor = 1e-9\n" : "";
            default -> "";
        };
    }

    static Stream<Arguments> keys() {
        return DesignKeys.paths().stream()
                .flatMap(path -> DesignKeys.keys(path).stream()
                        .filter(key -> !key.type().startsWith("table"))
                        .flatMap(key -> (key.of().isEmpty() ? List.of("") : key.of())
                                .stream().map(kind -> Arguments.of(path, key, kind))));
    }

    /** A reader asks for each key of the table, and takes its example. */
    @ParameterizedTest(name = "[{0}] {1} {2}")
    @MethodSource("keys")
    void theReaderTakesEveryKeyWithItsExample(String path, Key key, String kind) {
        String place = path.replace("*", "forward_drop");
        Map<String, String> tables = new LinkedHashMap<>(BASE);
        if (place.startsWith("rail")) {
            tables.keySet().removeIf(name -> !List.of("", "rectifier").contains(name));
        }
        if (place.startsWith("tolerance.values")) {
            if (!List.of("reference", "divider").contains(key.name())) {
                tables.put("drive", "kind = \"fixed-duty\"\nduty_cycle = 0.45\nswitching_frequency = \"300 kHz\"");
                tables.remove("drive.compensator");
            }
            tables.put("rectifier", "forward_drop = \"0.4 V\"");
            tables.put("load", key.name().equals("load_current") ? "current = \"2 A\"" : "resistance = \"2.5 Ω\"");
        }
        if (place.startsWith("transient.change.")) {
            tables.put("[transient.change]", "time = \"5 ms\"");
        }
        if (place.startsWith("drive")) {
            tables.remove("drive.compensator");
        }
        String name = place.equals("transient.change") ? "[transient.change]" : place;
        String lines = companions(path, key).replaceAll("(?m)^" + key.name() + " = .*\n", "");
        tables.put(
                name, (kind.isEmpty() ? "" : "kind = \"" + kind + "\"\n") + lines + key.name() + " = " + key.example());
        StringBuilder text = new StringBuilder();
        tables.forEach((table, content) -> text.append(
                        table.isEmpty() ? "" : "[" + table + (table.startsWith("[") ? "]" : "") + "]\n")
                .append(content)
                .append('\n'));
        String field = (place.isEmpty() ? "" : place + ".") + key.name();
        assertThat(faults(text.toString()))
                .noneMatch(fault -> fault.field().replaceAll("\\[\\d+]", "").equals(field)
                        && fault.message()
                                .matches("(?s)unknown key.*|out of range.*|must be (a|an|one|true) .*|beyond.*|"
                                        + "not a quantity.*|\"[^\"]*\" is an? .*"));
    }

    private static List<DesignException.Fault> faults(String text) {
        try {
            DesignFile.parse("rail.toml", "rail", DesignFile.completed("rail.toml", "rail", text));
            return List.of();
        } catch (DesignException wrong) {
            return wrong.faults();
        }
    }

    @Test
    void thePageHasEveryKeyOfTheText() {
        long keys = Pattern.compile("^ {2}\\S", Pattern.MULTILINE)
                .matcher(DesignKeys.text())
                .results()
                .count();
        assertThat(Pattern.compile("<tr><td>")
                        .matcher(DesignKeys.page())
                        .results()
                        .count())
                .isEqualTo(keys);
    }
}
