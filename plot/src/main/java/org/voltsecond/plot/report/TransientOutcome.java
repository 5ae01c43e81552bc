package org.voltsecond.plot.report;

import java.util.List;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.EnergyAudit;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.waveform.Waveform;

/**
 * A transient, with what several reports need of it worked out once.
 *
 * @param run the run
 * @param outputVoltage its output voltage
 * @param inductorCurrent its inductor current
 * @param audit where its energy went
 * @param start figures of the start from rest; null if it is none, or the converter is not regulated
 * @param changes figures of each change
 */
public record TransientOutcome(
        ConverterTransient run,
        Waveform outputVoltage,
        Waveform inductorCurrent,
        EnergyAudit audit,
        @Nullable StartFigures start,
        List<ChangeFigures> changes) {
    /**
     * Copies the list.
     *
     * @param run the run
     * @param outputVoltage its output voltage
     * @param inductorCurrent its inductor current
     * @param audit where its energy went
     * @param start figures of the start from rest; null if it is none, or the converter is not regulated
     * @param changes figures of each change
     */
    public TransientOutcome {
        changes = List.copyOf(changes);
    }

    static TransientOutcome of(Converter converter, ConverterTransient run, boolean fromRest) {
        Waveform output = run.of(converter.outputVoltage());
        Waveform magnitude = magnitude(converter, output);
        Waveform current = run.of(converter.inductorCurrent());
        Cycles cycles = Cycles.of(converter, run);
        List<ChangeFigures> changes = IntStream.range(0, run.changes().size())
                .mapToObj(index -> ChangeFigures.of(run, cycles, magnitude, current, index))
                .toList();
        boolean starts = fromRest && converter.isRegulated() && ChangeFigures.endOf(run, -1) > 0;
        StartFigures start = starts ? StartFigures.of(converter, run, magnitude, current) : null;
        return new TransientOutcome(run, output, current, run.audit(), start, changes);
    }

    static Waveform magnitude(Converter converter, Waveform output) {
        return converter.roles().isInverting() ? output.times(-1).named("magnitude of the " + output.name()) : output;
    }
}
