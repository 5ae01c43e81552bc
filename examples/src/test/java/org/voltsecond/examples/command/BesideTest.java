package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.examples.Json;

/** One design laid beside another by the command. */
class BesideTest {
    @TempDir
    Path folder;

    private Path into() {
        return folder.resolve("out");
    }

    private CommandRun run(String design, String other, Object... options) throws IOException {
        Path first = Designs.write(folder, "rail.toml", design);
        Path second = Designs.write(folder, "rail-b.toml", other);
        List<Object> words = new ArrayList<>(List.of(first, "--beside", second, "--into", into()));
        words.addAll(List.of(options));
        return CommandRun.of(words.toArray());
    }

    @Test
    @SuppressWarnings("unchecked")
    void whatChangedStandsBesideTheFiguresOfTheDesign() throws IOException {
        CommandRun run = run(Designs.BUCK, Designs.BUCK.replace("22 µH", "0.033 mH"), "--no-pictures");
        assertThat(run.err()).isEmpty();
        assertThat(run.exitCode()).isZero();
        assertThat(run.out())
                .contains(
                        "rail.toml (before) beside rail-b.toml (after)",
                        "inductor.inductance: 22 µH -> 33 µH, +11.00 µH (+50.00 %)");
        assertThat(into().resolve("rail"))
                .isDirectoryContaining("glob:**/figures.json")
                .isDirectoryContaining("glob:**/beside.csv")
                .isDirectoryNotContaining("glob:**/beside.html");
        Map<String, Object> json = Json.read(Files.readString(into().resolve("rail/beside.json")));
        assertThat((List<Map<String, Object>>) Json.at(json, "file"))
                .singleElement()
                .satisfies(change -> {
                    assertThat(change)
                            .containsEntry("key", "inductor.inductance")
                            .containsEntry("unit", "H");
                    assertThat(Json.number(change, "absolute")).isCloseTo(11e-6, Offset.offset(1e-20));
                    assertThat(Json.number(change, "relative")).isCloseTo(0.5, Offset.offset(1e-14));
                });
        Map<String, Object> figures = Json.read(Files.readString(into().resolve("rail/figures.json")));
        String ripple = "steady_state.signals.inductor_current.peak_to_peak";
        assertThat((List<Map<String, Object>>) Json.at(json, "figures"))
                .filteredOn(figure -> figure.get("key").equals(ripple.replace('.', '/')))
                .singleElement()
                .satisfies(figure -> assertThat(Json.number(figure, "before")).isEqualTo(Json.number(figures, ripple)));
    }

    @Test
    void thePageAndPicturesStandBesideTheReport() throws IOException {
        assertThat(run(Designs.BUCK, Designs.IDEAL_BOOST).exitCode()).isZero();
        for (String name :
                List.of("report.html", "beside.html", "beside-steady-state.png", "beside-steady-state.svg")) {
            assertThat(into().resolve("rail").resolve(name)).isNotEmptyFile();
        }
        // what the command wrote before it may replace
        assertThat(run(Designs.BUCK, Designs.IDEAL_BOOST, "--no-pictures").err())
                .isEmpty();
        assertThat(into().resolve("rail")).isDirectoryNotContaining("glob:**/beside.html");
    }

    @Test
    void faultsOfBothFilesAreToldAtOnce() throws IOException {
        CommandRun run = run(Designs.BUCK.replace("12 V", "-12 V"), Designs.BUCK.replace("0.45", "3"));
        assertThat(run.exitCode()).isEqualTo(2);
        assertThat(run.err()).hasSize(2);
        assertThat(run.err().get(0)).startsWith(folder.resolve("rail.toml") + ":5: input.voltage: ");
        assertThat(run.err().get(1)).startsWith(folder.resolve("rail-b.toml") + ":21: drive.duty_cycle: ");
        assertThat(into()).doesNotExist();
        CommandRun missing = CommandRun.of(folder.resolve("rail-b.toml"), "--beside", folder.resolve("none.toml"));
        assertThat(missing.err()).hasSize(2);
        assertThat(missing.err().get(1)).contains("none.toml:1: file: does not exist");
    }

    @Test
    void oneDesignIsLaidBesideOneOther() {
        assertThat(CommandRun.of("--beside", "b.toml").err())
                .containsExactly("voltsecond: --beside: lays one design beside another, but 0 are given; valid: "
                        + "DESIGN.toml --beside OTHER.toml");
        assertThat(CommandRun.of("a.toml", "c.toml", "--beside", "b.toml", "--beside", "d.toml")
                        .err())
                .containsExactly(
                        "voltsecond: --beside: is given more than once; valid: one other design",
                        "voltsecond: --beside: lays one design beside another, but 2 are given; valid: "
                                + "DESIGN.toml --beside OTHER.toml");
        assertThat(CommandRun.of("a.toml", "--beside").err())
                .containsExactly("voltsecond: --beside: the design file is missing; valid: --beside OTHER.toml");
    }
}
