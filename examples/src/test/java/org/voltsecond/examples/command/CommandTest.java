package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.examples.BuoyRails;
import org.voltsecond.plot.command.Command;
import org.voltsecond.plot.page.Page;

/** Exit codes, standard error, and what stands on the disk afterwards. */
class CommandTest {
    @TempDir
    Path folder;

    private Path into() {
        return folder.resolve("out");
    }

    private static List<String> names(Path folder) throws IOException {
        if (!Files.exists(folder)) {
            return List.of();
        }
        try (Stream<Path> files = Files.list(folder)) {
            return files.map(file -> String.valueOf(file.getFileName()))
                    .sorted()
                    .toList();
        }
    }

    @Test
    void writesAFolderForEachDesign() throws IOException {
        Path buck = Designs.write(folder, "logic.toml", Designs.BUCK);
        Path boost = Designs.write(folder, "radio.v2.toml", Designs.IDEAL_BOOST);
        CommandRun run = CommandRun.of(buck, "--into", into(), boost, "--no-pictures");
        assertThat(run.err()).isEmpty();
        assertThat(run.exitCode()).isZero();
        assertThat(names(into())).containsExactly("logic", "radio.v2");
        assertThat(names(into().resolve("logic"))).containsExactly("figures.json", "waveforms.csv");
        assertThat(run.out())
                .contains("logic rail: buck, input 12.00 V, load 2.5 Ω", "output voltage        5.025 V")
                .contains("radio rail: boost", "Caution: ", "no safety approval");
    }

    @Test
    void drawsPicturesUnlessToldNotTo() throws IOException {
        Path buck = Designs.write(folder, "logic.toml", Designs.BUCK + "[transient]\nduration = \"0.2 ms\"\n");
        assertThat(CommandRun.of(buck, "--into", into()).exitCode()).isZero();
        List<String> expected = new ArrayList<>(List.of(
                "conversion-ratio.png",
                "conversion-ratio.svg",
                "current-paths.png",
                "current-paths.svg",
                "figures.json",
                "report.html",
                "steady-state.png",
                "steady-state.svg",
                "transient.png",
                "transient.svg",
                "volt-seconds.png",
                "volt-seconds.svg",
                "waveforms.csv"));
        if (Page.canCompute()) {
            expected.add(4, "explore.html");
        }
        assertThat(names(into().resolve("logic"))).containsExactlyElementsOf(expected);
    }

    @Test
    void aWrongDesignStopsOnlyItself() throws IOException {
        Path wrong = Designs.write(
                folder, "wrong.toml", Designs.BUCK.replace("12 V", "-12 V").replace("0.45", "3"));
        Path good = Designs.write(folder, "good.toml", Designs.BUCK);
        CommandRun run = CommandRun.of(wrong, good, folder.resolve("none.toml"), "--into", into(), "--no-pictures");
        assertThat(run.exitCode()).isEqualTo(2);
        assertThat(names(into())).containsExactly("good");
        assertThat(run.err())
                .containsExactly(
                        wrong
                                + ":5: input.voltage: out of range: \"-12 V\"; valid: more than 0 V, for example \"12 V\"",
                        wrong + ":21: drive.duty_cycle: out of range: 3; valid: from 0 to 1, for example 0.45",
                        folder.resolve("none.toml") + ":1: file: does not exist; valid: the path of a design file");
    }

    @Test
    void aDesignThatIsGivenTwiceIsToldOnce() throws IOException {
        Path file = Designs.write(folder, "rail.toml", Designs.BUCK);
        CommandRun run = CommandRun.of(file, file, "--into", into(), "--no-pictures");
        assertThat(run.exitCode()).isEqualTo(2);
        assertThat(run.err()).hasSize(1);
        assertThat(run.err().get(0)).contains("is given more than once; valid: each file once");
    }

    @Test
    void designsWithTheSameFolderAreRefused() throws IOException {
        Files.createDirectories(folder.resolve("a"));
        Path first = Designs.write(folder, "rail.toml", Designs.BUCK);
        Path second = Designs.write(folder.resolve("a"), "Rail.toml", Designs.BUCK);
        CommandRun run = CommandRun.of(first, second, "--into", into(), "--no-pictures");
        assertThat(run.exitCode()).isEqualTo(2);
        assertThat(names(into())).isEmpty();
        assertThat(run.err())
                .containsExactly(
                        first + ":1: file: its folder would be rail, which is also that of " + second
                                + "; valid: each name once",
                        second + ":1: file: its folder would be Rail, which is also that of " + first
                                + "; valid: each name once");
    }

    @Test
    void namesThatAreNoFolderAreRefused() throws IOException {
        Path dots = Designs.write(folder, "...toml", Designs.BUCK);
        Path bare = Designs.write(folder, ".toml", Designs.BUCK);
        CommandRun run = CommandRun.of(dots, bare, "--into", into(), "--no-pictures");
        assertThat(run.exitCode()).isEqualTo(2);
        assertThat(run.err()).hasSize(2).allMatch(line -> line.contains(":1: file: a file of this name has no folder"));
        assertThat(names(folder)).containsExactly("...toml", ".toml");
    }

    @Test
    void anExistingFolderIsReplacedOnlyOnSuccess() throws IOException {
        Path design = Designs.write(folder, "rail.toml", Designs.BUCK);
        assertThat(CommandRun.of(design, "--into", into()).exitCode()).isZero();
        String before = Files.readString(into().resolve("rail/figures.json"));

        Designs.write(folder, "rail.toml", Designs.BUCK.replace("12 V", "0 V"));
        assertThat(CommandRun.of(design, "--into", into()).exitCode()).isEqualTo(2);
        assertThat(into().resolve("rail/figures.json")).hasContent(before);

        Designs.write(folder, "rail.toml", Designs.BUCK.replace("12 V", "15 V"));
        assertThat(CommandRun.of(design, "--into", into(), "--no-pictures").exitCode())
                .isZero();
        assertThat(Files.readString(into().resolve("rail/figures.json"))).isNotEqualTo(before);
        assertThat(names(into().resolve("rail"))).containsExactly("figures.json", "waveforms.csv");
        assertThat(names(into())).as("no temporary folder is left").containsExactly("rail");
    }

    @Test
    void filesOfTheUserAreNeverReplaced() throws IOException {
        Path design = Designs.write(folder, "rail.toml", Designs.BUCK);
        Files.createDirectories(into().resolve("rail"));
        Files.writeString(into().resolve("rail/thesis.txt"), "years of work");
        CommandRun run = CommandRun.of(design, "--into", into(), "--no-pictures");
        assertThat(run.exitCode()).isEqualTo(1);
        assertThat(run.err()).hasSize(1);
        assertThat(run.err().get(0)).contains("holds files that this command did not write", "thesis.txt");
        assertThat(names(into().resolve("rail"))).containsExactly("thesis.txt");
        assertThat(names(into())).containsExactly("rail");
    }

    /** A light buck stage rises above its input at the start; what then flows back needs a way. */
    @Test
    void aCurrentWithoutAWayIsAFaultThatNamesTheRemedy() throws IOException {
        String ringing =
                Designs.BUCK.replace("0.45", "0.8").replace("2.5 Ω", "100 Ω") + "[transient]\nduration = 1e-3\n";
        Path design = Designs.write(folder, "rail.toml", ringing);
        CommandRun run = CommandRun.of(design, "--into", into(), "--no-pictures");
        assertThat(run.exitCode()).isEqualTo(2);
        assertThat(run.err()).hasSize(1);
        assertThat(run.err().get(0))
                .startsWith(design + ":12: transistor: ")
                .contains("the current of L1", "is interrupted with Q1 open", "body_diode_drop = \"0.8 V\"");
        assertThat(names(into())).isEmpty();

        Designs.write(
                folder, "rail.toml", ringing.replace("[transistor]", "[transistor]\nbody_diode_drop = \"0.8 V\""));
        assertThat(CommandRun.of(design, "--into", into(), "--no-pictures").exitCode())
                .isZero();
    }

    /** A lead without a capacitor behind it has nowhere to go when the transistor opens. */
    @Test
    void anInductanceBeforeTheStageWithoutACapacitorIsToldWithTheRemedy() throws IOException {
        String lead = Designs.BUCK.replace("voltage = \"12 V\"", "voltage = \"12 V\"\nsource_inductance = \"1 µH\"")
                + "[transient]\nduration = \"100 µs\"\n";
        Path design = Designs.write(folder, "rail.toml", lead);
        CommandRun run = CommandRun.of(design, "--into", into(), "--no-pictures");
        assertThat(run.exitCode()).isEqualTo(2);
        assertThat(run.err().get(0)).contains(": input: ", "the current of LS", "[input_capacitor]");

        Designs.write(folder, "rail.toml", lead + "[input_capacitor]\ncapacitance = \"47 µF\"\n");
        assertThat(CommandRun.of(design, "--into", into(), "--no-pictures").exitCode())
                .isZero();
    }

    /** Figures of what lies between source and stage, its losses and limits. */
    @Test
    void theSupplysSideIsToldInFiguresAndLimits() throws IOException {
        String fed = Designs.BUCK.replace("voltage = \"12 V\"", "voltage = \"12 V\"\nsource_resistance = \"100 mΩ\"")
                + "[input_capacitor]\ncapacitance = \"47 µF\"\nresistance = \"5 mΩ\"\n"
                + "[transient]\nduration = \"100 µs\"\n[limits]\ninput_capacitor_rms = \"0.1 A\"\n";
        Path design = Designs.write(folder, "rail.toml", fed);
        assertThat(CommandRun.of(design, "--into", into(), "--no-pictures").exitCode())
                .isZero();
        String figures = Files.readString(into().resolve("rail/figures.json"));
        assertThat(figures)
                .contains("\"input_capacitor_current\"", "\"input_capacitor_voltage\"", "\"source_current\"")
                .contains("\"source\" :", "\"input_capacitor\" :", "\"peak_source_current\" : 114.")
                .contains("\"limit\" : \"input_capacitor_rms\"");

        Path without = Designs.write(folder, "bare.toml", Designs.BUCK + "[limits]\ninput_capacitor_rms = \"0.1 A\"\n");
        assertThat(CommandRun.of(without, "--into", into(), "--no-pictures")
                        .err()
                        .get(0))
                .contains("limits.input_capacitor_rms: is about an input capacitor, but the design has none");
    }

    @Test
    void aFolderThatCannotBeWrittenIsAFailure() throws IOException {
        Path design = Designs.write(folder, "rail.toml", Designs.BUCK);
        Path inTheWay = Files.writeString(folder.resolve("file"), "");
        CommandRun run = CommandRun.of(design, "--into", inTheWay, "--no-pictures");
        assertThat(run.exitCode()).isEqualTo(1);
        assertThat(run.err()).hasSize(1);
        assertThat(run.err().get(0)).startsWith("voltsecond: " + design + ": cannot be written: ");
        assertThat(run.err().get(0))
                .endsWith("is a file, so that no folder can be made in it; write --into another folder");
        assertThat(names(folder)).containsExactly("file", "rail.toml");
    }

    @Test
    void wrongInputOutranksAFailure() throws IOException {
        Path good = Designs.write(folder, "good.toml", Designs.BUCK);
        Path inTheWay = Files.writeString(folder.resolve("file"), "");
        CommandRun run = CommandRun.of(folder.resolve("none.toml"), good, "--into", inTheWay, "--no-pictures");
        assertThat(run.exitCode()).isEqualTo(2);
        assertThat(run.err()).hasSize(2);
    }

    @Test
    void aWrongCommandLineIsToldWordByWord() throws IOException {
        Path good = Designs.write(folder, "good.toml", Designs.BUCK);
        CommandRun run = CommandRun.of(good, "--no-picture", "-x", "", "--into");
        assertThat(run.exitCode()).isEqualTo(2);
        assertThat(run.out()).isEmpty();
        assertThat(run.err())
                .containsExactly(
                        "voltsecond: --no-picture: unknown option; valid: --into DIR, --beside OTHER.toml, --no-pictures, --slides [NAME,...], --binary, --view, --keys, --help, --version",
                        "voltsecond: -x: unknown option; valid: --into DIR, --beside OTHER.toml, --no-pictures, --slides [NAME,...], --binary, --view, --keys, --help, --version",
                        "voltsecond: an empty argument is not a design file; valid: the path of a design file",
                        "voltsecond: --into: the folder is missing; valid: --into DIR");
        assertThat(names(folder)).containsExactly("good.toml");
    }

    @Test
    void helpAndVersionDoNothingElse() throws IOException {
        CommandRun help = CommandRun.of("--help", "none.toml");
        assertThat(help.exitCode()).isZero();
        assertThat(help.out()).contains("Usage: ", "--into DIR", "--no-pictures", "Exit code: 0 done; 2", "can hurt");
        CommandRun version = CommandRun.of("--version");
        assertThat(version.exitCode()).isZero();
        assertThat(version.out()).startsWith("voltsecond ");
    }

    @Test
    void keysAreToldWithUnitsDefaultsAndExamples() {
        CommandRun run = CommandRun.of("--keys");
        assertThat(run.exitCode()).isZero();
        assertThat(run.err()).isEmpty();
        assertThat(run.out())
                .contains("[output_capacitor]  ", "  capacitance = \"47 µF\"\n", "F: more than 0. Needed.")
                .contains("Ω: 0 or more. Left out: 0.")
                .contains("[limits]", "settling_time = \"500 µs\"");
    }

    /** A link was once replaced by a folder. */
    @Test
    void aLinkToAFolderStaysAndTheFolderBehindItIsWritten() throws IOException {
        Path design = Designs.write(folder, "rail.toml", Designs.BUCK);
        Path elsewhere = Files.createDirectories(folder.resolve("elsewhere/kept"));
        Path link = Files.createSymbolicLink(Files.createDirectories(into()).resolve("rail"), elsewhere);
        assertThat(CommandRun.of(design, "--into", into(), "--no-pictures").exitCode())
                .isZero();
        assertThat(link).isSymbolicLink();
        assertThat(names(elsewhere)).containsExactly("figures.json", "waveforms.csv");
        assertThat(names(folder.resolve("elsewhere"))).containsExactly("kept");
    }

    @Test
    void aLinkThatLeadsNowhereIsAFailure() throws IOException {
        Path design = Designs.write(folder, "rail.toml", Designs.BUCK);
        Files.createSymbolicLink(Files.createDirectories(into()).resolve("rail"), folder.resolve("gone"));
        CommandRun run = CommandRun.of(design, "--into", into(), "--no-pictures");
        assertThat(run.exitCode()).isEqualTo(1);
        assertThat(run.err()).hasSize(1);
        assertThat(run.err().get(0)).contains("is a link that leads nowhere");
    }

    /** A pipe whose reader has gone was once a success. */
    @Test
    void aClosedOutputIsAFailure() {
        PrintStream closed = new PrintStream(new OutputStream() {
            @Override
            public void write(int octet) throws IOException {
                throw new IOException("Broken pipe");
            }
        });
        ByteArrayOutputStream err = new ByteArrayOutputStream();
        int exitCode = new Command(closed, new PrintStream(err, true, StandardCharsets.UTF_8)).run("--help");
        assertThat(exitCode).isEqualTo(1);
        assertThat(err.toString(StandardCharsets.UTF_8)).contains("standard output is closed");
    }

    @Test
    void withoutADesignTheDemoRunsAndSaysWhereToLook() throws IOException {
        CommandRun run = CommandRun.of("--into", into(), "--no-pictures");
        assertThat(run.err()).isEmpty();
        assertThat(run.exitCode()).isZero();
        assertThat(names(into())).isEqualTo(BuoyRails.NAMES);
        assertThat(run.out()).contains("logic rail: buck", "radio rail: boost", "sensor rail: inverting buck-boost");
        assertThat(run.out()).contains("Look into " + into()).contains("Caution: ");
    }

    /** Each demo design can be copied and run, and gives the very same figures. */
    @Test
    void theDemoLeavesDesignFilesToBeginFrom() throws IOException {
        CommandRun.of("--into", into(), "--no-pictures");
        for (String rail : BuoyRails.NAMES) {
            Path copy = Files.copy(into().resolve(rail).resolve("design.toml"), folder.resolve(rail + ".toml"));
            assertThat(CommandRun.of(copy, "--into", folder.resolve("again"), "--no-pictures")
                            .exitCode())
                    .isZero();
            assertThat(folder.resolve("again").resolve(rail).resolve("figures.json"))
                    .hasSameTextualContentAs(into().resolve(rail).resolve("figures.json"));
        }
    }

    @Test
    void hostileNamesStayInsideJson() throws IOException {
        Path design = Designs.write(
                folder, "rail.toml", Designs.BUCK.replace("\"logic rail\"", "\"../../x\\u001b[31m\\\"\\n</svg>&\""));
        CommandRun run = CommandRun.of(design, "--into", into());
        assertThat(run.exitCode()).isZero();
        assertThat(names(into())).containsExactly("rail");
        assertThat(run.out()).doesNotContain("\u001b").contains("../../x\\u001b[31m\"\\u000a</svg>&: buck");
        assertThat(Files.readString(into().resolve("rail/figures.json")))
                .contains("\"name\" : \"../../x\\u001B[31m\\\"\\n</svg>&\"");
        assertThat(Files.readString(into().resolve("rail/steady-state.svg")))
                .doesNotContain("\u001b")
                .doesNotContain("<</svg>");
    }
}
