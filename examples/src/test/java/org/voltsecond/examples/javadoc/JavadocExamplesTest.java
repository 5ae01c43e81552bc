package org.voltsecond.examples.javadoc;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.OutputStream;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Every public type of core and plot has an example in its Javadoc that compiles without a warning, runs, and comes to
 * the values that its comments tell ({@link Said}). It stands here, outside of both, since it is to use nothing but what
 * a user can.
 */
class JavadocExamplesTest {
    private static final Path ROOT = Path.of("").toAbsolutePath().getParent();

    @TempDir
    private static Path folder;

    private static List<JavadocExample.Source> sources;

    @BeforeAll
    static void readAll() throws IOException {
        List<JavadocExample.Source> found = new ArrayList<>();
        for (String module : List.of("core", "plot")) {
            try (Stream<Path> paths = Files.walk(ROOT.resolve(module).resolve("src/main/java"))) {
                for (Path path : paths.filter(each -> each.toString().endsWith(".java"))
                        .sorted()
                        .toList()) {
                    found.add(JavadocExample.in(ROOT, path));
                }
            }
        }
        sources = List.copyOf(found);
        Ready.folder = folder;
    }

    @Test
    void everyPublicTypeHasOne() {
        assertThat(sources.stream().filter(JavadocExample.Source::isPublic)).hasSizeGreaterThan(100);
        assertThat(sources)
                .filteredOn(source -> source.isPublic() && !source.isExplained())
                .extracting(JavadocExample.Source::file)
                .isEmpty();
    }

    @Test
    void allCompileAndRun() throws IOException {
        List<JavadocExample> examples =
                sources.stream().flatMap(source -> source.examples().stream()).toList();
        ExampleCompiler compiler = new ExampleCompiler(folder, packages());
        assertThat(compiler.compile(examples)).isEmpty();
        List<String> faults = new ArrayList<>();
        PrintStream standard = System.out;
        try {
            System.setOut(new PrintStream(OutputStream.nullOutputStream()));
            for (JavadocExample example : examples) {
                faults.add(compiler.run(example));
            }
        } finally {
            System.setOut(standard);
        }
        assertThat(faults.stream().filter(fault -> !fault.isEmpty())).isEmpty();
    }

    @Test
    void aWrongCommentIsFound() {
        assertThat(Said.fault(4.403e-3, "4.403 mV", 1)).isEmpty();
        assertThat(Said.fault(4.404e-3, "4.403 mV", 1)).contains("4.403 mV", "0.004404");
        assertThat(Said.fault(4.403, "4.403 mV", 1)).isNotEmpty();
        assertThat(Said.fault(Double.NaN, "0", 1)).isNotEmpty();
        assertThat(Said.fault("one of two", "\"one...\"", 1)).isEmpty();
        assertThat(Said.fault("one of two", "\"one\"", 1)).isNotEmpty();
        assertThat(Said.fault(false, "true", 1)).isNotEmpty();
    }

    private static Set<String> packages() {
        return sources.stream()
                .filter(JavadocExample.Source::isPublic)
                .map(source -> source.file().replaceAll(".*src/main/java/|/[^/]*$", ""))
                .map(path -> path.replace('/', '.'))
                .collect(Collectors.toSet());
    }
}
