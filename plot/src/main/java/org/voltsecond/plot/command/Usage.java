package org.voltsecond.plot.command;

import org.voltsecond.review.Provenance;

/** What the command says about itself. */
final class Usage {
    static final String TEXT = """
            Usage: java -jar voltsecond.jar DESIGN.toml... [--into DIR] [OPTION]...

            Simulates switching DC-DC converters exactly. Reads each design and writes
            DIR/<file name without .toml>/ with figures.json, waveforms.csv, pictures of
            the steady state and the transient as PNG and SVG, and a single page for a
            browser with all of it, report.html. Without a design it runs its demo, with
            design files to start from. A file that states the requirements of a
            rail, in a table [rail], gets a proposed design, run and written with the rest.

              --into DIR      where to write (voltsecond-out)
              --beside OTHER  what changes from the one design to OTHER.toml: keys of the
                              file, figures, limits, waveforms over each other, in
                              beside.html, beside.json, beside.csv and pictures
              --no-pictures   figures and waveforms only, no report
              --slides [NAME,...]
                              slides.html, and the slides as pictures, for a room:
                              current-paths, balance, conversion-ratio, boundary,
                              ripple, inductances, start, load-step, pulses, losses,
                              linear, tolerance; without names those that say most
              --binary        waveforms.h5 as well, the numbers of waveforms.csv in
                              HDF5
              --view          then opens a window for each design, to zoom, measure
                              and change values in; ends when all are closed
              --keys          all keys of a design file, with units, defaults, examples
              --help          this text
              --version       the version

            Exit code: 0 done; 2 the command line or a design is wrong, each fault on a
            line of standard error as file:line: field: message; 1 anything else.

            Power converters can hurt. Inductors and capacitors stay charged after the
            supply is off, and stages make voltages above the limits of extra-low voltage.
            A simulation is no safety approval: local codes and the judgement of a
            licensed engineer prevail.""";

    private Usage() {}

    /** The version of the jar; classes that run out of a folder have none. */
    static String version() {
        return Provenance.of("").version();
    }
}
