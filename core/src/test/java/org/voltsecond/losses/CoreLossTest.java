package org.voltsecond.losses;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.engine.Piece;
import org.voltsecond.stage.CouplingCapacitor;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.SecondInductor;
import org.voltsecond.stage.Transformer;

/** The improved generalised Steinmetz equation where its value is known otherwise. */
class CoreLossTest {
    private static final SteinmetzMaterial FERRITE = new SteinmetzMaterial(3.5, 1.4, 2.5);

    /** One period of a sine of amplitude 1, as Taylor polynomials in 16 pieces. */
    private static List<Piece> sine(double period, double amplitude) {
        List<Piece> pieces = new ArrayList<>();
        int count = 16;
        for (int n = 0; n < count; n++) {
            double angle = 2 * Math.PI * n / count;
            double step = 2 * Math.PI / count;
            double[] coefficients = new double[15];
            double factor = amplitude;
            for (int k = 0; k < coefficients.length; k++) {
                coefficients[k] = factor * Math.sin(angle + k * Math.PI / 2);
                factor *= step / (k + 1);
            }
            pieces.add(Piece.of(n * period / count, period / count, coefficients));
        }
        return pieces;
    }

    private static List<Piece> triangle(double period, double duty, double swing) {
        return List.of(
                Piece.of(0, duty * period, new double[] {-swing / 2, swing}),
                Piece.of(duty * period, (1 - duty) * period, new double[] {swing / 2, -swing}));
    }

    /** k_i is made so that a sinusoid gives the Steinmetz equation back. */
    @ParameterizedTest
    @CsvSource({"1.0, 2.0", "1.1, 2.0", "1.4, 2.5", "1.63, 2.62", "1.9, 2.9", "2.0, 2.0"})
    void sinusoidReducesToSteinmetz(double alpha, double beta) {
        SteinmetzMaterial material = new SteinmetzMaterial(3.5, alpha, beta);
        double expected = material.sinusoidalLoss(kilo(100), 0.1);
        double actual = CoreLoss.density(material, sine(1 / kilo(100), 0.1));
        assertThat(actual).isCloseTo(expected, within(1e-9 * expected));
    }

    /** With alpha = beta = 2 the loss is that of eddy currents: a triangle has 8/pi^2 of the loss of a sine of its size. */
    @Test
    void symmetricTriangleOfEddyCurrents() {
        SteinmetzMaterial eddy = new SteinmetzMaterial(1, 2, 2);
        double triangle = CoreLoss.density(eddy, triangle(1e-5, 0.5, 0.2));
        double expected = 8 / (Math.PI * Math.PI) * eddy.sinusoidalLoss(1e5, 0.1);
        assertThat(triangle).isCloseTo(expected, within(1e-12 * expected));
    }

    /** Closed form for two straight lines: k_i Delta B^beta f^alpha (D^(1-alpha) + (1-D)^(1-alpha)). */
    @ParameterizedTest
    @CsvSource({"0.5", "0.2", "0.05"})
    void triangleInClosedForm(double duty) {
        double expected = FERRITE.generalisedFactor()
                * Math.pow(0.2, 2.5)
                * Math.pow(1e5, 1.4)
                * (Math.pow(duty, -0.4) + Math.pow(1 - duty, -0.4));
        assertThat(CoreLoss.density(FERRITE, triangle(1e-5, duty, 0.2))).isCloseTo(expected, within(1e-12 * expected));
    }

    /** Straight lines through flux densities, T, at times, s. */
    private static List<Piece> lines(double[] times, double... values) {
        List<Piece> pieces = new ArrayList<>();
        for (int k = 0; k + 1 < times.length; k++) {
            double[] line = {values[k], values[k + 1] - values[k]};
            pieces.add(Piece.of(times[k], times[k + 1] - times[k], line));
        }
        return pieces;
    }

    /** Of straight lines the equation is a sum: k_i Delta B^(beta-alpha) |slope|^alpha times the time, loop by loop. */
    private static double line(double swing, double slope, double time) {
        return FERRITE.generalisedFactor() * Math.pow(swing, 1.1) * Math.pow(slope, 1.4) * time;
    }

    /**
     * A loop from 0 to 0.3 T with a dip of 0.1 T at 0.2 T on its way up: the dip and the way back to its level are a minor
     * loop. The way of splitting is that of Venkatachalam and others, 2002, section on minor loops; the numbers are ours.
     */
    @Test
    void aMinorLoopCountsWithItsOwnSwing() {
        double us = 1e-6;
        double[] times = {0, 2 * us, 3 * us, 5 * us, 10 * us};
        List<Piece> flux = lines(times, 0, 0.2, 0.1, 0.3, 0);
        double up = 0.1 / us;
        double major = line(0.3, up, 3 * us) + line(0.3, 0.3 / (5 * us), 5 * us);
        double minor = line(0.1, up, 2 * us);
        double expected = (major + minor) / (10 * us);
        assertThat(CoreLoss.density(FERRITE, flux)).isCloseTo(expected, within(1e-12 * expected));
        // wherever the period is taken to begin
        for (int first = 1; first < 4; first++) {
            List<Piece> turned = new ArrayList<>(flux.subList(first, 4));
            turned.addAll(flux.subList(0, first));
            assertThat(CoreLoss.density(FERRITE, turned)).isCloseTo(expected, within(1e-12 * expected));
        }
    }

    /** A dip within a dip, and one on the way down. */
    @Test
    void minorLoopsAreNested() {
        double us = 1e-6;
        double[] times = {0, 5 * us, 7 * us, 8 * us, 10 * us, 12 * us, 13 * us, 14 * us, 20 * us};
        // up to 0.5, dip to 0.3, back to 0.4, on to 0.2, up to 0.6; then down to 0.5, up to 0.55, down to 0
        List<Piece> flux = lines(times, 0, 0.5, 0.3, 0.4, 0.2, 0.6, 0.5, 0.55, 0);
        double inner = line(0.1, 0.1 / us, us) + line(0.1, 0.1 / us, us);
        double dip = line(0.3, 0.1 / us, 3 * us - us) + line(0.3, 0.1 / us, us) + line(0.3, 0.2 / us, 1.5 * us);
        double down = line(0.05, 0.05 / us, us) + line(0.05, 0.55 / (6 * us), 0.05 / 0.55 * 6 * us);
        double major = line(0.6, 0.1 / us, 5 * us)
                + line(0.6, 0.2 / us, 0.5 * us)
                + line(0.6, 0.1 / us, us)
                + line(0.6, 0.55 / (6 * us), 0.5 / 0.55 * 6 * us);
        double expected = (inner + dip + down + major) / (20 * us);
        assertThat(CoreLoss.density(FERRITE, flux)).isCloseTo(expected, within(1e-12 * expected));
    }

    /** The flux density of an inductor: L di / (N A), here 22 µH 0.99 A / (10 x 20 mm^2) or so. */
    @Test
    void inductorOfABuckStage() {
        Converter buck = PowerStage.buck()
                .input(12)
                .inductor(micro(22))
                .outputCapacitor(micro(470))
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.45, kilo(300)));
        ConverterSteadyState steady = buck.steadyState();
        CoreLoss loss = new CoreLoss(FERRITE, 20e-6, 0.8e-6, 10);
        double swing = 22e-6 * steady.of(buck.inductorCurrent()).peakToPeak() / (10 * 20e-6);
        double expected = 0.8e-6
                * FERRITE.generalisedFactor()
                * Math.pow(swing, 2.5)
                * Math.pow(kilo(300), 1.4)
                * (Math.pow(0.45, -0.4) + Math.pow(0.55, -0.4));
        // The ripple of the output bends the flux by less than 1e-3 of its slope.
        assertThat(loss.power(steady))
                .isCloseTo(expected, within(1e-3 * expected))
                .isPositive();
        assertThat(loss.powers(steady)).containsOnlyKeys("L1");
    }

    /** Where an inductor bends, flux is volt-seconds all the same: its swing does not know of the knee, its peak does. */
    @Test
    void fluxOfASaturatingInductorIsVoltSeconds() {
        Converter buck = PowerStage.buck()
                .input(12)
                .inductor(micro(22))
                .saturation(new Bend(1.9, micro(10)), new Bend(2.3, micro(4)))
                .outputCapacitor(1) // so large that its voltage rests
                .load(Load.current(2))
                .drive(Drive.fixedDuty(0.45, kilo(300)));
        ConverterSteadyState steady = buck.steadyState();
        WoundCore core = WoundCore.of(12e-6, 10);
        double volt = steady.of(buck.outputVoltage()).mean();
        double expected = (12 - volt) * 0.45 / kilo(300) / (10 * 12e-6);
        assertThat(swing(core.fluxDensity(steady))).isCloseTo(expected, within(1e-6 * expected));
        double peak = steady.of(buck.inductorCurrent()).maximum();
        assertThat(peak).isGreaterThan(2.3);
        double linked = micro(22) * 1.9 + micro(10) * 0.4 + micro(4) * (peak - 2.3);
        assertThat(core.peaks(buck, steady::of).get("L1")).isCloseTo(linked / (10 * 12e-6), within(1e-12));
    }

    private static double swing(List<Piece> flux) {
        double high = flux.stream()
                .mapToDouble(piece -> Math.max(piece.valueAt(0), piece.valueAt(1)))
                .max()
                .orElseThrow();
        double low = flux.stream()
                .mapToDouble(piece -> Math.min(piece.valueAt(0), piece.valueAt(1)))
                .min()
                .orElseThrow();
        return high - low;
    }

    /** The core of a transformer is driven by the voltage of its winding, that of a second inductor by the same volt-seconds as the first. */
    @Test
    void transformersAndSecondInductorsHaveCores() {
        Converter flyback = PowerStage.flyback()
                .input(24)
                .with(Transformer.of(3, 1, micro(60)))
                .outputCapacitor(1e-3)
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.4, kilo(100)));
        WoundCore primary = new WoundCore(50e-6, 24, "T1.primary");
        double expected = 24 * 0.4 / kilo(100) / (24 * 50e-6);
        assertThat(swing(primary.fluxDensity(flyback.steadyState()))).isCloseTo(expected, within(1e-9));
        assertThat(new CoreLoss(FERRITE, 2e-6, primary).powers(flyback.steadyState()))
                .containsOnlyKeys("LM");
        Converter sepic = PowerStage.sepic()
                .input(12)
                .inductor(micro(90))
                .with(new SecondInductor(micro(60), 0, 0))
                .with(new CouplingCapacitor(1e-2, 0))
                .outputCapacitor(1e-2)
                .load(Load.resistor(10))
                .drive(Drive.fixedDuty(0.4, kilo(100)));
        for (String name : List.of("L1", "L2")) {
            double swing = swing(new WoundCore(50e-6, 12, name).fluxDensity(sepic.steadyState()));
            assertThat(swing).isCloseTo(12 * 0.4 / kilo(100) / (12 * 50e-6), within(1e-3 * swing));
        }
        assertThatThrownBy(() -> new WoundCore(1, 1, "C1").peaks(sepic, sepic.steadyState()::of))
                .hasMessageContaining("stores no flux");
    }

    @Test
    void restingFluxLosesNothing() {
        assertThat(CoreLoss.density(FERRITE, List.of(Piece.of(0, 1e-5, new double[] {0.1}))))
                .isZero();
    }

    @Test
    void refusesWhatIsNoMaterial() {
        assertThatThrownBy(() -> new SteinmetzMaterial(0, 1.4, 2.5)).hasMessageContaining("k must be more than 0");
        assertThatThrownBy(() -> new SteinmetzMaterial(1, 1.4, 1.2)).hasMessageContaining("beta");
        assertThatThrownBy(() -> new CoreLoss(FERRITE, 0, 1, 1)).hasMessageContaining("cross-section");
    }
}
