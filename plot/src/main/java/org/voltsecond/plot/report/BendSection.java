package org.voltsecond.plot.report;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.figures.BentPart;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.page.Page;
import org.voltsecond.plot.page.PageTable;
import org.voltsecond.plot.parts.BendPictures;
import org.voltsecond.units.Unit;

/** The section of the report on inductors that saturate and capacitors that fade; none where nothing bends. */
final class BendSection {
    private BendSection() {}

    static void addTo(Page page, Findings outcome, Map<String, Picture> pictures) {
        if (!outcome.steadyState().exists()) {
            return;
        }
        ConverterSteadyState steady = outcome.steadyState().get();
        List<BentPart> parts = BentPart.of(steady.converter(), steady);
        if (parts.isEmpty()) {
            return;
        }
        page.heading("Saturation and DC bias").paragraph(sentence(parts)).table(table(parts));
        pictures.values().forEach(picture -> page.picture(picture, "Saturation and DC bias"));
    }

    /** By the names of their files. */
    static Map<String, Picture> pictures(Findings outcome) {
        Map<String, Picture> pictures = new LinkedHashMap<>();
        outcome.steadyState().ifExists(steady -> {
            List<BentPart> parts = BentPart.of(steady.converter(), steady);
            for (BentPart part : parts) {
                pictures.put("bend-" + part.name(), BendPictures.value(title(part), part));
            }
            if (!parts.isEmpty()) {
                straight(steady).ifPresent(picture -> pictures.put("bent-and-straight", picture));
            }
        });
        return pictures;
    }

    /** Where nothing saturates there may be no steady state to compare with. */
    private static Optional<Picture> straight(ConverterSteadyState steady) {
        try {
            return Optional.of(BendPictures.compared("With and without saturation and DC bias", steady));
        } catch (NoSteadyStateException | SwitchingException e) {
            return Optional.empty();
        }
    }

    private static String title(BentPart part) {
        return (part.isInductor() ? "Inductance of " : "Capacitance of ") + part.name();
    }

    private static String sentence(List<BentPart> parts) {
        boolean saturated = parts.stream().anyMatch(BentPart::isSaturated);
        return saturated
                ? "An inductor saturates: less than " + ReportTables.percent(BentPart.SATURATED)
                        + " of its inductance is left at its peak."
                : "No inductor saturates: at least " + ReportTables.percent(BentPart.SATURATED)
                        + " of each inductance is left at its peak.";
    }

    private static PageTable table(List<BentPart> parts) {
        PageTable table = PageTable.headed("part", "at rest", "at the peak", "left", "peak", "first bend");
        for (BentPart part : parts) {
            Unit unit = part.unit();
            table.row(
                    part.name(),
                    ReportTables.format(part.value(), unit),
                    ReportTables.format(part.valueAt(part.peak()), unit),
                    ReportTables.percent(part.left()),
                    ReportTables.format(part.peak(), part.unitOfPeak()),
                    ReportTables.format(part.bends().get(0).above(), part.unitOfPeak()));
        }
        return table;
    }
}
