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
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.design.Design;
import org.voltsecond.design.DesignFile;
import org.voltsecond.stage.Topology;

/** The README shows code that is compiled, and the output that this code prints. */
class ReadmeTest {
    private static final Path README = Path.of("..", "README.md");
    private static final Path SOURCE = Path.of("src/main/java/org/voltsecond/examples/Tutorial.java");

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
        assertThat(design.stage().orElseThrow().topology()).isEqualTo(Topology.BUCK);
    }

    /** Both designs that the README shows are read without a fault, and run. */
    @Test
    void designsAreRead() throws Exception {
        List<String> blocks = Pattern.compile("```toml\n(.*?)\n```", Pattern.DOTALL)
                .matcher(Files.readString(README))
                .results()
                .map(found -> found.group(1))
                .toList();
        String open = blocks.stream()
                .filter(block -> block.contains("[stage]"))
                .findFirst()
                .orElseThrow();
        String regulated = blocks.stream()
                .filter(block -> block.startsWith("[drive]"))
                .findFirst()
                .orElseThrow();
        Design design = DesignFile.parse("README", "README", open);
        assertThat(design.limits()).isNotEmpty();
        assertThat(design.converter().steadyState().conduction()).isNotNull();
        String replaced = open.substring(0, open.indexOf("[drive]")) + regulated;
        assertThat(DesignFile.parse("README", "README", replaced)
                        .converter()
                        .steadyState()
                        .conduction())
                .isNotNull();
    }

    @Test
    void isShort() throws IOException {
        assertThat(Files.readAllLines(README)).hasSizeLessThanOrEqualTo(230);
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
