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
 * What the devices carry and block on both sides of an instant at which the transistor changes.
 *
 * @param turnsOn true if the transistor closes, false if it opens
 * @param voltageBefore across the transistor, V
 * @param voltageAfter across the transistor, V
 * @param currentBefore of the transistor, A
 * @param currentAfter of the transistor, A
 * @param rectifierCurrentBefore of the rectifier, A
 * @param rectifierCurrentAfter of the rectifier, A
 */
record SwitchingInstant(
        boolean turnsOn,
        double voltageBefore,
        double voltageAfter,
        double currentBefore,
        double currentAfter,
        double rectifierCurrentBefore,
        double rectifierCurrentAfter) {
    private static final double ROUNDING = 1e-12;

    /** Every instant of one period. A transistor that never changes has none. */
    static List<SwitchingInstant> of(ConverterSteadyState steady) {
        // The end of a period is the start of the next: in two periods every instant lies within.
        Waveform gate = steady.gate().repeated(2);
        double end = gate.startTime() + steady.period() * (1 + ROUNDING);
        Converter converter = steady.converter();
        Waveform voltage = twice(steady, converter.transistorVoltage());
        Waveform current = twice(steady, converter.transistorCurrent());
        Waveform rectifier = twice(steady, converter.rectifierCurrent());
        List<SwitchingInstant> instants = new ArrayList<>();
        for (Edge edge : gate.edges()) {
            if (edge.time() <= end) {
                instants.add(at(edge, voltage, current, rectifier));
            }
        }
        return instants;
    }

    private static SwitchingInstant at(Edge edge, Waveform voltage, Waveform current, Waveform rectifier) {
        double time = edge.time();
        return new SwitchingInstant(
                edge.height() > 0,
                voltage.at(time, Side.BEFORE),
                voltage.at(time, Side.AFTER),
                current.at(time, Side.BEFORE),
                current.at(time, Side.AFTER),
                rectifier.at(time, Side.BEFORE),
                rectifier.at(time, Side.AFTER));
    }

    private static Waveform twice(ConverterSteadyState steady, Signal signal) {
        return steady.of(signal).repeated(2);
    }
}
