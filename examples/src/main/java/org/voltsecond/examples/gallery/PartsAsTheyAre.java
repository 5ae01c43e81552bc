package org.voltsecond.examples.gallery;

import static org.voltsecond.examples.gallery.Rails.ringingRail;
import static org.voltsecond.examples.gallery.Rails.saturatingRail;

import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.figures.BentPart;
import org.voltsecond.figures.Commutation;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.parts.BendPictures;
import org.voltsecond.plot.parts.RingingPicture;

/** Parts that bend, ring and warm up. */
final class PartsAsTheyAre {
    private PartsAsTheyAre() {}

    @Shown(
            value = "Inductance over current",
            about = "A choke that saturates, and the range of current that it goes through in a period.")
    static Picture inductance() {
        Converter rail = saturatingRail();
        return BendPictures.value(
                "Logic rail: inductance over current",
                BentPart.of(rail, rail.steadyState()).get(0));
    }

    @Shown(
            value = "Ringing",
            about =
                    "The rectifier's voltage after the turn-on: loop inductance and junction capacitance ring, in the envelope of the pair of"
                            + " poles that they make.")
    static Picture ringing() {
        ConverterSteadyState steady = ringingRail().steadyState();
        return RingingPicture.of(
                "Logic rail", steady, Commutation.of(steady).rings().get(0));
    }

    @Shown(value = "Saturation", about = "The current of that choke over that of one which does not saturate.")
    static Picture saturation() {
        return BendPictures.compared(
                "Logic rail: with and without saturation", saturatingRail().steadyState());
    }
}
