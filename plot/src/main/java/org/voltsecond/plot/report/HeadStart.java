package org.voltsecond.plot.report;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.io.IOException;
import java.io.StringWriter;
import java.nio.file.Path;
import java.util.Map;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Load;
import org.voltsecond.converter.Topology;
import org.voltsecond.design.Design;
import org.voltsecond.design.Design.LineInput;
import org.voltsecond.design.Design.RectifierPart;
import org.voltsecond.design.Design.SeriesPart;
import org.voltsecond.design.Design.TransistorPart;
import org.voltsecond.design.DrivePlan.FixedDuty;
import org.voltsecond.design.StudyPlans;
import org.voltsecond.design.TransientPlan;

/**
 * Half of the time of a short run is spent on loading classes. This works out a design of no interest on a second
 * processor while the first reads the design file, so that the classes are there when they are needed.
 */
public final class HeadStart {
    private HeadStart() {}

    /**
     * Begins, and returns at once. Nothing depends on the outcome; the thread does not keep the Java machine alive.
     *
     * @param pictures whether pictures will be drawn
     */
    public static void begin(boolean pictures) {
        if (Runtime.getRuntime().availableProcessors() > 1) {
            Thread thread = new Thread(() -> run(pictures), "head start");
            thread.setDaemon(true);
            thread.start();
        }
    }

    private static void run(boolean pictures) {
        try {
            Findings outcome = Findings.of(design());
            FiguresJson.write(outcome, new StringWriter());
            SummaryTable.of(outcome);
            if (pictures) {
                PictureFiles.tasks(outcome, Path.of(""));
            }
        } catch (IOException | RuntimeException e) {
            // Whatever it is, the real run meets it as well and tells the user.
            return;
        }
    }

    private static Design design() {
        Change change = Change.at(micro(50)).load(Load.resistor(20));
        return new Design(
                "head start",
                Topology.BUCK,
                LineInput.of(12),
                new SeriesPart(micro(22), milli(30)),
                new SeriesPart(micro(47), milli(5)),
                new TransistorPart(milli(80), null),
                RectifierPart.diode(0.4, milli(20)),
                Load.resistor(2.5),
                new FixedDuty(0.45, kilo(300)),
                new TransientPlan(micro(100), false, java.util.List.of(change)),
                null,
                Map.of(),
                null,
                StudyPlans.NONE);
    }
}
