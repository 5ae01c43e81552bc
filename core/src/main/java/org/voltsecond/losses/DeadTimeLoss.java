package org.voltsecond.losses;

import java.util.List;
import java.util.Map;
import org.voltsecond.circuit.PartValue;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;

/**
 * While neither transistor of a synchronous stage is closed, a body diode carries the inductor current instead of the
 * channel. The loss is what the diode drops more than the channel would, at the exact currents with which each synchronous
 * rectifier opens and closes.
 *
 * <p>For stages whose regulator has no dead time of its own: where it has one, the body diode's conduction is already in
 * the exact conduction losses.
 *
 * <p>Source: usual practice (P = V_F I (t_1 + t_2) f); from memory.
 *
 * <pre>{@code
 * Converter synchronous = rail.withSynchronousRectifier(milli(20));
 * double power = new DeadTimeLoss(nano(30), nano(30), 0.8, 0.02).power(synchronous.steadyState()); // 30.17 mW
 * }</pre>
 *
 * @param beforeTurnOn dead time before the transistor closes, s; 0 or more
 * @param afterTurnOff dead time after it opens, s; 0 or more
 * @param forwardDrop of the body diode, V; 0 or more
 * @param resistance slope resistance of the body diode, Ω; 0 or more
 * @param switches reference designators of the synchronous rectifiers that it is of; empty for all
 */
public record DeadTimeLoss(
        double beforeTurnOn, double afterTurnOff, double forwardDrop, double resistance, List<String> switches)
        implements LossModel {
    /**
     * Creates the model of all synchronous rectifiers.
     *
     * @param beforeTurnOn dead time before the transistor closes, s; 0 or more
     * @param afterTurnOff dead time after it opens, s; 0 or more
     * @param forwardDrop of the body diode, V; 0 or more
     * @param resistance slope resistance of the body diode, Ω; 0 or more
     * @throws IllegalArgumentException if a value is negative or not finite
     */
    public DeadTimeLoss(double beforeTurnOn, double afterTurnOff, double forwardDrop, double resistance) {
        this(beforeTurnOn, afterTurnOff, forwardDrop, resistance, List.of());
    }

    /**
     * Creates the model.
     *
     * @param beforeTurnOn dead time before the transistor closes, s; 0 or more
     * @param afterTurnOff dead time after it opens, s; 0 or more
     * @param forwardDrop of the body diode, V; 0 or more
     * @param resistance slope resistance of the body diode, Ω; 0 or more
     * @param switches reference designators of synchronous rectifiers; empty for all
     * @throws IllegalArgumentException if a value is negative or not finite
     */
    public DeadTimeLoss {
        switches = List.copyOf(switches);
        LossChecks.notNegative("dead-time loss", "dead time before turn-on", beforeTurnOn, "s");
        LossChecks.notNegative("dead-time loss", "dead time after turn-off", afterTurnOff, "s");
        LossChecks.notNegative("dead-time loss", "forward drop", forwardDrop, "V");
        LossChecks.notNegative("dead-time loss", "resistance", resistance, "Ω");
    }

    @Override
    public String cause() {
        return "dead time";
    }

    /**
     * Works out the loss.
     *
     * @param steady a periodic steady state
     * @return the mean powers over a period, W; 0 or more
     * @throws IllegalArgumentException if a diode rectifies, or the regulator has a dead time already
     */
    @Override
    public Map<String, Double> powers(ConverterSteadyState steady) {
        Converter converter = steady.converter();
        if (!converter.isSynchronous()) {
            throw new IllegalArgumentException(
                    "dead-time loss: " + converter
                            + " has a diode as rectifier, and no dead time; leave the model out or take synchronousRectifier(...)");
        }
        if (converter.isRegulated()
                && converter.regulator().protection().synchronous().deadTime() > 0) {
            throw new IllegalArgumentException("dead-time loss: the regulator of " + converter
                    + " has a dead time, whose loss is in the conduction losses already; leave the model out");
        }
        LossChecks.requireSwitches(switches, steady);
        List<String> of = switches.isEmpty() ? converter.roles().synchronous() : switches;
        return LossModel.each(of, name -> power(name, steady));
    }

    private double power(String name, ConverterSteadyState steady) {
        double channel = PartValue.of(steady.converter().circuit(), name + ".on_resistance")
                .value();
        double energy = 0;
        for (SwitchingInstant instant : SwitchingInstant.of(steady, name, List.of())) {
            energy += instant.turnsOn()
                    ? more(instant.currentAfter(), channel) * afterTurnOff
                    : more(instant.currentBefore(), channel) * beforeTurnOn;
        }
        return energy / steady.period();
    }

    /** A current that flows backwards takes the body diode of the other transistor, which drops as much. */
    private double more(double signedCurrent, double channel) {
        double current = Math.abs(signedCurrent);
        return Math.max(0, current * (forwardDrop + (resistance - channel) * current));
    }
}
