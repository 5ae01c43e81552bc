package org.voltsecond.plot.parts;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.characteristic.Bend;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.figures.BentPart;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.units.Quantity;

/**
 * Pictures of parts that bend: inductors and cores that saturate, capacitors that fade under bias.
 *
 * <pre>{@code
 * Converter bent = stage.saturation(new Bend(2.2, micro(12))).load(Load.resistor(2.5)).input(12)
 *         .drive(Drive.fixedDuty(0.45, kilo(300)));
 * BentPart inductor = BentPart.of(bent, bent.steadyState()).get(0);
 * BendPictures.value("Inductance of the logic rail", inductor).writePng(folder.resolve("inductance.png"));
 * BendPictures.compared("With and without saturation", bent.steadyState()).writePng(folder.resolve("saturation.png"));
 * }</pre>
 */
public final class BendPictures {
    private static final int DIGITS = 3;

    /** How far the axis goes beyond the last bend and the peak: a choice. */
    private static final double BEYOND = 1.2;

    private BendPictures() {}

    /**
     * Draws the incremental inductance over the current, or the capacitance over the voltage, with the range that the waveform
     * goes through.
     *
     * @param title in bold at the top
     * @param part how far it is driven
     * @return the picture
     */
    public static Picture value(String title, BentPart part) {
        double last = part.bends().get(part.bends().size() - 1).above();
        double end = BEYOND * Math.max(last, part.peak());
        double[][] all = steps(part, 0, end);
        double[][] met = steps(part, part.lowest(), Math.max(part.peak(), part.lowest() + 1e-9 * end));
        return Pictures.lines(title)
                .subtitle(part.name() + ": " + Quantity.format(part.valueAt(part.peak()), part.unit(), DIGITS) + " of "
                        + Quantity.format(part.value(), part.unit(), DIGITS) + " left at the peak of "
                        + Quantity.format(part.peak(), part.unitOfPeak(), DIGITS))
                .x(part.isInductor() ? "Magnitude of the current" : "Magnitude of the voltage", part.unitOfPeak())
                .y(part.isInductor() ? "Incremental inductance" : "Incremental capacitance", part.unit())
                .yRange(0, BEYOND * greatest(part))
                .line(part.isInductor() ? "inductance" : "capacitance", all[0], all[1])
                .line("what the waveform goes through", met[0], met[1])
                .build();
    }

    /** The corners of the staircase between two magnitudes. */
    private static double[][] steps(BentPart part, double from, double to) {
        List<Double> xs = new ArrayList<>(List.of(from));
        List<Double> ys = new ArrayList<>(List.of(part.valueAt(Math.nextUp(from))));
        for (Bend bend : part.bends()) {
            if (bend.above() > from && bend.above() < to) {
                xs.add(bend.above());
                ys.add(part.valueAt(bend.above()));
                xs.add(Math.nextUp(bend.above()));
                ys.add(bend.value());
            }
        }
        xs.add(to);
        ys.add(part.valueAt(to));
        return new double[][] {
            xs.stream().mapToDouble(Double::doubleValue).toArray(),
            ys.stream().mapToDouble(Double::doubleValue).toArray()
        };
    }

    private static double greatest(BentPart part) {
        return part.bends().stream().mapToDouble(Bend::value).reduce(part.value(), Math::max);
    }

    /**
     * Draws the inductor current and the output voltage of a steady state over those of the same converter with straight parts:
     * its inductances and capacitances are everywhere what they are below the first bend.
     *
     * @param title in bold at the top
     * @param steady the steady state of a converter with parts that bend
     * @return the picture
     * @throws org.voltsecond.analysis.NoSteadyStateException if the straight one has none
     */
    public static Picture compared(String title, ConverterSteadyState steady) {
        Converter bent = steady.converter();
        Converter straight = bent;
        for (BentPart part : BentPart.of(bent, steady)) {
            String list = part.name() + (part.isInductor() ? ".saturation[" : ".bias[");
            String quantity = part.isInductor() ? "].inductance" : "].capacitance";
            for (int k = 0; k < part.bends().size(); k++) {
                straight = straight.with(list + k + quantity, part.value());
            }
        }
        ConverterSteadyState without = straight.steadyState();
        return Pictures.stack()
                .title(title)
                .subtitle("steady state, one period; as the parts are, and with what they are below their first bend")
                .panel(
                        steady.of(bent.inductorCurrent()).named("inductor current, as it is"),
                        without.of(straight.inductorCurrent()).named("with straight parts"))
                .panel(
                        steady.of(bent.outputVoltage()).named("output voltage, as it is"),
                        without.of(straight.outputVoltage()).named("with straight parts"))
                .build();
    }
}
