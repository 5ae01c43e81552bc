package org.voltsecond.examples;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.converter.Topology;
import org.voltsecond.examples.design.Design;
import org.voltsecond.examples.design.DesignFile;

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
