package org.voltsecond.examples.javadoc;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.nio.file.Path;
import java.util.Arrays;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.Drive;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.design.Design;
import org.voltsecond.design.DesignException;
import org.voltsecond.design.DesignFile;
import org.voltsecond.sizing.PartsProposal;
import org.voltsecond.sizing.Specification;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;

/** The names that the examples in the Javadoc use without a declaration; the package of the converters tells them. */
public final class Ready {
    /** The stage of the logic rail of the buoy, 12 V to 5 V, without its drive. */
    public static final PowerStage stage = PowerStage.buck()
            .input(12)
            .inductor(micro(22), milli(30))
            .outputCapacitor(micro(47), milli(5))
            .transistor(milli(80))
            .rectifier(0.4, milli(20))
            .load(Load.resistor(2.5));

    /** The rail at a fixed duty cycle. */
    public static final Converter rail = stage.drive(Drive.fixedDuty(0.45, kilo(300)));

    /** The rail in voltage mode, with soft start. */
    public static final Converter regulated =
            stage.drive(VoltageMode.of(kilo(300), 1, 0.2, Compensator.type2(1500, 4557, kilo(100)))
                    .withRamp(0, 1)
                    .withMaximumDutyCycle(0.95)
                    .withSoftStart(milli(2)));

    /** The steady state of the rail. */
    public static final ConverterSteadyState steady = rail.steadyState();

    /** The start-up of the rail. */
    public static final ConverterTransient start = rail.startUp(milli(2));

    /** Twelve periods of its switch node every 10 ns, as an oscilloscope would record them. */
    public static final double[] samples = sampled();

    /** Parts proposed for the rail. */
    public static final PartsProposal proposal = Specification.of(Topology.BUCK)
            .input(9, 15)
            .output(5)
            .load(0.05, 2)
            .switchingFrequency(kilo(300))
            .inductorRipple(0.3)
            .outputRipple(milli(50))
            .propose()
            .refined();

    /** The rail as a design file, with a start-up, a limit and three studies. */
    public static final Design design = read("""
            name = "logic rail"
            stage = { topology = "buck" }
            input = { voltage = "12 V" }
            inductor = { inductance = "22 µH", resistance = "30 mΩ" }
            output_capacitor = { capacitance = "47 µF", resistance = "5 mΩ" }
            transistor = { on_resistance = "80 mΩ" }
            rectifier = { forward_drop = "0.4 V", resistance = "20 mΩ" }
            load = { resistance = "2.5 Ω" }
            drive = { kind = "fixed-duty", duty_cycle = 0.45, switching_frequency = "300 kHz" }
            transient = { duration = "2 ms" }
            limits = { output_ripple = "50 mV" }
            losses = { turn_on_time = "15 ns", turn_off_time = "20 ns", gate_charge = "9 nC", gate_voltage = "5 V" }
            tolerance = { designs = 1000, values = { inductance = 0.2 } }
            [map]
            across = { quantity = "load_current", from = "5 mA", to = "2 A" }
            up = { quantity = "input_voltage", from = "9 V", to = "15 V" }
            output_voltage = "5 V"
            """);

    /** Where files go. */
    public static Path folder = Path.of("target");

    private Ready() {}

    private static Design read(String text) {
        try {
            return DesignFile.parse("logic-rail.toml", "logic-rail", text);
        } catch (DesignException e) {
            throw new IllegalStateException(e);
        }
    }

    private static double[] sampled() {
        double[] values = new double[4000];
        Arrays.setAll(values, i -> steady.of(rail.switchNode()).at(i * 1e-8 % steady.period()));
        return values;
    }
}
