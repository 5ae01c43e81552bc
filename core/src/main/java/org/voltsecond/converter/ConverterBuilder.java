package org.voltsecond.converter;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.control.Drive;
import org.voltsecond.control.Regulator;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.RoleNaming;
import org.voltsecond.stage.Roles;
import org.voltsecond.stage.StageWiring;
import org.voltsecond.stage.Topology;

/**
 * A custom circuit on its way to a converter: its roles are named as far as they cannot be found, and the last step,
 * {@code drive}, gives the converter. Immutable.
 *
 * <pre>{@code
 * Circuit circuit = Circuit.builder()
 *         .voltageSource("V1", "in", Circuit.GROUND, 9)
 *         .inductor("L1", "in", "drain", micro(90))
 *         .switchPart("Q1", "drain", Circuit.GROUND, milli(20))
 *         .capacitor("C1", "drain", "middle", micro(80))
 *         .inductor("L2", "middle", Circuit.GROUND, micro(90))
 *         .rectifier("D1", "middle", "out", 0.4, milli(10))
 *         .capacitor("C2", "out", Circuit.GROUND, micro(80))
 *         .resistor("R1", "out", Circuit.GROUND, 2)
 *         .build();
 * Converter sepic = Converter.of(circuit).inductorCurrent("L1").drive(Drive.fixedDuty(0.4, kilo(100)));
 * double volt = sepic.steadyState().of(sepic.outputVoltage()).mean(); // 5.491 V
 * }</pre>
 */
public final class ConverterBuilder extends RoleNaming<ConverterBuilder> {
    private final Circuit circuit;
    private final Roles roles;
    private final Map<String, Drive> gates;

    ConverterBuilder(Circuit circuit, Roles roles) {
        this(circuit, roles, Map.of());
    }

    private ConverterBuilder(Circuit circuit, Roles roles, Map<String, Drive> gates) {
        this.circuit = circuit;
        this.roles = roles;
        this.gates = gates;
    }

    @Override
    public ConverterBuilder with(Role role, String... names) {
        return new ConverterBuilder(circuit, roles.with(role, names), gates);
    }

    /**
     * Sets drives of switches that the regulator leaves alone; of any frequency with which its clock shares a period. The switches
     * that it drives are to be named.
     *
     * @param others a drive for each of these switches
     * @return the same with these drives
     */
    public ConverterBuilder gates(Map<String, Drive> others) {
        return new ConverterBuilder(circuit, roles, Collections.unmodifiableMap(new LinkedHashMap<>(others)));
    }

    /**
     * Sets what drives the switches, as {@link #timing} says if there are several, and finishes the converter. A switch that stands
     * in for a rectifier is closed while its own is open.
     *
     * @param drive the drive
     * @return the converter
     * @throws InvalidStageException if a role cannot be found, several switches begin the on interval, or the drive is wrong in
     *     itself
     */
    public Converter drive(Drive drive) {
        return new Converter(blueprint().drivenBy(drive).checked());
    }

    /**
     * Sets what drives each switch, and finishes the converter.
     *
     * @param drives one for each switch, of frequencies that share a period; what stands in for a rectifier may be left out, and is then closed
     *     while the first switch is open
     * @return the converter
     * @throws InvalidStageException if a role cannot be found, or a drive is wrong in itself
     * @throws IllegalArgumentException if a switch has no drive, or the frequencies share no period
     */
    public Converter drive(Map<String, Drive> drives) {
        return new Converter(blueprint().drivenBy(drives).checked());
    }

    /**
     * Sets what regulates the output, and finishes the converter; see {@link PowerStage#drive(Regulator)}.
     *
     * @param regulator drives the switch, and one that stands in for a rectifier
     * @return the converter
     * @throws InvalidStageException if a role cannot be found, or the regulator is wrong in itself
     */
    public Converter drive(Regulator regulator) {
        return new Converter(
                blueprint().regulatedBy(regulator, null).withGates(gates).checked());
    }

    /**
     * Sets what regulates the output by way of an error amplifier of parts, and finishes the converter; see
     * {@link PowerStage#drive(Regulator, ErrorAmplifier)}.
     *
     * @param regulator drives the switch, and one that stands in for a rectifier
     * @param amplifier makes the control voltage
     * @return the converter
     * @throws InvalidStageException if a role cannot be found, or regulator or amplifier are wrong in themselves
     */
    public Converter drive(Regulator regulator, ErrorAmplifier amplifier) {
        return new Converter(
                blueprint().regulatedBy(regulator, amplifier).withGates(gates).checked());
    }

    private Blueprint blueprint() {
        return Blueprint.of(new OwnCircuit(roles.isInverting()), circuit, roles);
    }

    /** Stands for the stage of a circuit that no stage has wired. */
    record OwnCircuit(boolean isInverting) implements Topology {
        @Override
        public void wire(StageWiring wiring) {
            throw new UnsupportedOperationException("a custom circuit is wired already");
        }

        @Override
        public String toString() {
            return "own circuit";
        }
    }

    @Override
    public String toString() {
        return circuit + ", " + roles;
    }
}
