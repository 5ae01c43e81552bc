package org.voltsecond.plot.beside;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.IntRange;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.design.DesignException;
import org.voltsecond.design.DesignFile;
import org.voltsecond.figures.Limit;
import org.voltsecond.plot.report.Findings;
import org.voltsecond.revision.Difference;
import org.voltsecond.revision.LimitDifference.Outcome;
import org.voltsecond.waveform.Waveform;

/** Two revisions beside each other, held to closed forms and to each other's mirror. */
class RevisionsTest {
    private static final String RIPPLE = "steady_state/signals/inductor_current/peak_to_peak";

    /** Ideal; the output capacitor is so large that the output hardly ripples. */
    private static final String IDEAL = """
            stage = { topology = "buck" }
            input = { voltage = "12 V" }
            inductor = { inductance = "22 µH" }
            output_capacitor = { capacitance = "100 F" }
            load = { resistance = "2.5 Ω" }
            drive = { kind = "fixed-duty", duty_cycle = 0.45, switching_frequency = "300 kHz" }
            limits = { peak_inductor_current = "2.3 A" }
            """;

    private static final String REGULATED = """
            stage = { topology = "buck" }
            input = { voltage = "12 V" }
            inductor = { inductance = "22 µH" }
            output_capacitor = { capacitance = "47 µF", resistance = "5 mΩ" }
            load = { resistance = "2.5 Ω" }
            [drive]
            kind = "voltage-mode"
            switching_frequency = "300 kHz"
            reference = "1 V"
            divider = 0.2
            ramp = { valley = "0 V", peak = "1 V" }
            compensator = { kind = "type-2", integrator_gain = 1500, zero = "4557 Hz", pole = "100 kHz" }
            [transient]
            duration = "0.4 ms"
            start = "steady-state"
            change = [{ time = "0.1 ms", load = { resistance = "5 Ω" } }]
            [limits]
            droop = "50 mV"
            """;

    private static final String OWN_CIRCUIT = """
            part = [
              { name = "V1", kind = "voltage-source", between = ["in", "ground"], voltage = "5 V" },
              { name = "L1", kind = "inductor", between = ["in", "drain"], inductance = "10 µH" },
              { name = "Q1", kind = "switch", between = ["drain", "ground"] },
              { name = "D1", kind = "rectifier", between = ["drain", "out"] },
              { name = "C1", kind = "capacitor", between = ["out", "ground"], capacitance = "22 µF" },
              { name = "R1", kind = "resistor", between = ["out", "ground"], resistance = "24 Ω" },
            ]
            output = { between = ["out", "ground"] }
            drive = { kind = "fixed-duty", switches = ["Q1"], duty_cycle = 0.5, switching_frequency = "500 kHz" }
            """;

    private static Revisions.Revision revision(String label, String text) {
        try {
            return new Revisions.Revision(label, Findings.of(DesignFile.parse(label, label, text)), text, text);
        } catch (DesignException e) {
            throw new AssertionError(e);
        }
    }

    private static Revisions revisions(String before, String after) {
        return new Revisions(revision("a.toml", before), revision("b.toml", after));
    }

    private static Difference figure(Revisions revisions, String place) {
        return revisions.figures().stream()
                .filter(figure -> figure.key().equals(place))
                .findFirst()
                .orElseThrow();
    }

    /** Peak to peak V D (1 - D) / (L f) where the output does not ripple: Erickson, Maksimovic, section 2.2 (from memory). */
    @Test
    void anotherInductorIsTheOneKeyAndChangesTheRippleAsItsFormulaSays() {
        Revisions revisions = revisions(IDEAL, IDEAL.replace("22 µH", "33 µH"));
        assertThat(revisions.file()).singleElement().satisfies(change -> {
            assertThat(change.key()).isEqualTo("inductor.inductance");
            assertThat(change.before()).isEqualTo(22e-6);
            assertThat(change.after()).isEqualTo(33e-6);
        });
        Difference ripple = figure(revisions, RIPPLE);
        double volts = 12 * 0.45 * (1 - 0.45);
        Offset<Double> rounding = Offset.offset(1e-9);
        assertThat((Double) ripple.before()).isCloseTo(volts / (22e-6 * 300e3), rounding);
        assertThat((Double) ripple.after()).isCloseTo(volts / (33e-6 * 300e3), rounding);
        assertThat(ripple.relative().getAsDouble()).isCloseTo(22.0 / 33 - 1, rounding);
        assertThat(figure(revisions, "steady_state/signals/output_voltage/mean").isSame())
                .isTrue();
        // 2.16 A on average and half a ripple, of 450 mA and of 300 mA
        assertThat(revisions.limits()).singleElement().satisfies(limit -> {
            assertThat(limit.limit()).isEqualTo(Limit.PEAK_INDUCTOR_CURRENT);
            assertThat(limit.outcome()).isEqualTo(Outcome.NOT_MET);
        });
        assertThat(revisions(IDEAL, IDEAL.replace("22 µH", "47 µH"))
                        .limits()
                        .get(0)
                        .outcome())
                .isEqualTo(Outcome.GAINED);
    }

    /** A transistor of 15 V carries 12 V with a derating of 0.9, and does not with one of 0.7. */
    @Test
    void ratingsAreGainedAndLostAsLimitsAre() {
        String rated = IDEAL + "[ratings]\nparts = { transistor = { voltage = \"15 V\" } }\nderating = 0.9\n";
        Revisions revisions = revisions(rated, rated.replace("0.9", "0.7"));
        assertThat(revisions.ratings()).singleElement().satisfies(rating -> {
            assertThat(rating.limit()).hasToString("transistor voltage");
            assertThat(rating.outcome()).isEqualTo(Outcome.LOST);
        });
        assertThat(revisions.figures()).noneMatch(figure -> figure.key().startsWith("ratings"));
        assertThat(revisions.json()).contains("\"outcome\": \"lost\"");
        assertThat(revisions.html()).contains("lost: met before, not met now");
    }

    @Property(tries = 8, seed = "20261127")
    void theOrderTurnsEverySign(
            @ForAll @IntRange(min = 5, max = 80) int first, @ForAll @IntRange(min = 5, max = 80) int second) {
        String one = IDEAL.replace("22 µH", first + " µH");
        String other = IDEAL.replace("22 µH", second + " µH");
        Revisions there = revisions(one, other);
        Revisions back = revisions(other, one);
        assertThat(there.file()).hasSize(first == second ? 0 : 1);
        assertThat(there.figures()).zipSatisfy(back.figures(), (figure, mirrored) -> {
            assertThat(mirrored.key()).isEqualTo(figure.key());
            assertThat(mirrored.isSame()).isEqualTo(figure.isSame());
            assertThat(mirrored.before()).isEqualTo(figure.after());
            assertThat(mirrored.absolute().isPresent())
                    .isEqualTo(figure.absolute().isPresent());
            figure.absolute()
                    .ifPresent(more ->
                            assertThat(-mirrored.absolute().getAsDouble()).isEqualTo(more));
        });
        assertThat(there.figures().stream().anyMatch(figure -> !figure.isSame()))
                .isEqualTo(first != second);
        Outcome outcome = there.limits().get(0).outcome();
        assertThat(back.limits().get(0).outcome())
                .isEqualTo(
                        outcome == Outcome.GAINED ? Outcome.LOST : outcome == Outcome.LOST ? Outcome.GAINED : outcome);
    }

    @Test
    void filesThatSayTheSameAreToldToDoSo() {
        String other = REGULATED.replace("\"22 µH\"", "22e-6").replace("47 µF", "0.047 mF") + "# a remark\n";
        Revisions revisions = revisions(REGULATED, other);
        assertThat(revisions.file()).isEmpty();
        assertThat(revisions.figures()).hasSizeGreaterThan(50).allMatch(Difference::isSame);
        assertThat(revisions.html()).contains("Nothing: both files say the same.");
        assertThat(revisions.summary()).anyMatch(line -> line.contains("both files say the same"));
    }

    @Test
    void designsOfAnyKindAreLaidBesideEachOther(@TempDir Path folder) throws IOException {
        Revisions revisions = revisions(REGULATED, OWN_CIRCUIT);
        assertThat(figure(revisions, "transient/changes/0/droop").told()).isEqualTo("removed");
        assertThat(figure(revisions, "steady_state/conduction").before()).isEqualTo("continuous");
        assertThat(revisions.limits())
                .singleElement()
                .satisfies(limit -> assertThat(limit.outcome()).isEqualTo(Outcome.GONE));
        assertThat(revisions.file())
                .extracting(change -> change.key() + " " + change.told())
                .contains("inductor.inductance removed", "L1.inductance added");
        revisions.writeTo(folder, true);
        try (Stream<Path> files = Files.list(folder)) {
            assertThat(files.map(file -> Objects.toString(file.getFileName())))
                    .containsExactlyInAnyOrder(
                            "beside.html",
                            "beside.json",
                            "beside.csv",
                            "beside-steady-state.png",
                            "beside-steady-state.svg",
                            "beside-transient.png",
                            "beside-transient.svg");
        }
        assertThat(Files.readString(folder.resolve("beside.html")))
                .contains("<h1><bdi>a.toml beside b.toml</bdi></h1>", "no safety approval")
                .doesNotContain("<link", "<img", "<script src", "@import", "<iframe");
        assertThat(Files.readString(folder.resolve("beside.csv")))
                .contains("figure,unit,before,after,difference,relative difference", "\n" + RIPPLE + ",A,");
        try (JsonParser parser = new JsonFactory().createParser(Files.readString(folder.resolve("beside.json")))) {
            while (parser.nextToken() != null) {
                parser.getText();
            }
        }
    }

    /** On a falling ramp a pulse ends with the period of the clock, on a rising one it begins with it. */
    @Test
    void steadyStatesAreAlignedAtTheTurnOn() {
        Revisions revisions =
                revisions(REGULATED, REGULATED.replace("divider", "modulation = \"leading-edge\"\ndivider"));
        Overlaid steady = Overlaid.all(
                        revisions.before().findings(), revisions.after().findings())
                .get(0);
        double period = 1 / 300e3;
        for (Waveform node : steady.panels().get(0).named("")) {
            assertThat(node.startTime()).isZero();
            assertThat(node.endTime()).isCloseTo(2 * period, Offset.offset(1e-18));
            for (double time : List.of(0.001 * period, 0.4 * period, 1.001 * period)) {
                assertThat(node.at(time)).as("%s at %s s", node, time).isGreaterThan(11);
            }
            assertThat(node.at(0.999 * period)).isLessThan(1);
        }
        assertThat(steady.panels().get(2).named(""))
                .allSatisfy(ripple -> assertThat(ripple.mean()).isCloseTo(0, Offset.offset(1e-12)));
    }

    /** A change that comes later in one of them is shown at the same place, with time counted from it. */
    @Test
    void changesAreAlignedAtTheirInstants() {
        Revisions revisions = revisions(REGULATED, REGULATED.replace("time = \"0.1 ms\"", "time = \"0.15 ms\""));
        Overlaid change = Overlaid.all(
                        revisions.before().findings(), revisions.after().findings())
                .get(2);
        assertThat(change.file()).isEqualTo("beside-change-1");
        Waveform[] outputs = change.panels().get(0).named("");
        assertThat(outputs).hasSize(2);
        double latest = Math.min(outputs[0].endTime(), outputs[1].endTime());
        for (int k = 0; k <= 20; k++) {
            double time = change.from() + (latest - change.from()) * k / 20;
            assertThat(outputs[0].at(time)).isCloseTo(outputs[1].at(time), Offset.offset(1e-9));
        }
    }
}
