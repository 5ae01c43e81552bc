package org.voltsecond.converter;

import java.util.List;
import java.util.Map;
import java.util.function.UnaryOperator;
import org.jspecify.annotations.Nullable;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.characteristic.Junction;
import org.voltsecond.control.Drive;
import org.voltsecond.control.Regulator;
import org.voltsecond.stage.InvalidStageException;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.StagePart;
import org.voltsecond.stage.StageParts;
import org.voltsecond.stage.Topology;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Collects the parts of a power stage; the last step, {@link #drive}, checks them all and gives the converter.
 *
 * <pre>{@code
 * Converter rail = PowerStage.buck()
 *         .input(12)                              // V
 *         .inductor(micro(22), milli(30))         // H, series ohm
 *         .outputCapacitor(micro(47), milli(5))   // F, series ohm
 *         .transistor(milli(80))                  // on-resistance, ohm
 *         .rectifier(0.4, milli(20))              // forward drop V, slope ohm
 *         .load(Load.resistor(2.5))               // ohm
 *         .drive(Drive.fixedDuty(0.45, kilo(300)));
 * }</pre>
 *
 * <p>Values are told by {@link StageParts}. Input, inductor, output capacitor and load must be given; transistor and rectifier are ideal unless stated.
 * Immutable: every step returns a new stage, so that one may serve as the beginning of several.
 */
public final class PowerStage {
    private final Topology topology;
    private final StageParts parts;

    private PowerStage(Topology topology, StageParts parts) {
        this.topology = topology;
        this.parts = parts;
    }

    /** {@return a stage without parts that steps down} */
    public static PowerStage buck() {
        return of(Topology.BUCK);
    }

    /** {@return a stage without parts that steps up} */
    public static PowerStage boost() {
        return of(Topology.BOOST);
    }

    /** {@return a stage without parts that inverts} */
    public static PowerStage invertingBuckBoost() {
        return of(Topology.INVERTING_BUCK_BOOST);
    }

    /** {@return a stage without parts that isolates and steps up or down by the energy of its transformer; it has no inductor beside that} */
    public static PowerStage flyback() {
        return of(Topology.FLYBACK);
    }

    /** {@return a stage without parts that isolates, with a transistor and a winding that resets the core} */
    public static PowerStage forward() {
        return of(Topology.FORWARD);
    }

    /** {@return a stage without parts that isolates, with two transistors that close at once} */
    public static PowerStage twoSwitchForward() {
        return of(Topology.TWO_SWITCH_FORWARD);
    }

    /** {@return a stage without parts that isolates, with two transistors at ground that take turns} */
    public static PowerStage pushPull() {
        return of(Topology.PUSH_PULL);
    }

    /** {@return a stage without parts that isolates, with two transistors that take turns at half the input} */
    public static PowerStage halfBridge() {
        return of(Topology.HALF_BRIDGE);
    }

    /** {@return a stage without parts that isolates, with two pairs of transistors that take turns} */
    public static PowerStage fullBridge() {
        return of(Topology.FULL_BRIDGE);
    }

    /** {@return a stage without parts that is a SEPIC: a second inductor and a coupling capacitor must be given} */
    public static PowerStage sepic() {
        return of(Topology.SEPIC);
    }

    /** {@return a stage without parts that is a Ćuk stage: a second inductor and a coupling capacitor must be given} */
    public static PowerStage cuk() {
        return of(Topology.CUK);
    }

    /** {@return a stage without parts that is a zeta stage: a second inductor and a coupling capacitor must be given} */
    public static PowerStage zeta() {
        return of(Topology.ZETA);
    }

    /** {@return a stage without parts that is a four-switch buck-boost stage: one drive drives both legs at once} */
    public static PowerStage fourSwitchBuckBoost() {
        return of(Topology.FOUR_SWITCH_BUCK_BOOST);
    }

    /**
     * Starts a stage.
     *
     * @param topology how its parts are arranged
     * @return a stage without parts
     */
    public static PowerStage of(Topology topology) {
        return new PowerStage(topology, StageParts.none());
    }

    /**
     * Sets the input.
     *
     * @param voltage input voltage, V; more than 0
     * @return the stage with this input
     */
    public PowerStage input(double voltage) {
        return with(parts.withInput(new StageParts.Input(
                voltage, parts.input().amplitude(), parts.input().frequency())));
    }

    /**
     * Sets a ripple of the line: a sine on top of the input voltage, which begins in its middle and rises.
     *
     * @param amplitude from the middle to the crest, V; 0 or more, below the input voltage
     * @param frequency Hz; more than 0
     * @return the stage with this ripple
     */
    public PowerStage inputRipple(double amplitude, double frequency) {
        return with(parts.withInput(new StageParts.Input(parts.input().voltage(), amplitude, frequency)));
    }

    /**
     * Sets an inductor without resistance.
     *
     * @param inductance H; more than 0
     * @return the stage with this inductor
     */
    public PowerStage inductor(double inductance) {
        return inductor(inductance, 0);
    }

    /**
     * Sets the inductor.
     *
     * @param inductance H; more than 0
     * @param seriesResistance Ω; 0 or more
     * @return the stage with this inductor
     */
    public PowerStage inductor(double inductance, double seriesResistance) {
        return with(parts.withInductor(new StageParts.Series(
                inductance, seriesResistance, parts.inductor().bends())));
    }

    /**
     * Lets the inductor saturate: from each magnitude of its current on it has another incremental inductance.
     *
     * @param bends in ascending order of the current, A and H
     * @return the stage with this saturation
     */
    public PowerStage saturation(Bend... bends) {
        StageParts.Series inductor = parts.inductor();
        return with(parts.withInductor(new StageParts.Series(inductor.value(), inductor.resistance(), List.of(bends))));
    }

    /**
     * Lets the output capacitor fade under bias: from each magnitude of its voltage on, without that of its series resistance, it
     * has another incremental capacitance.
     *
     * @param bends in ascending order of the voltage, V and F
     * @return the stage with this output capacitor
     */
    public PowerStage bias(Bend... bends) {
        StageParts.Series capacitor = parts.outputCapacitor();
        return with(parts.withOutputCapacitor(
                new StageParts.Series(capacitor.value(), capacitor.resistance(), List.of(bends))));
    }

    /**
     * Sets an output capacitor without resistance.
     *
     * @param capacitance F; more than 0
     * @return the stage with this capacitor
     */
    public PowerStage outputCapacitor(double capacitance) {
        return outputCapacitor(capacitance, 0);
    }

    /**
     * Sets the output capacitor.
     *
     * @param capacitance F; more than 0
     * @param seriesResistance equivalent series resistance, Ω; 0 or more
     * @return the stage with this capacitor
     */
    public PowerStage outputCapacitor(double capacitance, double seriesResistance) {
        return with(parts.withOutputCapacitor(new StageParts.Series(
                capacitance, seriesResistance, parts.outputCapacitor().bends())));
    }

    /**
     * Sets the transistor.
     *
     * @param onResistance Ω; 0 or more
     * @return the stage with this transistor
     */
    public PowerStage transistor(double onResistance) {
        return transistor(onResistance, 0);
    }

    /**
     * Sets a transistor with a forward drop, such as a bipolar one.
     *
     * @param onResistance Ω; 0 or more
     * @param forwardDrop voltage in series with it while it is closed, whatever the direction of the current, V; 0 or more
     * @return the stage with this transistor
     */
    public PowerStage transistor(double onResistance, double forwardDrop) {
        return with(parts.withTransistor(parts.transistor().withChannel(onResistance, forwardDrop)));
    }

    /**
     * Sets a diode across the transistor, which carries current from its source back to its drain, as every MOSFET has one. Without
     * it the stage refuses to open the transistor on a current that flows backwards and has no other path.
     *
     * @param forwardDrop V; more than 0
     * @param resistance slope resistance, Ω; 0 or more
     * @return the stage with this body diode
     */
    public PowerStage bodyDiode(double forwardDrop, double resistance) {
        StageParts.Diode diode = new StageParts.Diode(forwardDrop, resistance);
        return with(parts.withTransistor(parts.transistor().withBodyDiode(diode)));
    }

    /**
     * Sets a capacitance across each transistor as a part of the circuit. What closing the switch takes from it is lost there; the
     * estimate of {@link org.voltsecond.losses.OutputCapacitanceLoss} is for stages without it.
     *
     * @param farad F; 0 for none
     * @param bias where it changes with its voltage
     * @return the stage with this capacitance
     */
    public PowerStage outputCapacitance(double farad, Bend... bias) {
        StageParts.Transistor channel = parts.transistor();
        return with(parts.withTransistor(channel.withStrays(StageParts.Series.bent(farad, bias), channel.loop())));
    }

    /**
     * Sets the stray inductance, and resistance, of the loop that the current leaves when it passes from the transistor to the
     * rectifier. It lies in series with each transistor, at its drain, outside its output capacitance.
     *
     * @param henry H; 0 for none
     * @param ohm Ω; 0 or more
     * @return the stage with this inductance
     */
    public PowerStage loopInductance(double henry, double ohm) {
        StageParts.Transistor channel = parts.transistor();
        StageParts.Series loop = new StageParts.Series(henry, ohm);
        return with(parts.withTransistor(channel.withStrays(channel.outputCapacitance(), loop)));
    }

    /**
     * Sets a capacitance across each rectifier, diode or transistor, as a part of the circuit.
     *
     * @param farad F; 0 for none
     * @param bias where it changes with its voltage
     * @return the stage with this capacitance
     */
    public PowerStage junctionCapacitance(double farad, Bend... bias) {
        return with(parts.withRectifier(parts.rectifier().withCapacitance(StageParts.Series.bent(farad, bias))));
    }

    /**
     * Sets the forward curve of the rectifier, and how it recovers; of a synchronous one those of its body diode.
     *
     * @param junction what it has beyond forward drop and resistance
     * @return the stage with this rectifier
     */
    public PowerStage junction(Junction junction) {
        return with(parts.withRectifier(parts.rectifier().withJunction(junction)));
    }

    /**
     * Sets a diode as rectifier.
     *
     * @param forwardDrop V; 0 or more
     * @param resistance slope resistance, Ω; 0 or more
     * @return the stage with this rectifier
     */
    public PowerStage rectifier(double forwardDrop, double resistance) {
        return rectifying(StageParts.Rectifier.diode(forwardDrop, resistance));
    }

    /** With the junction and its capacitance as they are. */
    private PowerStage rectifying(StageParts.Rectifier to) {
        return with(parts.withRectifier(to.like(parts.rectifier())));
    }

    /**
     * Sets a second transistor as rectifier, closed exactly while the first is open; it carries current both ways.
     *
     * @param onResistance Ω; 0 or more
     * @return the stage with this rectifier
     */
    public PowerStage synchronousRectifier(double onResistance) {
        return rectifying(StageParts.Rectifier.transistor(onResistance, null));
    }

    /**
     * Sets a second transistor with its body diode as rectifier, which a dead time needs.
     *
     * @param onResistance Ω; 0 or more
     * @param bodyDiodeDrop forward drop of the body diode, V; more than 0
     * @param bodyDiodeResistance slope resistance of the body diode, Ω; 0 or more
     * @return the stage with this rectifier
     */
    public PowerStage synchronousRectifier(double onResistance, double bodyDiodeDrop, double bodyDiodeResistance) {
        StageParts.Diode bodyDiode = new StageParts.Diode(bodyDiodeDrop, bodyDiodeResistance);
        return rectifying(StageParts.Rectifier.transistor(onResistance, bodyDiode));
    }

    /**
     * Sets a part beyond the usual ones: one that the stage needs or takes, such as a {@link org.voltsecond.stage.Transformer}, or one
     * of the supply's side, such as an {@link org.voltsecond.stage.InputFilter}.
     *
     * @param part the part; in place of one of its kind
     * @return the stage with this part
     */
    public PowerStage with(StagePart part) {
        return with(parts.with(part));
    }

    /**
     * Sets all values at once.
     *
     * @param values the values
     * @return the stage with these
     */
    public PowerStage with(StageParts values) {
        return new PowerStage(topology, values);
    }

    /**
     * Sets the load.
     *
     * @param load the load
     * @return the stage with this load
     */
    public PowerStage load(Load load) {
        return with(parts.withLoad(load));
    }

    /**
     * Sets what drives the transistor, and finishes the stage.
     *
     * @param drive the drive of the transistor
     * @return the converter
     * @throws InvalidStageException if a part is missing or a value out of its range; tells all faults at once
     */
    public Converter drive(Drive drive) {
        return driven(
                built -> built.drivenBy(drive),
                drive.faults().stream().map(fault -> "drive: " + fault).toList());
    }

    /**
     * Sets what drives each switch, and finishes the stage: the legs of a four-switch stage apart from each other.
     *
     * <pre>{@code
     * Drive input = Drive.fixedDuty(0.6, kilo(200));
     * Drive output = Drive.fixedDuty(0.2, kilo(200)); // 12 V times 0.6 / 0.8
     * Converter apart = PowerStage.fourSwitchBuckBoost().input(12).inductor(micro(22)).outputCapacitor(micro(470))
     *         .load(Load.resistor(3)).drive(Map.of("Q1", input, "Q2", output));
     * }</pre>
     *
     * @param drives by the names of the switches, all of one frequency; what stands in for a rectifier may be left out, and is then
     *     closed while the switch of its leg is open
     * @return the converter
     * @throws InvalidStageException if a value is missing or wrong; tells all faults at once
     * @throws IllegalArgumentException if a switch has no drive, or the drives differ in frequency
     */
    public Converter drive(Map<String, Drive> drives) {
        return driven(built -> built.drivenBy(drives), List.of());
    }

    /**
     * Sets what regulates the output, and finishes the stage. The regulator senses the magnitude of the output voltage,
     * the inductor current as the on interval drives it, and the input voltage.
     *
     * @param regulator drives the transistor, and the synchronous one if there is one
     * @return the converter
     * @throws InvalidStageException if a part is missing or a value out of its range; tells all faults at once
     */
    public Converter drive(Regulator regulator) {
        return regulated(regulator, null);
    }

    /**
     * Sets what regulates the output by way of an error amplifier with its network as parts of the circuit.
     *
     * @param regulator drives the transistor, and the synchronous one if there is one; such as
     *     {@link org.voltsecond.control.VoltageMode#withErrorAmplifier}
     * @param amplifier makes the control voltage
     * @return the converter
     * @throws InvalidStageException if a part is missing or a value out of its range; tells all faults at once
     */
    public Converter drive(Regulator regulator, ErrorAmplifier amplifier) {
        return regulated(regulator, amplifier);
    }

    /** Beside the faults of parts, with which no circuit can be built, those that the drive has by itself are told. */
    private Converter driven(UnaryOperator<Blueprint> drive, List<String> faultsOfDrive) {
        List<String> faults = parts.faults(topology);
        if (!faults.isEmpty()) {
            faults.addAll(faultsOfDrive);
            throw new InvalidStageException(topology + " stage", faults);
        }
        return new Converter(drive.apply(Blueprint.of(topology, parts)).checked());
    }

    private Converter regulated(Regulator regulator, @Nullable ErrorAmplifier amplifier) {
        boolean needsDiode =
                parts.rectifier().synchronous() && parts.rectifier().bodyDiode() == null;
        return driven(
                built -> built.regulatedBy(regulator, amplifier),
                DriveFaults.ofRegulator(regulator, amplifier, needsDiode));
    }

    @Override
    public String toString() {
        return topology + " stage"
                + given(parts.input().voltage(), Unit.VOLT)
                + given(parts.inductor().value(), Unit.HENRY)
                + given(parts.outputCapacitor().value(), Unit.FARAD)
                + (parts.load() == null ? "" : ", load " + parts.load());
    }

    private static String given(double value, Unit unit) {
        return Double.isNaN(value) ? "" : ", " + Quantity.format(value, unit);
    }
}
