package org.voltsecond.examples.gallery;

import static org.voltsecond.examples.gallery.Rails.logicRail;
import static org.voltsecond.examples.gallery.Rails.regulatedRail;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.List;
import java.util.function.Consumer;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.plot.Panel;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.plot.TimeBand;
import org.voltsecond.plot.page.Page;
import org.voltsecond.plot.page.WaveformFigure;
import org.voltsecond.stage.Load;

/** Signals over time. */
final class Waveforms {
    private Waveforms() {}

    @Shown(value = "Steady state", about = "One period, each signal in a panel of its own: the shortest call there is.")
    static Picture steadyState() {
        Converter rail = logicRail();
        return Pictures.stacked(rail.steadyState(), rail.switchNode(), rail.inductorCurrent(), rail.outputVoltage());
    }

    @Shown(value = "Discontinuous conduction", about = "Three periods at light load, shaded by what conducts.")
    static Picture discontinuousConduction() {
        Converter rail = logicRail().withLoad(Load.resistor(100));
        ConverterSteadyState steady = rail.steadyState();
        double off = steady.onTime() + steady.offTime();
        List<TimeBand> period = List.of(
                new TimeBand(0, steady.onTime(), TimeBand.Kind.ON),
                new TimeBand(steady.onTime(), off, TimeBand.Kind.OFF),
                new TimeBand(off, steady.period(), TimeBand.Kind.IDLE));
        return Pictures.stack()
                .title("Logic rail with a load of 100 Ω")
                .subtitle("buck, 12 V in, 300 kHz")
                .panel(steady.of(rail.switchNode()).repeated(3))
                .panel(steady.of(rail.inductorCurrent()).repeated(3))
                .ripplePanel(steady.of(rail.outputVoltage()).repeated(3))
                .bands(TimeBand.repeated(period, steady.period(), 3))
                .build();
    }

    @Shown(value = "Currents in one panel", about = "Traces differ by colour and by dashes, also in print.")
    static Picture currents() {
        Converter rail = logicRail();
        ConverterSteadyState steady = rail.steadyState();
        return Pictures.stack()
                .title("Where the inductor current goes")
                .panel(Panel.of(
                                steady.of(rail.inductorCurrent()).repeated(2),
                                steady.of(rail.transistorCurrent()).repeated(2),
                                steady.of(rail.rectifierCurrent()).repeated(2))
                        .weighted(2))
                .panel(steady.of(rail.outputCapacitorCurrent()).repeated(2))
                .build();
    }

    @Shown(
            value = "Transient",
            about =
                    "Start-up without soft start, then a load step. Where periods are too many to be told apart, a band "
                            + "goes from the lowest to the highest value; its edges are exact.")
    static Picture transientRun() {
        Converter rail = logicRail();
        ConverterTransient run = rail.startUp(milli(6), Change.at(milli(3)).load(Load.resistor(25)));
        return Pictures.stack()
                .title("Logic rail: start-up and load step")
                .panel(run.of(rail.switchNode()))
                .panel(run.of(rail.inductorCurrent()))
                .panel(Panel.of(run.of(rail.outputVoltage())).limit(5.5, "highest permitted"))
                .mark(milli(3), "load 25 Ω")
                .build();
    }

    @Shown(
            value = "Load step of a regulated rail",
            about = "From 0.5 A to 2 A and back, with the band in which the voltage must stay.")
    static Picture loadStep() {
        Converter rail = regulatedRail().withLoad(Load.resistor(10));
        ConverterTransient run = rail.transientFromSteadyState(
                micro(700),
                Change.at(micro(100)).load(Load.resistor(2.5)),
                Change.at(micro(400)).load(Load.resistor(10)));
        return Pictures.stack()
                .title("Regulated rail: load step")
                .panel(Panel.of(run.of(rail.outputVoltage()))
                        .limit(5.25, "+5 %")
                        .limit(4.75, "-5 %")
                        .weighted(1.6))
                .panel(run.of(rail.inductorCurrent()))
                .panel(run.of(rail.controlVoltage()))
                .mark(micro(100), "load 2.5 Ω")
                .mark(micro(400), "load 10 Ω")
                .build();
    }

    @Shown(
            value = "How pulses come about",
            about = "The comparator ends the pulse where the ramp reaches the control voltage.")
    static Picture pulses() {
        Converter rail = regulatedRail();
        ConverterSteadyState steady = rail.steadyState();
        return Pictures.stack()
                .title("Pulses in voltage mode")
                .panel(
                        steady.of(rail.controlVoltage()).repeated(3),
                        steady.of(rail.ramp()).repeated(3))
                .panel(steady.of(rail.switchNode()).repeated(3))
                .build();
    }

    @Shown(
            value = "Waveforms to zoom and read",
            about =
                    "For a page: drag to zoom, point to read, switch traces on and off. It holds exact values and needs no "
                            + "network. On the desktop Viewer.builder(...) opens a window that measures with two cursors.")
    static Consumer<Page> zoomable() {
        Converter rail = regulatedRail();
        ConverterTransient start = rail.startUp(milli(2));
        return page -> page.waveforms(WaveformFigure.over("Soft start", 0, milli(2))
                .panel(start.of(rail.outputVoltage()))
                .panel(start.of(rail.inductorCurrent()))
                .panel(start.of(rail.controlVoltage()))
                .mark(milli(1), "end of soft start"));
    }
}
