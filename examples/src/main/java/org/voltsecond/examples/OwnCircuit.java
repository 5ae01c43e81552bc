package org.voltsecond.examples;

import static org.voltsecond.circuit.Circuit.GROUND;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;

import java.util.List;
import java.util.Locale;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.waveform.Waveform;

/** Example: a custom circuit, here a SEPIC: two inductors, and a capacitor that couples them. */
public final class OwnCircuit {
    private OwnCircuit() {}

    /**
     * Prints the steady state.
     *
     * @param arguments not used
     */
    public static void main(String[] arguments) {
        Circuit circuit = Circuit.builder()
                .voltageSource("V1", "in", GROUND, 9)
                .inductor("L1", "in", "drain", micro(90))
                .switchPart("Q1", "drain", GROUND, 0)
                .capacitor("C1", "drain", "middle", micro(80))
                .inductor("L2", GROUND, "middle", micro(90))
                .rectifier("D1", "middle", "out", 0, 0)
                .capacitor("C2", "out", GROUND, micro(80))
                .resistor("R1", "out", GROUND, 2)
                .build();
        Converter sepic = Converter.of(circuit).inductorCurrent("L1").drive(Drive.fixedDuty(0.4, kilo(100)));
        ConverterSteadyState steady = sepic.steadyState();
        Waveform output = steady.of(sepic.outputVoltage());
        System.out.printf(Locale.ROOT, "output      %.5f V, ripple %.5f V%n", output.mean(), output.peakToPeak());
        for (String coil : List.of("L1", "L2")) {
            Waveform amps = steady.of(sepic.driven().current(coil));
            System.out.printf(Locale.ROOT, "%s          %.5f A, ripple %.5f A%n", coil, amps.mean(), amps.peakToPeak());
        }
        double peak = steady.of(sepic.transistorCurrent()).maximum();
        System.out.printf(Locale.ROOT, "switch peak %.3f A%n", peak);
        System.out.println("conduction  " + steady.conduction());
    }
}
