package org.voltsecond.examples;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.File;
import java.io.IOException;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.jar.Attributes;
import java.util.jar.JarOutputStream;
import java.util.jar.Manifest;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import javax.tools.JavaCompiler;
import javax.tools.StandardJavaFileManager;
import javax.tools.ToolProvider;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Programs that are modules compile and run with the libraries on the module path. In the build these are the jars; where
 * classes lie in folders, jars are made of them with the module name that the build gives.
 */
class ModulePathTest {
    @TempDir
    private Path folder;

    /** With Hipparchus and nothing else; a stage of the program's own is found among the library's. */
    @Test
    void coreNeedsHipparchusAlone() throws Exception {
        String module = """
                module buoy.rails {
                    requires org.voltsecond.core;
                    provides org.voltsecond.stage.Topology with outside.QuadraticBoost;
                }
                """;
        String program = """
                package buoy;

                import org.voltsecond.control.*;
                import org.voltsecond.converter.*;
                import org.voltsecond.numeric.Complex;
                import org.voltsecond.stage.*;
                import org.voltsecond.waveform.Waveform;

                public final class Main {
                    public static void main(String[] arguments) {
                        Converter rail = PowerStage.buck().input(12).inductor(22e-6).outputCapacitor(47e-6, 5e-3)
                                .load(Load.resistor(2.5)).drive(Drive.fixedDuty(0.45, 300e3));
                        ConverterSteadyState steady = rail.steadyState();
                        Waveform output = steady.of(rail.outputVoltage());
                        System.out.println("mean " + Math.round(1000 * output.mean()) + " mV");
                        for (Complex multiplier : steady.periodic().multipliers()) {
                            System.out.println("inside the unit circle " + (multiplier.magnitude() < 1));
                        }
                        System.out.println(Topology.of("quadratic boost").getClass().getModule());
                        System.out.println(Converter.class.getModule());
                        System.out.println(ModuleLayer.boot().modules().stream().map(Module::getName)
                                .filter(name -> !name.startsWith("java.") && !name.startsWith("jdk.")).sorted().toList());
                    }
                }
                """;
        Path stage = Path.of("..", "core", "src", "test", "java", "outside", "QuadraticBoost.java");
        List<String> printed = run(module, program, stage, "voltsecond-core|hipparchus-core");
        assertThat(printed)
                .containsExactly(
                        "mean 5400 mV",
                        "inside the unit circle true",
                        "inside the unit circle true",
                        "module buoy.rails",
                        "module org.voltsecond.core",
                        "[buoy.rails, hipparchus.core, org.voltsecond.core]");
    }

    /** With what plot, its report and design files need; of these the writer of JSON is a module that has to be asked for. */
    @Test
    void reportIsWrittenFromAModule() throws Exception {
        String module = """
                module buoy.report {
                    requires org.voltsecond.core;
                    requires org.voltsecond.plot;
                    requires com.fasterxml.jackson.core;
                }
                """;
        String program = """
                package buoy;

                import java.nio.file.Files;
                import java.nio.file.Path;
                import org.voltsecond.design.Design;
                import org.voltsecond.design.DesignFile;
                import org.voltsecond.plot.report.Findings;
                import org.voltsecond.plot.report.Report;

                public final class Main {
                    public static void main(String[] arguments) throws Exception {
                        Design design = DesignFile.read(Path.of(arguments[0]));
                        Path report = Path.of(arguments[1]);
                        Report.of(Findings.of(design.converter())).writeTo(report);
                        System.out.println(Files.exists(report.resolve("report.html")));
                        System.out.println(Files.exists(report.resolve("figures.json")));
                        System.out.println(Report.class.getModule());
                    }
                }
                """;
        Path design = Files.writeString(folder.resolve("rail.toml"), """
                [stage]
                topology = "buck"
                [input]
                voltage = "12 V"
                [inductor]
                inductance = "22 µH"
                [output_capacitor]
                capacitance = "47 µF"
                [load]
                resistance = "2.5 Ω"
                [drive]
                kind = "fixed-duty"
                duty_cycle = 0.45
                switching_frequency = "300 kHz"
                """);
        List<String> printed = run(
                module,
                program,
                null,
                "voltsecond-core|voltsecond-plot|hipparchus-core|jfreechart|batik|xmlgraphics|uplot|tomlj|antlr4-runtime"
                        + "|checker-qual|jackson-core|commons-io|commons-logging",
                design.toString(),
                folder.resolve("report").toString());
        assertThat(printed).containsExactly("true", "true", "module org.voltsecond.plot");
    }

    private List<String> run(String module, String program, @Nullable Path more, String libraries, String... arguments)
            throws Exception {
        String path = modulePath(Pattern.compile(libraries));
        Path sources = Files.createDirectories(folder.resolve("sources"));
        Path classes = folder.resolve("classes");
        List<Path> files = Stream.of(
                        Files.writeString(sources.resolve("module-info.java"), module),
                        Files.writeString(sources.resolve("Main.java"), program),
                        more)
                .filter(file -> file != null)
                .toList();
        StringWriter faults = new StringWriter();
        JavaCompiler compiler = ToolProvider.getSystemJavaCompiler();
        try (StandardJavaFileManager manager = compiler.getStandardFileManager(null, null, StandardCharsets.UTF_8)) {
            // our names are those of manifests until Hipparchus is a module: nothing else is to be warned of
            List<String> options = List.of(
                    "-Xlint:all,-requires-automatic", "-Werror", "-proc:none", "-p", path, "-d", classes.toString());
            compiler.getTask(faults, manager, null, options, null, manager.getJavaFileObjectsFromPaths(files))
                    .call();
        }
        assertThat(faults.toString()).isEmpty();
        return java(Stream.concat(
                        Stream.of("-Djava.awt.headless=true", "-p", classes + File.pathSeparator + path),
                        Stream.concat(
                                Stream.of("-m", module.split(" ", 3)[1] + "/buoy.Main"), Arrays.stream(arguments)))
                .toList());
    }

    private List<String> java(List<String> arguments) throws IOException, InterruptedException {
        Path output = folder.resolve("output.txt");
        List<String> command = Stream.concat(
                        Stream.of(Path.of(System.getProperty("java.home"), "bin", "java")
                                .toString()),
                        arguments.stream())
                .toList();
        Process process = new ProcessBuilder(command)
                .redirectErrorStream(true)
                .redirectOutput(output.toFile())
                .start();
        int code = process.waitFor();
        List<String> printed = Files.readAllLines(output);
        assertThat(code).as(String.join("\n", printed)).isZero();
        return printed;
    }

    private String modulePath(Pattern libraries) throws IOException {
        StringBuilder path = new StringBuilder();
        for (String entry : System.getProperty("java.class.path").split(File.pathSeparator, -1)) {
            Path place = Path.of(entry);
            if (Files.isDirectory(place)) {
                place = jar(place);
            }
            String file = place.getFileName().toString();
            if (libraries.matcher(file).lookingAt() && !file.endsWith("-tests.jar")) {
                path.append(path.isEmpty() ? "" : File.pathSeparator).append(place);
            }
        }
        return path.toString();
    }

    /** As the jar plugin makes it of a module's classes. */
    private Path jar(Path classes) throws IOException {
        for (String module : List.of("core", "plot")) {
            if (!classes.endsWith(Path.of(module, "target", "classes"))) {
                continue;
            }
            String pom = Files.readString(Path.of("..", module, "pom.xml"));
            Matcher name = Pattern.compile("<automatic.module.name>(.*)</automatic.module.name>")
                    .matcher(pom);
            assertThat(name.find()).isTrue();
            Manifest manifest = new Manifest();
            manifest.getMainAttributes().put(Attributes.Name.MANIFEST_VERSION, "1.0");
            manifest.getMainAttributes().putValue("Automatic-Module-Name", name.group(1));
            Path jar = folder.resolve("voltsecond-" + module + ".jar");
            try (JarOutputStream out = new JarOutputStream(Files.newOutputStream(jar), manifest);
                    Stream<Path> files = Files.walk(classes)) {
                for (Path file : files.filter(Files::isRegularFile).collect(Collectors.toList())) {
                    out.putNextEntry(
                            new ZipEntry(classes.relativize(file).toString().replace(File.separatorChar, '/')));
                    Files.copy(file, out);
                }
            }
            return jar;
        }
        return classes;
    }
}
