package org.voltsecond.design;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.voltsecond.control.Drive;
import org.voltsecond.control.SwitchPattern;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterBuilder;
import org.voltsecond.converter.ErrorAmplifier;
import org.voltsecond.design.Design.LineInput;
import org.voltsecond.design.DrivePlan.FixedDuty;
import org.voltsecond.design.DrivePlan.Gates;
import org.voltsecond.design.DrivePlan.Regulated;
import org.voltsecond.stage.Load;

/**
 * A custom circuit, with the roles of its parts. Immutable.
 *
 * <pre>{@code
 * Design own = DesignFile.parse("own.toml", "own", """
 *         part = [
 *             { name = "V1", kind = "voltage-source", between = ["in", "ground"], voltage = "12 V" },
 *             { name = "Q1", kind = "switch", between = ["in", "sw"] },
 *             { name = "D1", kind = "rectifier", between = ["ground", "sw"] },
 *             { name = "L1", kind = "inductor", between = ["sw", "out"], inductance = "22 µH" },
 *             { name = "C1", kind = "capacitor", between = ["out", "ground"], capacitance = "47 µF" },
 *             { name = "R1", kind = "resistor", between = ["out", "ground"], resistance = "2.5 Ω" },
 *         ]
 *         gate = [ { switch = "Q1", duty_cycle = 0.5, switching_frequency = "300 kHz" } ]
 *         output = { between = ["out", "ground"] }
 *         """);
 * double volt = own.power().input().voltage(); // 12 V
 * }</pre>
 *
 * @param named the circuit with the roles of its parts
 * @param switching which switches a drive moves
 * @param input the source that feeds it, with the ripple on it
 * @param load what lies across its output
 */
public record CircuitPlan(ConverterBuilder named, Switching switching, LineInput input, Load load)
        implements PowerPlan {
    /**
     * Which switches a drive moves, and which clocks of their own.
     *
     * @param timing how the pulses of several switches lie to each other
     * @param switches those that a pulse closes; none where gates drive all
     * @param complementary those that are closed between the pulses
     * @param deadTime by which these close later and open earlier, s; 0 or more
     * @param currents the parts whose currents are sensed; none for the first inductor
     * @param gates the drives of switches that the drive leaves alone
     */
    public record Switching(
            SwitchPattern.Timing timing,
            List<String> switches,
            List<String> complementary,
            double deadTime,
            List<String> currents,
            Map<String, Drive> gates) {
        /** Gates drive all switches. */
        static final Switching BY_GATES =
                new Switching(SwitchPattern.Timing.TOGETHER, List.of(), List.of(), 0, List.of(), Map.of());

        /**
         * Copies the lists.
         *
         * @param timing how the pulses of several switches lie to each other
         * @param switches those that a pulse closes; none where gates drive all
         * @param complementary those that are closed between the pulses
         * @param deadTime by which these close later and open earlier, s; 0 or more
         * @param currents the parts whose currents are sensed
         * @param gates the drives of switches that the drive leaves alone
         */
        public Switching {
            switches = List.copyOf(switches);
            complementary = List.copyOf(complementary);
            currents = List.copyOf(currents);
            gates = Collections.unmodifiableMap(new LinkedHashMap<>(gates));
        }

        Switching beside(Map<String, Drive> others) {
            return new Switching(timing, switches, complementary, deadTime, currents, others);
        }
    }

    @Override
    public Converter drivenBy(DrivePlan drive) {
        return driven(named, switching, drive);
    }

    /** A converter before its input and load are known. */
    static Converter driven(ConverterBuilder named, Switching switching, DrivePlan drive) {
        if (drive instanceof Gates gates) {
            return named.drive(gates.drives());
        }
        if (drive instanceof FixedDuty fixed) {
            SwitchPattern pattern =
                    SwitchPattern.of(switching.timing(), switching.switches(), switching.complementary());
            double dead = switching.deadTime() * fixed.switchingFrequency();
            Map<String, Drive> drives = new LinkedHashMap<>(pattern.drives(fixed.drive(), dead));
            drives.putAll(switching.gates());
            return named.drive(drives);
        }
        Regulated regulated = (Regulated) drive;
        @Nullable ErrorAmplifier amplifier = regulated.amplifier();
        ConverterBuilder gated = named.gates(switching.gates());
        return amplifier == null ? gated.drive(regulated.regulator()) : gated.drive(regulated.regulator(), amplifier);
    }
}
