package org.voltsecond.examples;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.DutyCycleSearch;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;

/** Every example runs, and what it prints agrees with a calculation of another kind. */
class ExampleProgramsTest {

    /** Against the averaged buck stage with losses, and in discontinuous conduction its volt-second and charge balance. */
    @Test
    void conductionModesAgreeWithTheBalances() throws Exception {
        List<String> lines = Printed.by(WhichConductionMode::main);
        assertThat(lines).hasSize(10);
        for (String line : lines.subList(1, 10)) {
            double[] row = Printed.numbers(line);
            double continuous = continuousBuck(row[0], 0.45, row[1]);
            double discontinuous = discontinuousBuck(row[0], 0.45, row[1]);
            double off = 0.45 * (row[0] - discontinuous) / (discontinuous + 0.4);
            boolean idles = 0.45 + off < 1;
            assertThat(line).contains(idles ? " DISCONTINUOUS " : " CONTINUOUS ");
            assertThat(row[2]).isCloseTo(idles ? discontinuous : continuous, within(0.01 * row[2]));
            assertThat(row[3]).isCloseTo(idles ? (0.55 - off) / 0.3 : 0, within(0.03));
        }
    }

    /** Mean of the switch node less the drops at the mean inductor current, which is the load current. */
    private static double continuousBuck(double input, double duty, double ohm) {
        double resistance = duty * 0.08 + (1 - duty) * 0.02 + 0.03;
        return (duty * input - (1 - duty) * 0.4) / (1 + resistance / ohm);
    }

    /** The output at which the triangle of the inductor current carries the load; bisection; resistances left out. */
    private static double discontinuousBuck(double input, double duty, double ohm) {
        double low = 0;
        double high = input;
        for (int k = 0; k < 100; k++) {
            double output = (low + high) / 2;
            double peak = (input - output) * duty / 300e3 / 22e-6;
            double mean = peak / 2 * (duty + duty * (input - output) / (output + 0.4));
            low = mean > output / ohm ? output : low;
            high = mean > output / ohm ? high : output;
        }
        return low;
    }

    /**
     * By hand for ideal parts (D. W. Hart, Power Electronics, ch. 6): a buck stage from 15 V needs (15 - 5) V / 3 / (300 kHz
     * 0.6 A) = 18.5 uH, the next in E12 is 22 uH. A lamp of 12 V lies within the range of the battery, so that it takes a SEPIC.
     */
    @Test
    void railsAreSelected(@TempDir Path folder) throws Exception {
        List<String> lines = Printed.by(SelectRails::main, folder.resolve("new").toString());
        assertThat(lines).hasSize(5);
        assertThat(lines.get(1)).startsWith("logic  buck ").contains(" 22 µH ");
        assertThat(lines.get(2)).startsWith("radio  boost ");
        assertThat(lines.get(3)).startsWith("sensor inverting buck-boost ");
        assertThat(lines.get(4)).contains("SEPIC: duty cycle 44.4 % to 57.1 %");
        for (String line : lines.subList(1, 4)) {
            assertThat(line).contains(" hold ").endsWith(", stable");
            double margin = Double.parseDouble(line.replaceAll(".* phase margin ([0-9.]+) degrees.*", "$1"));
            assertThat(margin).isBetween(15.0, 60.0);
        }
        assertThat(Files.readString(folder.resolve("new/rails.html")))
                .contains(
                        "logic rail",
                        "radio rail",
                        "sensor rail",
                        "linear regulator: efficiency 33.3 % to 55.6 %",
                        "no safety approval")
                .doesNotContain("lamp rail");
    }

    /**
     * By hand: pulses of 2 A have 2 x 2 A sin(0.45 pi) / pi at 300 kHz, which pass through 10 µF (0.053 ohm); half of that voltage lies at
     * each of two networks of the same impedance.
     */
    @Test
    void theFilterKeepsTheRailQuiet(@TempDir Path folder) throws Exception {
        Path picture = folder.resolve("emissions.png");
        List<String> lines = Printed.by(EmissionsOfTheRail::main, picture.toString());
        double pulses = 2 * 2.01 * Math.sin(0.45 * Math.PI) / Math.PI;
        double volts = pulses / (2 * Math.PI * 300e3 * 10e-6) / 2 / Math.sqrt(2);
        double[] bare = Printed.numbers(lines.get(0));
        assertThat(bare[2]).isCloseTo(20 * Math.log10(volts / 1e-6), within(0.3));
        assertThat(bare[0]).isCloseTo(bare[2] - bare[3], within(0.15));
        assertThat(lines.get(2)).startsWith("with it  met with ");
        assertThat(Printed.numbers(lines.get(2))[0]).isGreaterThan(6);
        assertThat(picture).exists();
    }

    /** By hand: the least L f at which half of the ripple (12 V - 5 V - 0.22 V) D / (L f) is 0.6 A, D of about 5.2/12. */
    @Test
    void theSmallestInductorIsFoundAmongTenThousand() throws Exception {
        List<String> lines = Printed.by(TenThousandCandidates::main);
        assertThat(lines).hasSize(1);
        assertThat(lines.get(0)).startsWith("3 µH with 16 µF at 1 MHz: ");
        double[] numbers = Printed.numbers(lines.get(0));
        Converter found = PowerStage.buck()
                .input(12)
                .inductor(3e-6, 0.03)
                .outputCapacitor(16e-6, 0.005)
                .transistor(0.08)
                .rectifier(0.4, 0.02)
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.45, 1e6));
        ConverterSteadyState held = DutyCycleSearch.forOutput(found, 5).steadyState();
        assertThat(numbers[3] * 1e-3).isCloseTo(held.of(found.outputVoltage()).peakToPeak(), within(1e-6));
        assertThat(numbers[4]).isCloseTo(held.of(found.inductorCurrent()).maximum(), within(1e-3));
        assertThat(numbers[4]).isCloseTo(2 + 0.5 * (12 - 5 - 0.22) * 5.2 / 12 / 3, within(0.03));
        assertThat(2 + 0.5 * (12 - 5 - 0.22) * 5.2 / 12 / 2).isGreaterThan(2.6);
    }

    /** Duty cycles by hand: 5/15 and 5/9; 1 - 15/24 and 1 - 9/24; 5/20 and 5/14. Heat: 10 V times 2 A. */
    @Test
    void stagesAreThoseOfTheTextbook() throws Exception {
        List<String> lines = Printed.by(WhichStage::main);
        assertThat(lines)
                .hasSize(27)
                .contains(
                        "  SEPIC: duty cycle 25.0 % to 35.7 %, inductor current 1.111 A, the switch must block 20.00 V")
                .contains(
                        "  buck: duty cycle 33.3 % to 55.6 %, inductor current 2.000 A, the switch must block 15.00 V")
                .contains(
                        "  boost: duty cycle 37.5 % to 62.5 %, inductor current 1.333 A, the switch must block 24.00 V")
                .contains(
                        "  inverting buck-boost: duty cycle 25.0 % to 35.7 %, inductor current 93.33 mA, the switch must block 20.00 V")
                .contains("  linear regulator: 33.3 % to 55.6 % at most, up to 20.00 W of heat")
                .filteredOn(line -> line.contains("neither steps up nor inverts"))
                .hasSize(2);
    }

    /**
     * Against the step response of the averaged filter, peak 1 + exp(-pi / sqrt(4 Q^2 - 1)): R. W. Erickson, D.
     * Maksimovic, Fundamentals of Power Electronics, 3rd ed., eqs. 9.41-9.50 (27.71 V for these parts).
     */
    @Test
    void startUpOvershootsAsTheFilterDoes() throws Exception {
        List<String> lines = Printed.by(StartUp::main);
        double q = 3 * Math.sqrt(500e-6 / 50e-6);
        double peak = 15 * (1 + Math.exp(-Math.PI / Math.sqrt(4 * q * q - 1)));
        assertThat(Printed.numbers(lines.get(0))[0]).isCloseTo(15, within(0.001));
        double[] highest = Printed.numbers(lines.get(1));
        assertThat(highest[0]).isCloseTo(peak, within(0.01));
        assertThat(highest[1] * 1e-6).isCloseTo(Math.PI * Math.sqrt(50e-6 * 500e-6), within(1.5e-6 + 5e-6));
        assertThat(Printed.numbers(lines.get(3))[0]).isLessThan(1e-12);
    }

    /** Against the averaged stage, integrated by the classical Runge-Kutta method. */
    @Test
    void loadStepDroopsAsTheAveragedStageDoes() throws Exception {
        List<String> lines = Printed.by(LoadStep::main);
        double resistance = 0.08 + 0.06;
        double before = 0.45 * 12 - 0.5 * resistance;
        double after = 0.45 * 12 - 2 * resistance;
        assertThat(Printed.numbers(lines.get(0))).containsExactly(new double[] {before, after}, within(0.0005));
        double[] averaged = averagedLoadStep(resistance, after);
        assertThat(Printed.numbers(lines.get(1))[0] * 1e-3).isCloseTo(averaged[0], within(0.01));
        assertThat(Printed.numbers(lines.get(2))[1] * 1e-6).isCloseTo(averaged[1], within(0.05 * averaged[1]));
    }

    /** Droop and settling time from 0.5 A to 2 A. */
    private static double[] averagedLoadStep(double resistance, double after) {
        double current = 0.5;
        double voltage = 0.45 * 12 - 0.5 * resistance;
        double lowest = voltage;
        double settled = 0;
        double h = 1e-8;
        for (int k = 0; k < 200_000; k++) {
            double[] k1 = slope(current, voltage, resistance);
            double[] k2 = slope(current + h / 2 * k1[0], voltage + h / 2 * k1[1], resistance);
            double[] k3 = slope(current + h / 2 * k2[0], voltage + h / 2 * k2[1], resistance);
            double[] k4 = slope(current + h * k3[0], voltage + h * k3[1], resistance);
            current += h / 6 * (k1[0] + 2 * k2[0] + 2 * k3[0] + k4[0]);
            voltage += h / 6 * (k1[1] + 2 * k2[1] + 2 * k3[1] + k4[1]);
            double output = voltage + 0.005 * (current - 2);
            lowest = Math.min(lowest, output);
            settled = Math.abs(output - after) > 0.02 * after ? (k + 1) * h : settled;
        }
        return new double[] {0.45 * 12 - 0.5 * resistance - lowest, settled};
    }

    private static double[] slope(double current, double voltage, double resistance) {
        double output = voltage + 0.005 * (current - 2);
        return new double[] {(0.45 * 12 - current * resistance - output) / 22e-6, (current - 2) / 47e-6};
    }

    /** Linear: S. Franco, Design with Operational Amplifiers, 3rd ed., Ex. 11.20. Switching: the averaged stage. */
    @Test
    void switchingBeatsLinearByWhatTheFormulasSay(@TempDir Path folder) throws Exception {
        Path picture = folder.resolve("efficiency.png");
        List<String> lines = Printed.by(LinearAgainstSwitching::main, picture.toString());
        assertThat(lines).hasSize(6);
        for (String line : lines.subList(1, 6)) {
            double[] row = Printed.numbers(line);
            double duty = (5 + 0.4 + 0.1) / (row[0] + 0.4 - 0.12);
            double efficiency = continuousBuck(row[0], duty, 2.5) / (duty * row[0]);
            assertThat(row[1]).isCloseTo(100 * 5 / row[0], within(0.005));
            // The ripple of the current, left out of the average, costs up to 0.1 %.
            assertThat(row[2]).isCloseTo(100 * efficiency, within(0.15));
        }
        assertThat(ImageIO.read(picture.toFile()).getWidth()).isGreaterThan(300);
    }

    /**
     * D. W. Hart, Power Electronics, McGraw-Hill 2011, Ex. 6-8 (6 V, 2 A, 3 A, ripple 0.4 A and 0.15 V); the digits are
     * those of the exact periodic solution of the same ideal circuit.
     */
    @Test
    void sepicAgreesWithTheTextbook() throws Exception {
        List<String> lines = Printed.by(OwnCircuit::main);
        double[] output = Printed.numbers(lines.get(0));
        assertThat(output).containsExactly(new double[] {5.99735, 0.14985}, within(1e-5));
        assertThat(output[0]).isCloseTo(6, within(0.01));
        assertThat(Printed.numbers(lines.get(1).substring(2))).containsExactly(new double[] {2, 0.4}, within(0.002));
        assertThat(Printed.numbers(lines.get(2).substring(2))).containsExactly(new double[] {3, 0.4}, within(0.002));
        assertThat(Printed.numbers(lines.get(3))[0]).isEqualTo(5.395);
        assertThat(lines.get(4)).endsWith("CONTINUOUS");
    }

    /** The ripple of a continuous buck stage is (V_out + V_F) (1 - D) T / L, so that the inductance can be worked out. */
    @Test
    void chosenInductorIsTheNextOfTheSeries() throws Exception {
        double output = (0.36 * 15 - 0.64 * 0.4) / (1 + 0.64 * 0.02 / 2.5);
        double current = output / 2.5;
        double least = (output + 0.4 + 0.02 * current) * 0.64 / 300e3 / (0.3 * current);
        assertThat(least).isBetween(18.5e-6, 21.5e-6);
        assertThat(Printed.by(InductorChoice::main))
                .containsExactly("smallest E12 inductor with at most 30 % ripple: 22 µH");
    }

    @Test
    void noInductorIsChosenWhereNoneWillDo() {
        Converter converter = PowerStage.buck()
                .input(15)
                .inductor(1e-6)
                .outputCapacitor(47e-6)
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.36, 300e3));
        assertThat(InductorChoice.pick(converter, 1e-4)).isEmpty();
    }

    /** Against volt-second balance with the drops at full load, and the triangle of the inductor current. */
    @Test
    void sizeTheRailAgreesWithTheBalances() throws Exception {
        List<String> lines = Printed.by(SizeTheRail::main);
        assertThat(lines).hasSize(9).contains("every corner passes");
        assertThat(lines.get(0)).contains("L 22 µH", "C 10 µF");
        double[] range = Printed.numbers(lines.get(1));
        for (int k = 0; k < 2; k++) {
            double input = k == 0 ? 15 : 9;
            double duty = (5 + 0.4 + 2 * 0.05) / (input + 0.4 - 2 * 0.06);
            assertThat(range[k]).isCloseTo(duty, within(0.0005));
            double[] corner = Printed.numbers(lines.get(k == 0 ? 6 : 4));
            assertThat(corner[0]).isEqualTo(input);
            assertThat(corner[2]).isCloseTo(duty, within(0.001));
            double ripple = (5 + 0.4 + 2 * 0.05) * (1 - duty) / 300e3 / 22e-6;
            assertThat(corner[3]).isCloseTo(ripple, within(0.01 * ripple));
            // Both shares of the output ripple bound it from below and, added, from above.
            double capacitive = 1e3 * ripple / (8 * 300e3 * 10e-6);
            double resistive = 1e3 * ripple * 0.047;
            assertThat(corner[4]).isBetween(Math.max(capacitive, resistive), capacitive + resistive);
        }
        assertThat(lines.get(8)).contains("inductor ripple", "15.00 V in, 2.000 A out");
    }

    /** At the boundary the load current is half of the triangle's height; the resistances drop next to nothing there. */
    @Test
    void boundaryOfTheMapIsHalfTheRipple(@TempDir Path folder) throws Exception {
        List<String> lines = Printed.by(OperatingMapOfBuck::main, folder.toString());
        assertThat(lines).hasSize(7);
        for (int k = 0; k < 7; k++) {
            double[] row = Printed.numbers(lines.get(k));
            double duty = (5 + 0.4) / (9 + k + 0.4);
            assertThat(row[0]).isEqualTo(9.0 + k);
            double half = 1e3 * (5 + 0.4) * (1 - duty) / 300e3 / 22e-6 / 2;
            assertThat(row[1]).isCloseTo(half, within(0.02 * half));
        }
        for (String picture : List.of("conduction", "efficiency", "output-voltage-peak-to-peak")) {
            assertThat(ImageIO.read(folder.resolve(picture + ".png").toFile()).getWidth())
                    .isEqualTo(940);
        }
    }

    /** Conduction with mean currents and a triangle, the rest with the valley and the peak of that triangle. */
    @Test
    void whereTheWattsGoAgreesWithHandCalculation(@TempDir Path folder) throws Exception {
        List<String> lines = Printed.by(WhereTheWattsGo::main, folder.toString());
        double duty = (5 + 0.4 + 2 * 0.05) / (12 + 0.4 - 2 * 0.06);
        double ripple = (5 + 0.4 + 2 * 0.05) * (1 - duty) / 300e3 / 22e-6;
        double square = 4 + ripple * ripple / 12;
        double valley = 2 - ripple / 2;
        double peak = 2 + ripple / 2;
        double[] expected = {
            duty * 0.08 * square,
            (1 - duty) * (0.4 * 2 + 0.02 * square),
            0.03 * square,
            0.005 * ripple * ripple / 12,
            0.5 * 12.44 * (valley * 15e-9 + peak * 20e-9) * 300e3,
            0.5 * 250e-12 * 12.43 * 12.43 * 300e3,
            9e-9 * 5 * 300e3
        };
        for (int k = 0; k < expected.length; k++) {
            double milliwatt = Printed.numbers(lines.get(k))[0];
            assertThat(milliwatt)
                    .as(lines.get(k))
                    .isCloseTo(1e3 * expected[k], within(0.01 * 1e3 * expected[k] + 0.05));
        }
        // Within the range in which Steinmetz parameters of a sine of the same swing and frequency must lie.
        double sine = 0.4e-6 * 0.25 * Math.pow(300e3, 1.6) * Math.pow(22e-6 * ripple / (12 * 12e-6) / 2, 2.5);
        assertThat(Printed.numbers(lines.get(7))[0]).isBetween(0.8 * 1e3 * sine, 1.2 * 1e3 * sine);
        double[] full = Printed.numbers(lines.get(10));
        double core = Printed.numbers(lines.get(7))[0] / 1e3;
        double losses = java.util.Arrays.stream(expected).sum() + core;
        assertThat(full[1]).isCloseTo(100 * 10 / (10 + losses), within(0.1));
        assertThat(Printed.numbers(lines.get(11))[0]).isEqualTo(41.67);
        assertThat(ImageIO.read(folder.resolve("efficiency.png").toFile()).getWidth())
                .isPositive();
        assertThat(ImageIO.read(folder.resolve("losses.png").toFile()).getWidth())
                .isPositive();
    }

    /**
     * By hand for straight parts: the ripple is V t / L, with some 6.8 V across the inductor for 1.5 µs and the 21 µH that its first
     * segment has 0.486 A; the flux of that is the same where it saturates.
     */
    @Test
    void aSaturatingInductorMakesMoreRippleWithTheLoad() throws Exception {
        List<String> lines = Printed.by(SaturatingInductor::main);
        assertThat(lines).hasSize(7);
        assertThat(Printed.numbers(lines.get(2))[1]).isCloseTo(0.486, within(0.01));
        assertThat(lines.get(2)).doesNotContain("saturated");
        assertThat(lines.get(6)).contains("saturated");
        double least = 0;
        for (String line : lines.subList(1, 7)) {
            double ripple = Printed.numbers(line)[1];
            assertThat(ripple).isGreaterThan(least);
            least = ripple - 0.02;
        }
    }

    /** L and C of the loop ring at 1 / (2 pi sqrt(LC)), damped by (R + Ron) / (2 Z); a snubber of Z and 4 C takes the peak down. */
    @Test
    void aSnubberDampsTheRingingNode() throws Exception {
        List<String> lines = Printed.by(RingingNode::main);
        assertThat(lines).hasSize(2);
        double[] bare = Printed.numbers(lines.get(0).replace("none", ""));
        double[] snubbed = Printed.numbers(lines.get(1).replace("4 C, Z", ""));
        assertThat(bare[1]).isCloseTo(1e-6 / (2 * Math.PI * Math.sqrt(12e-9 * 150e-12)), within(2.0));
        assertThat(bare[2]).isCloseTo(0.38 / (2 * Math.sqrt(12e-9 / 150e-12)), within(0.002));
        assertThat(snubbed[0]).isBetween(0.75 * bare[0], -12.0);
        assertThat(Math.abs(snubbed[0])).isLessThan(0.85 * Math.abs(bare[0]));
        assertThat(snubbed[2]).isGreaterThan(5 * bare[2]);
        assertThat(snubbed[3]).isGreaterThan(bare[3]);
    }

    /** The ripple is that of the charge that the inductor's ripple moves, on top of that of 2 mΩ: it goes with 1 / C. */
    @Test
    void aFadingCapacitorMakesMoreRippleThanItsLabelSays() throws Exception {
        List<String> lines = Printed.by(FadingCapacitor::main);
        assertThat(lines).hasSize(4);
        for (String line : lines.subList(1, 4)) {
            double[] row = Printed.numbers(line);
            double left = row[0] < 3 ? (47 - row[0] * 11 / 3) / 47 : (36 - (row[0] - 3) * 16 / 3) / 47;
            assertThat(row[2] / row[1]).isBetween(0.9 * (1 + 0.6 * (1 / left - 1)), 1.1 / left);
        }
    }
}
