package org.voltsecond.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.circuit.Circuit.GROUND;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;
import static org.voltsecond.units.Si.nano;
import static org.voltsecond.units.Si.pico;

import java.util.Arrays;
import java.util.Objects;
import org.hipparchus.analysis.solvers.LaguerreSolver;
import org.hipparchus.complex.Complex;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.design.DesignException;
import org.voltsecond.design.DesignFile;
import org.voltsecond.figures.Commutation.After;
import org.voltsecond.figures.Commutation.Ring;
import org.voltsecond.stage.Load;
import org.voltsecond.waveform.Waveform;

/** Ringing and the voltage that a transistor closes on, held to circuits that can be worked out by hand. */
class CommutationTest {
    /**
     * A source behind R and L charges C beside a load through a switch with a capacitance across: a cubic equation, of which
     * Hipparchus' polynomial solver finds the roots. Once the third root, of some 20 ps, has died out there are nothing but the
     * level and the ring.
     */
    @Test
    void aSeriesCircuitRingsAtTheRootsOfItsPolynomial() {
        double volt = 12;
        double henry = nano(20);
        double ohm = 0.5;
        double on = 0.08;
        double output = pico(250);
        double farad = pico(150);
        double load = 200;
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", GROUND, volt)
                .inductor("L1", "in", "drain", henry, ohm)
                .switchPart("Q1", "drain", "sw", on)
                .capacitor("C2", "drain", "sw", output)
                .rectifier("D1", GROUND, "sw", 0.4, 0)
                .capacitor("C1", "sw", GROUND, farad)
                .resistor("R1", "sw", GROUND, load)
                .build();
        Converter converter = Converter.of(circuit)
                .input("V1")
                .output("sw", GROUND)
                .inductorCurrent("L1")
                .switchNode("sw")
                .drive(Drive.fixedDuty(0.5, kilo(300)));
        ConverterSteadyState steady = converter.steadyState();
        Commutation found = Commutation.of(steady);
        Ring ring = found.rings().get(0);
        assertThat(ring.after()).isEqualTo(After.TURN_ON);
        // (L s + R)(1 + s Ron Co)(1 + s C RL) + Ron (1 + s C RL) + RL (1 + s Ron Co) = 0
        double a = on * output;
        double b = farad * load;
        double[] polynomial = {
            ohm + on + load, henry + ohm * (a + b) + on * b + load * a, henry * (a + b) + ohm * a * b, henry * a * b
        };
        double second = nano(1);
        double[] scaled = new double[4];
        Arrays.setAll(scaled, k -> polynomial[k] / Math.pow(second, k));
        Complex pole = Arrays.stream(new LaguerreSolver(1e-15).solveAllComplex(scaled, 0))
                .filter(root -> root.getImaginaryPart() > 0)
                .findFirst()
                .orElseThrow();
        double size = pole.norm() / second;
        assertThat(ring.poles().real()).isCloseTo(pole.getRealPart() / second, within(1e-9 * size));
        assertThat(ring.poles().imaginary()).isCloseTo(pole.getImaginaryPart() / second, within(1e-9 * size));
        assertThat(ring.frequency()).isCloseTo(pole.getImaginaryPart() / second / (2 * Math.PI), within(1e-9 * size));
        assertThat(ring.dampingRatio()).isCloseTo(-pole.getRealPart() / pole.norm(), within(1e-9));
        double level = -volt * load / (ohm + on + load);
        Waveform rectifier = steady.of(converter.rectifierVoltage());
        for (double since : new double[] {1e-9, 7e-9, 33e-9, 200e-9}) {
            assertThat(rectifier.at(ring.start() + since)).isCloseTo(level + ring.at(since), within(1e-8));
            assertThat(Math.abs(ring.at(since))).isLessThanOrEqualTo(ring.envelope(since));
        }
        assertThat(ring.peak()).isEqualTo(rectifier.minimum());
        // what charges C by a step loses half of C V^2, but for what the load takes meanwhile
        assertThat(ring.energyLost()).isCloseTo(0.5 * farad * level * level, within(0.05 * farad * level * level));
        assertThat(steady.audit().residual()).isLessThan(1e-10);
    }

    private static PowerStage buck() {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5));
    }

    /** What closes on a charged capacitance loses its energy in the channel: that is in the audit without being asked for. */
    @Test
    void hardTurnOnLosesWhatTheCapacitanceHolds() {
        double farad = nano(3);
        Converter plain = buck().drive(Drive.fixedDuty(0.45, kilo(300)));
        Converter capacitive = buck().outputCapacitance(farad).drive(Drive.fixedDuty(0.45, kilo(300)));
        Commutation found = Commutation.of(capacitive.steadyState());
        double volt = found.voltageAtTurnOn().orElseThrow();
        assertThat(volt).isCloseTo(12.4, within(0.1));
        assertThat(found.energyAtTurnOn()).isCloseTo(0.5 * farad * volt * volt, within(1e-20));
        double more = heat(capacitive) - heat(plain);
        assertThat(more).isCloseTo(found.energyAtTurnOn(), within(0.05 * found.energyAtTurnOn()));
        // with half of it above 6 V the charge is q = C 6 V + C/2 (v - 6 V)
        Converter bending =
                buck().outputCapacitance(farad, new Bend(6, farad / 2)).drive(Drive.fixedDuty(0.45, kilo(300)));
        Commutation bent = Commutation.of(bending.steadyState());
        double v = bent.voltageAtTurnOn().orElseThrow();
        assertThat(bent.energyAtTurnOn())
                .isCloseTo(0.5 * farad * 36 + 0.25 * farad * (v * v - 36), within(1e-12 * farad * v * v));
        assertThat(Commutation.of(plain.steadyState()).isWorthTelling()).isFalse();
    }

    /**
     * Both transistors open, the inductor current charges what lies at the switch node: v = Vo (1 - cos wt) - i0 Z sin wt. Where
     * it flows back far enough the node comes to the input within the dead time, and the transistor closes on its body diode's
     * drop; where it does not flow back at all, the transistor closes on the whole input.
     */
    @ParameterizedTest
    @CsvSource({"1, -0.7", "1.9, NaN", "4, 12.7"})
    void aCurrentThatFlowsBackMakesTheTransitionSoft(double load, double expected) throws DesignException {
        Converter converter = DesignFile.parse("soft.toml", "soft", SOFT.replace("LOAD", String.valueOf(load)))
                .converter();
        ConverterSteadyState steady = converter.steadyState();
        double volt = Commutation.of(steady).voltageAtTurnOn().orElseThrow();
        assertThat(steady.audit().residual()).isLessThan(1e-10);
        if (!Double.isNaN(expected)) {
            assertThat(volt).isCloseTo(expected, within(0.1));
            return;
        }
        double dead = nano(40);
        double henry = micro(2.2);
        double farad = nano(1);
        // the second transistor opens a dead time before the first closes, at the end of the period
        double time = steady.period() - dead;
        double current = steady.of(converter.inductorCurrent()).at(time);
        double output = steady.of(converter.outputVoltage()).at(time);
        assertThat(current).isLessThan(0);
        double begin = steady.of(converter.switchNode()).at(time);
        double w = 1 / Math.sqrt(henry * farad);
        double node = output
                + (begin - output) * Math.cos(w * dead)
                - current * Math.sqrt(henry / farad) * Math.sin(w * dead);
        assertThat(node).isBetween(3.0, 12.0);
        assertThat(volt).isCloseTo(12 - node, within(1e-6));
    }

    private static final String SOFT = """
            name = "soft"
            [[part]]
            name = "V1"
            kind = "voltage-source"
            between = ["in", "ground"]
            voltage = "12 V"
            [[part]]
            name = "Q1"
            kind = "switch"
            between = ["in", "sw"]
            on_resistance = "20 mΩ"
            body_diode = { forward_drop = "0.7 V", resistance = "10 mΩ" }
            [[part]]
            name = "Q2"
            kind = "switch"
            between = ["sw", "ground"]
            on_resistance = "20 mΩ"
            body_diode = { forward_drop = "0.7 V", resistance = "10 mΩ" }
            [[part]]
            name = "C2"
            kind = "capacitor"
            between = ["in", "sw"]
            capacitance = "0.5 nF"
            [[part]]
            name = "C3"
            kind = "capacitor"
            between = ["sw", "ground"]
            capacitance = "0.5 nF"
            [[part]]
            name = "L1"
            kind = "inductor"
            between = ["sw", "out"]
            inductance = "2.2 µH"
            [[part]]
            name = "C1"
            kind = "capacitor"
            between = ["out", "ground"]
            capacitance = "1 F"
            [[part]]
            name = "I1"
            kind = "current-source"
            from = "out"
            to = "ground"
            current = "LOAD A"
            [output]
            between = ["out", "ground"]
            [drive]
            kind = "fixed-duty"
            switches = ["Q1"]
            complementary = ["Q2"]
            dead_time = "40 ns"
            duty_cycle = 0.4
            switching_frequency = "300 kHz"
            """;

    private static double heat(Converter converter) {
        return Objects.requireNonNull(
                converter.steadyState().audit().dissipated().get("Q1"));
    }
}
