package org.voltsecond.examples.gallery;

import static org.voltsecond.examples.gallery.Rails.saturatingRail;

import org.voltsecond.converter.Converter;
import org.voltsecond.figures.BentPart;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.parts.BendPictures;

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

    @Shown(value = "Saturation", about = "The current of that choke over that of one which does not saturate.")
    static Picture saturation() {
        return BendPictures.compared(
                "Logic rail: with and without saturation", saturatingRail().steadyState());
    }
}
