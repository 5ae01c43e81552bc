package org.voltsecond.losses;

import java.util.List;
import java.util.Map;
import org.voltsecond.converter.ConverterSteadyState;

/**
 * Voltage and current of the transistor overlap while it changes: into an inductor current that a rectifier clamps, one
 * ramps up before the other ramps down, which costs half the product of blocked voltage, carried current and transition
 * time. Voltage and current are the exact ones on either side of the instant; a transistor that closes without current,
 * as in discontinuous conduction, or on a voltage that is already zero loses nothing.
 *
 * <p>Source: N. Mohan, T. Undeland, W. Robbins, Power Electronics, Wiley, ch. 2 (P = V I f (t_on + t_off) / 2); from
 * memory.
 *
 * <pre>{@code
 * double power = new OverlapLoss(nano(15), nano(20)).power(steady); // 133.4 mW
 * }</pre>
 *
 * @param turnOnTime current rise time and voltage fall time together, s; 0 or more
 * @param turnOffTime voltage rise time and current fall time together, s; 0 or more
 * @param switches reference designators of the switches that it is of; empty for all that begin the on interval
 */
public record OverlapLoss(double turnOnTime, double turnOffTime, List<String> switches) implements LossModel {
    /**
     * Creates the model of all switches that begin the on interval.
     *
     * @param turnOnTime current rise time and voltage fall time together, s; 0 or more
     * @param turnOffTime voltage rise time and current fall time together, s; 0 or more
     * @throws IllegalArgumentException if a time is negative or not finite
     */
    public OverlapLoss(double turnOnTime, double turnOffTime) {
        this(turnOnTime, turnOffTime, List.of());
    }

    /**
     * Creates the model.
     *
     * @param turnOnTime current rise time and voltage fall time together, s; 0 or more
     * @param turnOffTime voltage rise time and current fall time together, s; 0 or more
     * @param switches reference designators; empty for all that begin the on interval
     * @throws IllegalArgumentException if a time is negative or not finite
     */
    public OverlapLoss {
        switches = List.copyOf(switches);
        LossChecks.notNegative("overlap loss", "turn-on time", turnOnTime, "s");
        LossChecks.notNegative("overlap loss", "turn-off time", turnOffTime, "s");
    }

    @Override
    public String cause() {
        return "overlap";
    }

    @Override
    public Map<String, Double> powers(ConverterSteadyState steady) {
        return LossModel.each(LossChecks.switches(switches, steady), name -> power(name, steady));
    }

    private double power(String name, ConverterSteadyState steady) {
        double energy = 0;
        for (SwitchingInstant instant : SwitchingInstant.of(steady, name, List.of())) {
            energy += instant.turnsOn()
                    ? half(instant.voltageBefore(), instant.currentAfter()) * turnOnTime
                    : half(instant.voltageAfter(), instant.currentBefore()) * turnOffTime;
        }
        return energy / steady.period();
    }

    /** A voltage or current of the other sign finds the body diode conducting, which clamps the voltage. */
    private static double half(double voltage, double current) {
        return 0.5 * Math.max(0, voltage) * Math.max(0, current);
    }
}
