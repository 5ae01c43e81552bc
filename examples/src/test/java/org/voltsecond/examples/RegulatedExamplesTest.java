package org.voltsecond.examples;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.util.List;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.numeric.Complex;

/** The examples of regulated converters run, and what they print is what the regulator's values ask for. */
class RegulatedExamplesTest {

    /** An integrator leaves no error: the output ends at the reference over the divider. */
    @Test
    void regulatedBuckReturnsToItsReference() throws Exception {
        List<String> lines = Printed.by(RegulatedBuck::main);
        assertThat(lines.get(0)).contains("true");
        assertThat(Printed.numbers(lines.get(1))[0]).isBetween(100.0, 300.0);
        assertThat(Printed.numbers(lines.get(lines.size() - 1))[0]).isCloseTo(5, within(1e-3));
    }

    /**
     * Against the averaged buck with losses: filter, divider and compensator in closed form. Its resistances are those of
     * the two positions of the switch in the mean over the period. It does not see the ripple that the compensator passes to
     * the comparator, here some 2 % of the gain; a test of the core holds that effect against its own closed form.
     */
    @Test
    void loopGainIsNearlyTheAveragedOne(@TempDir Path folder) throws Exception {
        Path picture = folder.resolve("loop.png");
        List<String> lines = Printed.by(LoopGain::main, picture.toString());
        double crossover = 1e3 * Printed.numbers(lines.get(0))[0];
        Complex averaged = averagedLoop(crossover);
        assertThat(averaged.magnitude()).isCloseTo(1, within(0.03));
        double margin = 180 + Math.toDegrees(averaged.argument());
        assertThat(Printed.numbers(lines.get(1))[0]).isCloseTo(margin, within(1.0));
        assertThat(Printed.numbers(lines.get(3))[0]).isBetween(50.0, 150.0);
        assertThat(ImageIO.read(picture.toFile()).getWidth()).isGreaterThan(300);
    }

    private static Complex averagedLoop(double frequency) {
        Complex s = new Complex(0, 2 * Math.PI * frequency);
        double duty = (5 + 0.4 + 0.02 * 2 + 0.03 * 2) / (12 + 0.4 - (0.08 - 0.02) * 2);
        double resistance = 0.03 + duty * 0.08 + (1 - duty) * 0.02;
        Complex capacitor = s.multiply(47e-6).reciprocal().add(0.005);
        Complex load = capacitor.multiply(2.5).divide(capacitor.add(2.5));
        Complex filter = load.divide(load.add(s.multiply(22e-6)).add(resistance));
        double swing = 12 + 0.4 - (0.08 - 0.02) * 2;
        return filter.multiply(swing * 0.2).multiply(compensator(s));
    }

    private static Complex compensator(Complex s) {
        Complex zero = s.divide(2 * Math.PI * 3.5e3).add(1);
        Complex first = s.divide(2 * Math.PI * 120e3).add(1);
        Complex second = s.divide(2 * Math.PI * 150e3).add(1);
        return zero.multiply(zero).multiply(36e3).divide(s.multiply(first).multiply(second));
    }

    /** The filter of 3.16 ohm rings with all but no damping; the branch brings it below a rail of (2.4 V / 5 V)^-2 ohm. */
    @Test
    void theFilterMakesTheRailOscillateUntilItIsDamped(@TempDir Path folder) throws Exception {
        Path picture = folder.resolve("filter.png");
        List<String> lines = Printed.by(InputFilterDamping::main, picture.toString());
        assertThat(lines).hasSize(3);
        assertThat(lines.get(0)).endsWith("unstable");
        assertThat(lines.get(1)).endsWith(", stable");
        double[] before = Printed.numbers(lines.get(0));
        double[] after = Printed.numbers(lines.get(1));
        // the peak is L / (C R), the input impedance at low frequencies R / D^2 = 5.8 ohm
        assertThat(before[0]).isBetween(-45.0, -30.0);
        assertThat(after[0]).isGreaterThan(6);
        assertThat(after[1]).isGreaterThan(6);
        assertThat(picture).exists();
    }

    /** With soft start the inductor carries the load, C dv/dt, and half the ripple (12 - 5) 5/12 T/L / 2 on top. */
    @Test
    void softStartTakesTheInrushAway() throws Exception {
        List<String> lines = Printed.by(Inrush::main);
        double[] none = Printed.numbers(lines.get(1));
        double[] soft = Printed.numbers(lines.get(2));
        double expected = 5 / 2.5 + 47e-6 * 5 / 2e-3 + (12 - 5) * 5 / 12.0 / 300e3 / 22e-6 / 2;
        assertThat(none[0]).isGreaterThan(10);
        assertThat(soft[soft.length - 2]).isCloseTo(expected, within(0.05 * expected));
        assertThat(soft[soft.length - 1]).isCloseTo(5, within(0.02));
    }

    /** The limit is 4 A in both cases; hiccup cuts the mean current into the short by far. */
    @Test
    void currentLimitHoldsIntoAShort() throws Exception {
        List<String> lines = Printed.by(CurrentLimitIntoShort::main);
        double[] limited = Printed.numbers(lines.get(1));
        double[] hiccup = Printed.numbers(lines.get(2));
        assertThat(limited[0]).isCloseTo(4, within(1e-3));
        assertThat(hiccup[0]).isCloseTo(4, within(1e-3));
        assertThat(hiccup[1]).isLessThan(0.2 * limited[1]);
        assertThat(limited[2]).isCloseTo(5, within(0.05));
        assertThat(hiccup[2]).isCloseTo(5, within(0.05));
    }

    /**
     * Without compensation the multiplier of the inner loop is -D/D' (R. W. Erickson, D. Maksimovic, Fundamentals of Power
     * Electronics, 3rd ed., eq. 18.41 with ma = 0); beyond -1 the pulses alternate, with compensation they are alike.
     */
    @Test
    void slopeCompensationCuresSubharmonics() throws Exception {
        List<String> lines = Printed.by(Subharmonics::main);
        double[] bare = Printed.numbers(lines.get(1));
        double[] cured = Printed.numbers(lines.get(2));
        int last = bare.length - 1;
        double duty = bare[last - 5];
        assertThat(bare[last - 4]).isCloseTo(-duty / (1 - duty), within(0.02 * duty / (1 - duty)));
        assertThat(Math.abs(bare[last] - bare[last - 1])).isGreaterThan(0.1);
        int end = cured.length - 1;
        assertThat(Math.abs(cured[end - 4])).isLessThan(1);
        assertThat(cured[end]).isCloseTo(cured[end - 1], within(1e-3));
        assertThat(cured[end - 2]).isCloseTo(cured[end - 3], within(1e-3));
    }
}
