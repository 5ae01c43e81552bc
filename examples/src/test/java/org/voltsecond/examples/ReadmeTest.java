package org.voltsecond.examples;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.converter.Topology;
import org.voltsecond.design.Design;
import org.voltsecond.design.DesignException;
import org.voltsecond.design.DesignFile;

/** The README shows code that is compiled, and the output that this code prints. */
class ReadmeTest {
    private static final Path README = Path.of("..", "README.md");
    private static final Path SOURCE = Path.of("src/main/java/org/voltsecond/examples/Tutorial.java");

    private static final String STAGE = """
            stage = { topology = "buck" }
            input = { voltage = "12 V" }
            inductor = { inductance = "22 µH" }
            output_capacitor = { capacitance = "47 µF" }
            rectifier = { forward_drop = "0.4 V" }
            load = { resistance = "2.5 Ω" }
            drive = { kind = "fixed-duty", duty_cycle = 0.45, switching_frequency = "300 kHz" }
            """;

    @TempDir
    private Path folder;

    @Test
    void tutorialIsTheCompiledCode() throws IOException {
        String source = Files.readString(SOURCE);
        String code = source.substring(
                source.indexOf("// tutorial begins\n") + "// tutorial begins\n".length(),
                source.indexOf("        // tutorial ends"));
        assertThat(block("java")).isEqualTo(code.stripTrailing().stripIndent());
    }

    @Test
    void outputIsWhatTheTutorialPrints() throws IOException {
        String readme = Files.readString(README);
        Matcher shown =
                Pattern.compile("It prints\n\n```\n(.*?)\n```", Pattern.DOTALL).matcher(readme);
        assertThat(shown.find()).isTrue();
        assertThat(outputOfTutorial()).isEqualTo(shown.group(1));
        assertThat(folder.resolve("light-load.png")).isNotEmptyFile();
    }

    @Test
    void commandsAreTheTwoThatTheProjectPromises() throws IOException {
        assertThat(Files.readString(README))
                .contains("mvn -q -DskipTests package && java -jar examples/target/voltsecond.jar\nmvn verify\n");
    }

    /** What the README says of studies is read without a fault behind the design that it shows. */
    @Test
    void tablesOfStudiesAreValid() throws Exception {
        String readme = Files.readString(README);
        Matcher blocks = Pattern.compile("```toml\n(.*?)\n```", Pattern.DOTALL).matcher(readme);
        String studies = "";
        while (blocks.find()) {
            studies = blocks.group(1).startsWith("[map]") ? blocks.group(1) : studies;
        }
        Design design = DesignFile.parse("README", "README", STAGE + studies);
        assertThat(design.studies().map()).isNotNull();
        assertThat(design.studies().losses()).isNotNull();
        assertThat(design.studies().tolerance()).isNotNull();
        assertThat(design.studies().sizing()).isNotNull();
    }

    /** What the README says of a rail is a file from which a design is proposed. */
    @Test
    void railIsValid() throws Exception {
        String readme = Files.readString(README);
        Matcher blocks = Pattern.compile("```toml\n(.*?)\n```", Pattern.DOTALL).matcher(readme);
        String rail = blocks.results()
                .map(found -> found.group(1))
                .filter(block -> block.contains("[rail]"))
                .findFirst()
                .orElseThrow();
        Design design = DesignFile.parse("README", "README", DesignFile.completed("README", "README", rail));
        assertThat(design.name()).isEqualTo("logic rail");
        assertThat(design.topology()).isEqualTo(Topology.BUCK);
    }

    /** Those that the reader names where a key is unknown, over all forms of a kind, and those of the table. */
    @Test
    void theTableOfDrivesNamesTheKeysThatTheReaderTakes() throws IOException {
        Map<String, Set<String>> told = tableOfDrives();
        assertThat(told).hasSize(7);
        told.forEach((kind, keys) -> {
            Set<String> known = new TreeSet<>();
            for (String form : List.of("", "voltage_band = 1\n", "current_band = 1\n", "reference = 1\n")) {
                known.addAll(knownKeys("kind = \"" + kind + "\"\n" + form));
                known.addAll(knownKeys("kind = \"" + kind + "\"\ncurrent_command = 1\n" + form));
            }
            known.remove("kind");
            if (kind.equals("hysteretic")) {
                keys.addAll(List.of("current_command", "compensator", "sense"));
            }
            assertThat(keys).as(kind).containsExactlyInAnyOrderElementsOf(known);
        });
    }

    private static Map<String, Set<String>> tableOfDrives() throws IOException {
        Map<String, Set<String>> told = new TreeMap<>();
        for (String line : Files.readAllLines(README)) {
            String[] cells = line.split("\\|", -1);
            if (line.startsWith("| `") && cells.length == 4) {
                List<String> kinds = quoted(cells[1]);
                kinds.forEach(kind -> told.put(kind, new TreeSet<>(quoted(cells[2]))));
            }
        }
        told.remove("kind");
        return told;
    }

    private static List<String> quoted(String text) {
        return Pattern.compile("`([^`]+)`")
                .matcher(text)
                .results()
                .map(found -> found.group(1))
                .toList();
    }

    private static Set<String> knownKeys(String drive) {
        String stage = STAGE.substring(0, STAGE.indexOf("drive = "));
        try {
            DesignFile.parse("design", "design", stage + "[drive]\n" + drive + "no_such_key = 1\n");
        } catch (DesignException e) {
            return e.faults().stream()
                    .map(String::valueOf)
                    .filter(fault -> fault.contains("no_such_key"))
                    .flatMap(fault -> Stream.of(
                            fault.substring(fault.lastIndexOf("valid: ") + 7).split(", ", -1)))
                    .collect(Collectors.toSet());
        }
        throw new AssertionError("the key is refused");
    }

    /** Every design that the README shows in full is read without a fault, protection and rectifier included. */
    @Test
    void protectionIsReadAsShown() throws Exception {
        Matcher blocks = Pattern.compile("```toml\n(.*?)\n```", Pattern.DOTALL).matcher(Files.readString(README));
        String regulated = "";
        String protection = "";
        while (blocks.find()) {
            regulated = blocks.group(1).contains("kind = \"type-2\"") ? blocks.group(1) : regulated;
            protection = blocks.group(1).contains("[protection]") ? blocks.group(1) : protection;
        }
        String stage =
                STAGE.substring(0, STAGE.indexOf("drive = ")).replace("rectifier = { forward_drop = \"0.4 V\" }\n", "");
        Design design = DesignFile.parse("README", "README", stage + protection + "\n" + regulated);
        assertThat(design.converter().steadyState().conduction()).isNotNull();
    }

    private static String block(String language) throws IOException {
        Matcher found = Pattern.compile("```" + language + "\n(.*?)\n```", Pattern.DOTALL)
                .matcher(Files.readString(README));
        assertThat(found.find()).isTrue();
        return found.group(1);
    }

    private String outputOfTutorial() throws IOException {
        PrintStream before = System.out;
        Locale locale = Locale.getDefault();
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (PrintStream captured = new PrintStream(bytes, true, StandardCharsets.UTF_8)) {
            System.setOut(captured);
            Locale.setDefault(Locale.ROOT);
            Tutorial.main(new String[] {folder.toString()});
        } finally {
            System.setOut(before);
            Locale.setDefault(locale);
        }
        return bytes.toString(StandardCharsets.UTF_8).replace("\r\n", "\n").strip();
    }
}
