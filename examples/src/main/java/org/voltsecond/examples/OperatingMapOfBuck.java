package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.figures.Figures;
import org.voltsecond.plot.MapPictures;
import org.voltsecond.stage.Load;
import org.voltsecond.study.Axis;
import org.voltsecond.study.Execution;
import org.voltsecond.study.MapLine;
import org.voltsecond.study.OperatingMap;

/** Example: from a flat to a full battery and from sleep to full load, where does the logic rail conduct continuously? */
public final class OperatingMapOfBuck {
    private OperatingMapOfBuck() {}

    /**
     * Prints the boundary of conduction at 5 V out, and draws figures over line and load.
     *
     * @param arguments a folder for the pictures; none for the table alone
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
        OperatingMap map = OperatingMap.holding(
                rail,
                5, // V
                Axis.loadCurrent(milli(5), 2, 100),
                Axis.inputVoltage(9, 15, 61),
                Figures.usual(),
                Execution.standard());
        for (MapLine.Spot spot : map.boundary().get(0).spots()) {
            if (spot.up() == Math.rint(spot.up())) {
                double load = 1e3 * spot.across();
                System.out.printf(Locale.ROOT, "at %4.1f V in, continuous above %.2f mA%n", spot.up(), load);
            }
        }
        if (arguments.length > 0) {
            Path folder = Files.createDirectories(Path.of(arguments[0]));
            MapPictures.conduction("Logic rail at 5 V: mode of conduction", map)
                    .writePng(folder.resolve("conduction.png"));
            for (int k = 1; k < map.figures().size(); k++) {
                MapPictures.contours("Logic rail at 5 V out", map, k)
                        .writePng(folder.resolve(map.figures().get(k).words().replace(' ', '-') + ".png"));
            }
        }
    }
}
