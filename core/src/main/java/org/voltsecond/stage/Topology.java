package org.voltsecond.stage;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.ServiceLoader;
import java.util.Set;
import java.util.function.DoubleUnaryOperator;
import java.util.stream.Collectors;

/**
 * A stage that can be built from values alone: how its parts are wired, and its ideal ratios and sizing rules, which are in
 * closed form for ideal parts and a small output ripple. The stages of this library are written with nothing but this
 * interface and {@link StageWiring}; one written elsewhere gets the same, and design files know it by its name where
 * {@link ServiceLoader} finds it. Ratios and rules that a stage does not state are not a number; then searches begin without
 * them.
 *
 * <p>Voltages and currents are magnitudes unless a method says otherwise.
 *
 * <pre>{@code
 * for (Topology topology : Topology.READY) { // the output voltages from 12 V at a duty cycle of 0.4
 *     System.out.println(topology + ": " + 12 * topology.continuousRatio(0.4) + " V"); // 4.8, 20, -8
 * }
 * }</pre>
 */
// Nothing but this interface makes the stages, so that no thread meets one of them before it.
@SuppressWarnings("ClassInitializationDeadlock")
public interface Topology {
    /** Steps down. */
    Topology BUCK = new Buck();
    /** Steps up. */
    Topology BOOST = new Boost();
    /** Inverts: its output voltage is negative. */
    Topology INVERTING_BUCK_BOOST = new InvertingBuckBoost();
    /** Steps up or down, by two inductors and a coupling capacitor. */
    Topology SEPIC = new Sepic();
    /** Inverts and steps up or down, by two inductors and a coupling capacitor. */
    Topology CUK = new Cuk();
    /** Steps up or down, by two inductors and a coupling capacitor, the second inductor at the output. */
    Topology ZETA = new Zeta();
    /** Steps up or down, by one inductor between two legs. */
    Topology FOUR_SWITCH_BUCK_BOOST = new FourSwitch();
    /** Isolates; steps up or down by the energy of the transformer's core. */
    Topology FLYBACK = new Flyback(Double.NaN);
    /** Isolates; a third winding resets the core. */
    Topology FORWARD = new Forward(Double.NaN, Double.NaN);
    /** Isolates; two rectifiers reset the core. */
    Topology TWO_SWITCH_FORWARD = new TwoSwitchForward(Double.NaN);
    /** Isolates; two transistors at ground take turns. */
    Topology PUSH_PULL = new PushPull(Double.NaN);
    /** Isolates; two transistors take turns at half the input. */
    Topology HALF_BRIDGE = new HalfBridge(Double.NaN);
    /** Isolates; two pairs of transistors take turns. */
    Topology FULL_BRIDGE = new FullBridge(Double.NaN);

    /** The stages of this library. */
    List<Topology> READY = List.of(
            BUCK,
            BOOST,
            INVERTING_BUCK_BOOST,
            SEPIC,
            CUK,
            ZETA,
            FOUR_SWITCH_BUCK_BOOST,
            FLYBACK,
            FORWARD,
            TWO_SWITCH_FORWARD,
            PUSH_PULL,
            HALF_BRIDGE,
            FULL_BRIDGE);

    /**
     * Lists the stages that can be had by name.
     *
     * @return those of this library, then those that service providers add
     */
    static List<Topology> all() {
        List<Topology> all = new ArrayList<>(READY);
        ServiceLoader.load(Topology.class).forEach(all::add);
        return List.copyOf(all);
    }

    /**
     * Finds a stage by its name.
     *
     * @param name as {@link #key()} gives it; capital letters, blanks and underscores do not matter
     * @return the stage, of this library or one that a service provider adds
     * @throws IllegalArgumentException if there is none of that name; the message lists those that there are
     */
    static Topology of(String name) {
        List<Topology> all = all();
        String key = name.toLowerCase(Locale.ROOT).replace(' ', '-').replace('_', '-');
        return all.stream()
                .filter(stage -> stage.key().equals(key))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("there is no stage '" + name + "'; stages are "
                        + all.stream().map(Topology::key).collect(Collectors.joining(", "))));
    }

    /** {@return the name as the trade writes it, such as "inverting buck-boost"} */
    @Override
    String toString();

    /** {@return the name as a design file writes it, such as "inverting-buck-boost"} */
    default String key() {
        return toString().toLowerCase(Locale.ROOT).replace(' ', '-');
    }

    /**
     * Wires the stage and tells the roles of its parts.
     *
     * @param wiring what the parts are added to
     */
    void wire(StageWiring wiring);

    /** {@return the kinds of parts that must be given beside the usual ones} */
    default Set<Class<? extends StagePart>> needs() {
        return Set.of();
    }

    /** {@return the kinds of parts that may be given, beside those of the supply's side and a snubber, which every stage takes} */
    default Set<Class<? extends StagePart>> options() {
        return Set.of();
    }

    /**
     * Tells whether a part has a place in this stage.
     *
     * @param kind of a part
     * @return true where the stage needs it or it may be given
     */
    default boolean takes(Class<? extends StagePart> kind) {
        return StageParts.EVERYWHERE.contains(kind)
                || needs().contains(kind)
                || options().contains(kind);
    }

    /** {@return whether there is an inductor beside those in {@link #needs()}; false where a transformer stores the energy} */
    default boolean hasInductor() {
        return true;
    }

    /** {@return whether a transformer keeps the output apart from the input} */
    default boolean isIsolated() {
        return false;
    }

    /** {@return the longest duty cycle that the stage bears; of a forward stage what leaves time to reset the core} */
    default double longestDutyCycle() {
        return 1;
    }

    /**
     * Tells what is wrong with values that are good each by itself.
     *
     * @param parts the values
     * @return one line for each fault
     */
    default List<String> faults(StageParts parts) {
        return List.of();
    }

    /**
     * Returns this stage with the values on which its ratios and rules depend, such as the turns of a transformer.
     *
     * @param parts values that were checked
     * @return a stage of the same name
     */
    default Topology with(StageParts parts) {
        return this;
    }

    /** {@return whether the output voltage is negative} */
    default boolean isInverting() {
        return false;
    }

    /**
     * Returns the ratio in continuous conduction.
     *
     * @param dutyCycle D, from 0 to 1
     * @return output voltage over input voltage, negative of an inverting stage
     */
    default double continuousRatio(double dutyCycle) {
        return Double.NaN;
    }

    /**
     * Returns the ratio in discontinuous conduction.
     *
     * @param dutyCycle D, from 0 to 1
     * @param k the parameter K = 2 L / (R T), more than 0
     * @return output voltage over input voltage, negative of an inverting stage
     */
    default double discontinuousRatio(double dutyCycle, double k) {
        return Double.NaN;
    }

    /**
     * Returns the value that K must exceed for continuous conduction.
     *
     * @param dutyCycle D, from 0 to 1
     * @return the critical value of K = 2 L / (R T)
     */
    default double criticalK(double dutyCycle) {
        return Double.NaN;
    }

    /**
     * Returns the duty cycle from volt-second balance, with constant drops.
     *
     * @param input V_i, V
     * @param output V_o, V
     * @param transistorDrop V_S, V
     * @param rectifierDrop V_F, V
     * @return the duty cycle; not from 0 to 1 if the stage cannot give that output
     */
    default double dutyCycle(double input, double output, double transistorDrop, double rectifierDrop) {
        return Double.NaN;
    }

    /**
     * Returns the square of the duty cycle in discontinuous conduction.
     *
     * @param input V
     * @param output V
     * @param rectifierDrop V
     * @param twiceFlux 2 L f I_o, V
     * @return the square; not more than 0 if the stage cannot give that output
     */
    default double discontinuousDutyCycleSquared(double input, double output, double rectifierDrop, double twiceFlux) {
        return Double.NaN;
    }

    /**
     * Tells why the stage cannot give an output at all.
     *
     * @param lowestInput V
     * @param highestInput V
     * @param output V, negative for a negative one
     * @return what it can give, beginning with "it gives"; empty where it can give this
     */
    default Optional<String> obstacle(double lowestInput, double highestInput, double output) {
        return Optional.of("it has no sizing rules");
    }

    /**
     * Returns the share of the mean inductor current that reaches the output.
     *
     * @param dutyCycle D
     * @return I_o / I_L
     */
    default double outputShare(double dutyCycle) {
        return Double.NaN;
    }

    /**
     * Returns the voltage that drives the inductor in the on interval.
     *
     * @param input what is left of the input voltage after the transistor, V
     * @param output V
     * @return the voltage, V
     */
    default double onVoltage(double input, double output) {
        return Double.NaN;
    }

    /** {@return whether the input charges the output through inductor and rectifier, whatever the transistor does} */
    default boolean feedsThrough() {
        return false;
    }

    /**
     * Returns the input at which the ripple of the inductor current is largest beside its mean, where that is not at the lowest or
     * highest input.
     *
     * @param output V
     * @param transistorDrop V
     * @param rectifierDrop V
     * @return the input, V; empty where it is at an end of any range
     */
    default OptionalDouble inputOfMostRipple(double output, double transistorDrop, double rectifierDrop) {
        return OptionalDouble.empty();
    }

    /**
     * Returns what an open transistor has to block.
     *
     * @param input V
     * @param output V
     * @return the voltage, V
     */
    default double blockedVoltage(double input, double output) {
        return Double.NaN;
    }

    /**
     * Returns what a blocking rectifier has to bear.
     *
     * @param input V
     * @param output V
     * @return the voltage, V; without a transformer that of the transistor
     */
    default double rectifierVoltage(double input, double output) {
        return blockedVoltage(input, output);
    }

    /**
     * Returns the charge by which the output capacitor swings, times the switching frequency.
     *
     * @param loadCurrent I_o, A
     * @param dutyCycle D
     * @param inductorRipple peak to peak, A
     * @return the charge in a period over the period, A
     */
    default double capacitorSwing(double loadCurrent, double dutyCycle, double inductorRipple) {
        return Double.NaN;
    }

    /**
     * Returns the step of the output capacitor's current, which its series resistance turns into ripple.
     *
     * @param loadCurrent I_o, A
     * @param dutyCycle D
     * @param inductorRipple peak to peak, A
     * @return the step, A
     */
    default double capacitorStep(double loadCurrent, double dutyCycle, double inductorRipple) {
        return Double.NaN;
    }

    /**
     * Returns the load current below which conduction is discontinuous.
     *
     * @param dutyCycle D
     * @param inductorRipple peak to peak, A
     * @return the load current at the boundary, A
     */
    default double boundaryLoad(double dutyCycle, double inductorRipple) {
        return outputShare(dutyCycle) * inductorRipple / 2;
    }

    /**
     * What a stage does at full load and one input voltage.
     *
     * @param inputVoltage V
     * @param outputVoltage magnitude, V
     * @param loadCurrent A
     * @param dutyCycle D
     * @param frequency of the switching, Hz
     * @param inductorRipple wanted, peak to peak, as a share of the mean
     * @param inductorResistance of any inductor, Ω
     */
    record Rating(
            double inputVoltage,
            double outputVoltage,
            double loadCurrent,
            double dutyCycle,
            double frequency,
            double inductorRipple,
            double inductorResistance) {}

    /**
     * Which values can be bought.
     *
     * @param inductance the lowest preferred one that is at least a given one, H
     * @param capacitance the same, F
     */
    record Preferred(DoubleUnaryOperator inductance, DoubleUnaryOperator capacitance) {}

    /**
     * Proposes the turns of a transformer.
     *
     * @param lowestInput V
     * @param output V
     * @return small whole numbers with which the duty cycle at the lowest input leaves room; empty without a transformer
     */
    default Optional<Transformer.Turns> proposedTurns(double lowestInput, double output) {
        return Optional.empty();
    }

    /**
     * Proposes parts beyond the usual ones.
     *
     * @param ratings at both ends of the range of the input voltage, at least
     * @param preferred which values can be bought
     * @return a part of each kind that the stage {@link #needs()}
     */
    default List<StagePart> proposed(List<Rating> ratings, Preferred preferred) {
        return List.of();
    }

    /**
     * Returns the zero in the right half-plane that the response of the output to the duty cycle has in continuous conduction.
     *
     * @param dutyCycle D, more than 0 and less than 1
     * @param loadResistance R, Ω
     * @param inductance L, H
     * @return the frequency, Hz; infinite for none
     */
    default double rightHalfPlaneZero(double dutyCycle, double loadResistance, double inductance) {
        return Double.NaN;
    }
}
