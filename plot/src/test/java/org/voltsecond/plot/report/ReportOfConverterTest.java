package org.voltsecond.plot.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.io.IOException;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;

/** A report needs no design file. */
class ReportOfConverterTest {
    private static final Converter RAIL = PowerStage.buck()
            .input(12)
            .inductor(micro(22), milli(30))
            .outputCapacitor(micro(47), milli(5))
            .transistor(milli(80))
            .rectifier(0.4, milli(20))
            .load(Load.resistor(2.5))
            .drive(Drive.fixedDuty(0.45, kilo(300)));

    @TempDir
    Path folder;

    @Test
    void aConverterHasAReportInOneLine() throws IOException {
        Report.of(RAIL).writeTo(folder.resolve("report"));
        assertThat(folder.resolve("report/report.html")).isNotEmptyFile();
        assertThat(folder.resolve("report/steady-state.svg")).isNotEmptyFile();
        assertThat(folder.resolve("report/waveforms.csv")).isNotEmptyFile();
        assertThat(folder.resolve("report/figures.json"))
                .hasContent(Report.of(RAIL).figuresJson());
        assertThat(folder.resolve("report/design.toml")).doesNotExist();
    }

    @Test
    void aRunMayBeAdded() {
        Findings found = Findings.of(RAIL)
                .with(RAIL.startUp(milli(2), Change.at(milli(1)).input(15)));
        String json = Report.of(found).figuresJson();
        assertThat(json).contains("\"level_after\"", "\"start\"");
        assertThat(Report.of(found).html()).contains("buck, 12.00 V in, load 2.5 Ω, 300.0 kHz", "input 15 V");
        assertThat(SummaryTable.of(found).get(0)).isEqualTo("buck: buck, input 12.00 V, load 2.5 Ω");
    }
}
