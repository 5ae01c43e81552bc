package org.voltsecond.examples.gallery;

import java.util.List;
import org.voltsecond.plot.page.Page;

/** The page with all exhibits. */
public final class GalleryPage {
    /** A new kind of picture goes into one of these, or into a class of its own that is named here. */
    static final List<Class<?>> SUBJECTS = List.of(
            Waveforms.class,
            Explaining.class,
            Stages.class,
            Captures.class,
            LossesAndLines.class,
            PartsAsTheyAre.class,
            Responses.class,
            OperatingMaps.class,
            CircuitsAndMaps.class);

    private static final List<String> RAILS = List.of("logicRail", "regulatedRail");

    private GalleryPage() {}

    static List<Exhibit> exhibits() {
        return SUBJECTS.stream()
                .flatMap(subject -> Exhibit.of(subject).stream())
                .toList();
    }

    /**
     * Draws everything.
     *
     * @return the text of an HTML file
     */
    public static String html() {
        Page page = Page.titled("Gallery")
                .paragraph("What the library draws, each picture with the code that drew it on this page. A picture is "
                        + "written by writePng(file) or writeSvg(file).")
                .cautions(List.of("Pictures of simulations of ideal models: no safety approval, and no substitute for "
                        + "measurement."));
        exhibits().forEach(exhibit -> exhibit.addTo(page));
        page.heading("The converters in these pictures");
        SourceText source = SourceText.of(Rails.class);
        RAILS.forEach(rail -> page.verbatim(source.method(rail)));
        page.verbatim(SourceText.of(Stages.class).method("stage"))
                .verbatim(SourceText.of(Explaining.class).method("boost"));
        return page.html();
    }
}
