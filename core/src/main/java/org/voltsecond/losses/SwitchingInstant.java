package org.voltsecond.losses;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.waveform.Edge;
import org.voltsecond.waveform.Side;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;

/**
 * What a switch carries and blocks on both sides of an instant at which it changes. Immutable.
 *
 * <pre>{@code
 * List<SwitchingInstant> instants = SwitchingInstant.of(steady, "Q1", List.of());
 * int number = instants.size(); // 2
 * }</pre>
 *
 * @param turnsOn true if the switch closes, false if it opens
 * @param voltageBefore across the switch, V; positive as it blocks
 * @param voltageAfter across the switch, V
 * @param currentBefore of the switch with its body diode, A
 * @param currentAfter of the switch with its body diode, A
 * @param others what other devices carry, in the order in which they were asked for
 */
public record SwitchingInstant(
        boolean turnsOn,
        double voltageBefore,
        double voltageAfter,
        double currentBefore,
        double currentAfter,
        List<Carried> others) {
    /**
     * Copies the list.
     *
     * @param turnsOn true if the switch closes, false if it opens
     * @param voltageBefore across the switch, V; positive as it blocks
     * @param voltageAfter across the switch, V
     * @param currentBefore of the switch with its body diode, A
     * @param currentAfter of the switch with its body diode, A
     * @param others what other devices carry, in the order in which they were asked for
     */
    public SwitchingInstant {
        others = List.copyOf(others);
    }

    private static final double ROUNDING = 1e-12;

    /**
     * What a device carries, A.
     *
     * @param before just before the instant
     * @param after just after it
     */
    public record Carried(double before, double after) {}

    /**
     * Returns every instant of one period.
     *
     * @param steady the steady state
     * @param switchName reference designator of the switch
     * @param others those of the devices whose currents are asked for as well
     * @return in order of time; none of a switch that never changes
     */
    public static List<SwitchingInstant> of(ConverterSteadyState steady, String switchName, List<String> others) {
        // The end of a period is the start of the next: in two periods every instant lies within.
        Waveform gate = steady.gate(switchName).repeated(2);
        double end = gate.startTime() + steady.period() * (1 + ROUNDING);
        Converter converter = steady.converter();
        Waveform voltage = twice(steady, converter.driven().voltageAcross(switchName));
        Waveform current = twice(steady, converter.withBodyDiode(switchName));
        List<Waveform> carried = others.stream()
                .map(name -> twice(steady, converter.withBodyDiode(name)))
                .toList();
        // a custom circuit may have the switch the other way round
        double sign = voltage.maximum() >= -voltage.minimum() ? 1 : -1;
        List<SwitchingInstant> instants = new ArrayList<>();
        for (Edge edge : gate.edges()) {
            if (edge.time() <= end) {
                instants.add(at(edge, sign, voltage, current, carried));
            }
        }
        return instants;
    }

    private static SwitchingInstant at(
            Edge edge, double sign, Waveform voltage, Waveform current, List<Waveform> carried) {
        double time = edge.time();
        return new SwitchingInstant(
                edge.height() > 0,
                sign * voltage.at(time, Side.BEFORE),
                sign * voltage.at(time, Side.AFTER),
                sign * current.at(time, Side.BEFORE),
                sign * current.at(time, Side.AFTER),
                carried.stream()
                        .map(each -> new Carried(each.at(time, Side.BEFORE), each.at(time, Side.AFTER)))
                        .toList());
    }

    private static Waveform twice(ConverterSteadyState steady, Signal signal) {
        return steady.of(signal).repeated(2);
    }
}
