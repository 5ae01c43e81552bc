package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.losses.CoreLoss;
import org.voltsecond.losses.EfficiencyCurve;
import org.voltsecond.losses.GateChargeLoss;
import org.voltsecond.losses.LossBudget;
import org.voltsecond.losses.LossEntry;
import org.voltsecond.losses.LossModel;
import org.voltsecond.losses.OutputCapacitanceLoss;
import org.voltsecond.losses.OverlapLoss;
import org.voltsecond.losses.SteinmetzMaterial;
import org.voltsecond.plot.LossPictures;
import org.voltsecond.stage.Load;

/** Example: what does each part of the buoy's logic rail lose, and how efficient is it from full load to sleep? */
public final class WhereTheWattsGo {
    /** Values of the kind that data sheets give; the rectifier is a Schottky diode, which has no recovery. */
    private static final List<LossModel> MODELS = List.of(
            new OverlapLoss(15e-9, 20e-9),
            new OutputCapacitanceLoss(250e-12),
            new GateChargeLoss(9e-9, 5),
            new CoreLoss(new SteinmetzMaterial(0.25, 1.6, 2.5), 12e-6, 0.4e-6, 12));

    private WhereTheWattsGo() {}

    /**
     * Prints the losses at full load and the efficiency over load, and draws both.
     *
     * @param arguments a folder for efficiency.png and losses.png; none for the tables alone
     * @throws IOException if a picture cannot be written
     */
    public static void main(String[] arguments) throws IOException {
        Converter rail = PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.45, kilo(300)));
        EfficiencyCurve curve = EfficiencyCurve.of(rail, 5, MODELS, EfficiencyCurve.loads(milli(5), 2, 27));
        LossBudget full = curve.points().get(curve.points().size() - 1).budget();
        for (LossEntry entry : full.entries()) {
            String part = entry.part();
            System.out.printf(Locale.ROOT, "%-17s %-18s %7.1f mW%n", part, entry.cause(), 1e3 * entry.power());
        }
        for (int k = 0; k < curve.points().size(); k += 13) {
            EfficiencyCurve.Point point = curve.points().get(k);
            double percent = 100 * point.budget().efficiency();
            System.out.printf(Locale.ROOT, "at %6.1f mA        %-13s", 1e3 * point.loadCurrent(), point.conduction());
            System.out.printf(Locale.ROOT, "      %5.2f %%%n", percent);
        }
        double linear = 100 * curve.linearLimit().orElseThrow();
        System.out.printf(Locale.ROOT, "a linear regulator at best           %5.2f %%%n", linear);
        if (arguments.length > 0) {
            Path folder = Files.createDirectories(Path.of(arguments[0]));
            LossPictures.efficiency("logic rail: efficiency over load", curve)
                    .writePng(folder.resolve("efficiency.png"));
            LossPictures.losses("logic rail: losses at 2 A", full).writePng(folder.resolve("losses.png"));
        }
    }
}
