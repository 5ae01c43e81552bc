package org.voltsecond.examples.report;

import java.util.List;
import java.util.stream.IntStream;
import org.voltsecond.analysis.EnergyAudit;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.converter.Topology;
import org.voltsecond.waveform.Waveform;

/**
 * A transient, with what several reports need of it worked out once.
 *
 * @param run the run
 * @param outputVoltage its output voltage
 * @param inductorCurrent its inductor current
 * @param audit where its energy went
 * @param changes figures of each change
 */
public record TransientOutcome(
        ConverterTransient run,
        Waveform outputVoltage,
        Waveform inductorCurrent,
        EnergyAudit audit,
        List<ChangeFigures> changes) {
    /**
     * Copies the list.
     *
     * @param run the run
     * @param outputVoltage its output voltage
     * @param inductorCurrent its inductor current
     * @param audit where its energy went
     * @param changes figures of each change
     */
    public TransientOutcome {
        changes = List.copyOf(changes);
    }

    static TransientOutcome of(Converter converter, ConverterTransient run) {
        Waveform output = run.of(converter.outputVoltage());
        Waveform magnitude = converter.topology() == Topology.INVERTING_BUCK_BOOST ? output.times(-1) : output;
        double period = converter.driven().clockPeriod();
        List<ChangeFigures> changes = IntStream.range(0, run.changes().size())
                .mapToObj(index -> ChangeFigures.of(run, magnitude, index, period))
                .toList();
        return new TransientOutcome(run, output, run.of(converter.inductorCurrent()), run.audit(), changes);
    }
}
