package org.voltsecond.examples;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The demo finds in its capture what was put in. */
class BenchComparisonTest {

    /**
     * Expected: clock 301.2 / 300; mean of the node and of the output by the balances of a buck stage with losses; ripple
     * of the output about ESR times the swing of the inductor current plus the little that the capacitor adds.
     */
    @Test
    void demoFindsWhatTheBoardHasOffItsNominalValues(@TempDir Path folder) throws Exception {
        List<String> lines = Printed.by(BenchComparison::main, folder.toString());
        assertThat(lines).hasSize(2);
        double resistance = 0.45 * 0.08 + 0.55 * 0.02 + 0.03;
        double outputStep = -0.1 * 0.45 / (1 + resistance / 2.5);
        assertThat(lines.get(0)).matches("switch node.*mean -.*frequency \\+0[.].* %, duty factor .* points");
        double node = figure(lines.get(0), "mean ([-+.0-9]+) mV") * 1e-3;
        assertThat(node).isCloseTo(outputStep * (1 + 0.03 / 2.5), within(0.02));
        assertThat(figure(lines.get(0), "frequency ([-+.0-9]+) %")).isCloseTo(0.4, within(0.02));
        assertThat(figure(lines.get(0), "duty factor ([-+.0-9e]+) points")).isCloseTo(0, within(0.2));
        assertThat(figure(lines.get(1), "mean ([-+.0-9]+) mV") * 1e-3).isCloseTo(outputStep, within(0.001));
        assertThat(figure(lines.get(1), "frequency ([-+.0-9]+) %")).isCloseTo(0.4, within(0.05));
        double swing = (5.02 + 0.4) * 0.55 / 300e3 / 22e-6;
        double boardSwing = (4.98 + 0.4) * 0.55 / 301.2e3 / 18e-6;
        assertThat(figure(lines.get(1), "ripple ([-+.0-9]+) mV") * 1e-3)
                .isCloseTo(0.012 * boardSwing - 0.005 * swing, within(0.0025));
        assertThat(Files.readString(folder.resolve("demo-capture.csv"))).startsWith("demo capture: simulated");
        for (String picture : List.of("bench-node.png", "bench-output.png")) {
            assertThat(ImageIO.read(folder.resolve(picture).toFile()).getWidth())
                    .isGreaterThan(600);
        }
    }

    private static double figure(String line, String pattern) {
        return java.util.regex.Pattern.compile(pattern)
                .matcher(line)
                .results()
                .map(found -> Double.parseDouble(found.group(1)))
                .findFirst()
                .orElseThrow(() -> new AssertionError(line));
    }
}
