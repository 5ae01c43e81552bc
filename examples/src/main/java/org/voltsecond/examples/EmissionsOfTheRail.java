package org.voltsecond.examples;

import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;
import static org.voltsecond.units.Si.nano;

import java.io.IOException;
import java.nio.file.Path;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.emission.EmissionEstimate;
import org.voltsecond.emission.EmissionLimits;
import org.voltsecond.emission.Emissions;
import org.voltsecond.plot.parts.EmissionPicture;
import org.voltsecond.sizing.FilterProposal;
import org.voltsecond.stage.InputCapacitor;
import org.voltsecond.stage.Load;

/** Example: what does the 5 V rail send back into the buoy's battery lead, and which filter keeps it quiet? */
public final class EmissionsOfTheRail {
    private EmissionsOfTheRail() {}

    /**
     * Prints the worst harmonic without and with the filter that is proposed; draws both spectra if asked to.
     *
     * @param arguments a file for the picture (PNG), or none
     * @throws IOException if the picture cannot be written
     */
    public static void main(String[] arguments) throws IOException {
        Converter rail = PowerStage.buck()
                .input(12)
                .with(new InputCapacitor(micro(10), milli(5)))
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.45, kilo(300)));
        Emissions bare = EmissionEstimate.of(rail)
                .network(micro(5)) // H, beside 50 ohm in each line
                .limits(EmissionLimits.CLASS_B)
                .edges(nano(15), nano(20)) // s, transistor closing and opening
                .measure();
        FilterProposal filter = FilterProposal.of(bare).get();
        System.out.println("bare     " + bare.worst().get().verdict());
        System.out.println("filter   " + filter);
        System.out.println("with it  " + filter.emissions().worst().get().verdict());
        if (arguments.length > 0) {
            EmissionPicture.of("5 V rail", "12 V in, 2 A", bare, filter.emissions())
                    .writePng(Path.of(arguments[0]));
        }
    }
}
