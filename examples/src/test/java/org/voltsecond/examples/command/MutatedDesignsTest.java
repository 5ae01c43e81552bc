package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;

import com.sun.management.OperatingSystemMXBean;
import java.io.IOException;
import java.io.InputStream;
import java.lang.management.ManagementFactory;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.BooleanSupplier;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.engine.Watch;
import org.voltsecond.examples.BuoyRails;

/**
 * Design files that were spoilt at random end as done (0) or as wrong (2), with a whole folder or none, without a stack trace
 * and without a long wait, in one Java machine. {@code -Dvoltsecond.mutations=20000} tries so many, {@code
 * -Dvoltsecond.mutations.from} begins at another number, {@code -Dvoltsecond.mutations.keep} names a folder for those that
 * fail and those that are slow, which only then is a failure.
 */
class MutatedDesignsTest {
    private static final int MANY = Integer.getInteger("voltsecond.mutations", 20);
    private static final int FROM = Integer.getInteger("voltsecond.mutations.from", 0);
    private static final String KEEP = System.getProperty("voltsecond.mutations.keep", "");

    /** Seconds of processor time: a longer run is ended. */
    private static final double SLOW = 10;

    private static final String STAGE = """
            stage = { topology = "buck" }
            input = { voltage = "12 V" }
            inductor = { inductance = "22 µH", resistance = "30 mΩ" }
            output_capacitor = { capacitance = "47 µF", resistance = "5 mΩ" }
            transistor = { on_resistance = "80 mΩ", body_diode_drop = "0.8 V" }
            load = { resistance = "2.5 Ω" }
            """;

    private static final List<String> REGULATED = List.of("""
            rectifier = { kind = "synchronous", resistance = "20 mΩ", body_diode_drop = "0.8 V" }
            transient = { duration = "1 ms" }
            frequency_response = { from = "100 Hz", to = "50 kHz", points_per_decade = 5 }
            [protection]
            current_limit = "4 A"
            hiccup = { pulses = 8, pause = "0.2 ms" }
            undervoltage_lockout = { stop = "7 V", start = "8 V" }
            dead_time = "20 ns"
            [drive]
            kind = "peak-current-mode"
            switching_frequency = "300 kHz"
            reference = "1 V"
            divider = 0.2
            sense = "0.1 V/A"
            slope_compensation = "50 mA/µs"
            compensator = { kind = "type-2", integrator_gain = 1500, zero = "4557 Hz", pole = "100 kHz" }
            control_limits = { low = "0 V", high = "0.5 V" }
            """, """
            rectifier = { forward_drop = "0.4 V", resistance = "20 mΩ" }
            transient = { duration = "0.5 ms" }
            [drive]
            kind = "hysteretic"
            typical_frequency = "300 kHz"
            reference = "1 V"
            divider = 0.2
            voltage_band = "2 mV"
            delay = "100 ns"
            """, """
            rectifier = { forward_drop = "0.4 V" }
            limits = { output_ripple = "50 mV", droop = "0.2 V" }
            [drive]
            kind = "constant-on-time"
            typical_frequency = "300 kHz"
            on_time = "1.4 µs"
            reference = "1 V"
            divider = 0.2
            minimum_off_time = "300 ns"
            """, """
            rectifier = { forward_drop = "0.4 V" }
            [drive]
            kind = "sampled"
            switching_frequency = "300 kHz"
            reference = "1 V"
            divider = 0.2
            numerator = [0.5, -0.45]
            denominator = [-1]
            duty_cycle_steps = 1024
            [transient]
            duration = "0.3 ms"
            start = "steady-state"
            [[transient.change]]
            time = "0.1 ms"
            load = { resistance = "5 Ω" }
            [[transient.change]]
            time = "0.2 ms"
            input = { voltage = "13 V" }
            """, """
            rectifier = { forward_drop = "0.4 V" }
            [drive]
            kind = "voltage-mode"
            switching_frequency = "300 kHz"
            reference = "1 V"
            divider = 0.2
            ramp = { valley = "0 V", peak = "1 V" }
            modulation = "double-edge"
            [drive.compensator]
            kind = "parts"
            gain = 1e5
            bandwidth = "10 MHz"
            output_limits = { low = "0 V", high = "3 V" }
            input_resistor = "20 kΩ"
            feedback_resistor = "1 kΩ"
            feedback_capacitor = "33 nF"
            bypass_capacitor = "1.5 nF"
            """);

    @TempDir
    private Path folder;

    private static List<String> designs() throws IOException {
        List<String> designs = new ArrayList<>();
        for (String rail : BuoyRails.NAMES) {
            try (InputStream stream = BuoyRails.class.getResourceAsStream("/demo/" + rail + ".toml")) {
                designs.add(new String(Objects.requireNonNull(stream).readAllBytes(), StandardCharsets.UTF_8));
            }
        }
        Pattern.compile("```toml\n(.*?)\n```", Pattern.DOTALL)
                .matcher(Files.readString(Path.of("..", "README.md")))
                .results()
                .map(block -> block.group(1))
                .forEach(block ->
                        designs.add(block.contains("[drive]") && !block.contains("[stage]") ? STAGE + block : block));
        REGULATED.forEach(drive -> designs.add(STAGE + drive));
        designs.add(Designs.BUCK);
        designs.add(Designs.IDEAL_BOOST);
        return designs;
    }

    @Test
    void spoiltDesignsAreDoneOrWrong() throws IOException {
        List<String> designs = designs();
        List<String> failures = new ArrayList<>();
        for (int number = FROM; number < FROM + MANY; number++) {
            String text = new DesignMutator(number).spoilt(designs);
            Path file = Files.writeString(folder.resolve("rail.toml"), text);
            Path into = folder.resolve("out" + number);
            double before = processorTime();
            String pictures = number % 10 == 0 ? "--" : "--no-pictures";
            CommandRun run =
                    Watch.of().until(spent(before + SLOW)).over(() -> CommandRun.of(file, "--into", into, pictures));
            double seconds = processorTime() - before;
            boolean ended = String.join("", run.err()).contains("was ended before it was done");
            String slow =
                    !KEEP.isEmpty() && (ended || seconds > SLOW) ? "slow: " + seconds + " s of processor time" : "";
            String fault = ended ? slow : fault(run, into) + slow;
            if (!fault.isEmpty()) {
                failures.add("number " + number + ": " + fault);
                keep(number, fault, text);
            }
            delete(into);
        }
        assertThat(failures).isEmpty();
    }

    /** Asked often, it looks at the clock now and then. */
    private static BooleanSupplier spent(double end) {
        AtomicInteger asked = new AtomicInteger();
        return () -> asked.incrementAndGet() % 256 == 0 && processorTime() > end;
    }

    private static double processorTime() {
        return 1e-9 * ((OperatingSystemMXBean) ManagementFactory.getOperatingSystemMXBean()).getProcessCpuTime();
    }

    private static String fault(CommandRun run, Path into) throws IOException {
        boolean whole = Files.exists(into.resolve("rail/figures.json"));
        String err = String.join("\n", run.err());
        if (run.exitCode() != 0 && run.exitCode() != 2) {
            return "exit code " + run.exitCode() + ": " + err;
        }
        if (run.exitCode() == 2
                && !run.err().stream()
                        .allMatch(line -> line.matches(".*rail\\.toml( \\(the proposed design\\))?:[0-9]+: .+: .+"))) {
            return "no file, line and field: " + err;
        }
        if (whole != (run.exitCode() == 0) || err.contains("Exception") || err.contains("\tat ")) {
            return "exit code " + run.exitCode() + ", folder " + whole + ": " + err;
        }
        if (!Files.exists(into)) {
            return "";
        }
        try (Stream<Path> files = Files.list(into)) {
            List<String> left = files.map(path -> path.getFileName().toString())
                    .filter(name -> !name.equals("rail"))
                    .toList();
            return left.isEmpty() ? "" : "left behind: " + left;
        }
    }

    private static void keep(int number, String fault, String text) throws IOException {
        if (!KEEP.isEmpty()) {
            Files.createDirectories(Path.of(KEEP));
            Files.writeString(Path.of(KEEP, number + ".toml"), text);
            Files.writeString(Path.of(KEEP, number + ".txt"), fault + "\n");
        }
    }

    private static void delete(Path into) throws IOException {
        if (Files.exists(into)) {
            try (Stream<Path> files = Files.walk(into)) {
                for (Path file : files.sorted((a, b) -> b.getNameCount() - a.getNameCount())
                        .toList()) {
                    Files.delete(file);
                }
            }
        }
    }
}
