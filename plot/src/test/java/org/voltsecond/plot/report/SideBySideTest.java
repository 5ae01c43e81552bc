package org.voltsecond.plot.report;

import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.engine.Watch;
import org.voltsecond.plot.report.OutputFolder.SideBySide;
import org.voltsecond.stage.Load;

/** Pieces of work at the same time behave as if they were done here. */
class SideBySideTest {
    private static final Converter RAIL = PowerStage.buck()
            .input(12)
            .inductor(micro(22), milli(30))
            .outputCapacitor(micro(47), milli(5))
            .load(Load.resistor(2.5))
            .drive(Drive.fixedDuty(0.45, kilo(300)));

    /** A report that was cancelled, or whose time was up, went on for as long as its longest piece of work took. */
    @Test
    void aWatchEndsWhatIsDoneOnOtherThreads() {
        List<SideBySide.Task> runs = List.of(
                () -> RAIL.startUp(0.1).finalTime(), () -> RAIL.startUp(0.2).finalTime());

        assertThatThrownBy(() -> Watch.of().until(() -> true).over(() -> done(runs)))
                .isInstanceOf(Watch.Stopped.class)
                .hasMessageContaining("cancelled");
    }

    @Test
    void aFaultOfWritingIsToldAsItIs() {
        IOException full = new IOException("no space left");

        assertThatThrownBy(() -> SideBySide.run(List.of(() -> {
                    throw full;
                })))
                .isSameAs(full);
    }

    private static int done(List<SideBySide.Task> tasks) {
        try {
            SideBySide.run(tasks);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return tasks.size();
    }
}
