package org.voltsecond.plot.viewer;

import java.util.Locale;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.design.DesignTree;
import org.voltsecond.figures.TransientFigures;
import org.voltsecond.plot.report.Findings;
import org.voltsecond.units.Printable;
import org.voltsecond.units.Result;
import org.voltsecond.waveform.Edge;
import org.voltsecond.waveform.Waveform;

/**
 * The viewer of a design: its transient, or some periods of the steady state where there is none.
 *
 * <pre>{@code
 * ViewerBuilder viewer = DesignView.of(Findings.of(rail)).get();
 * DesignTree tree = DesignFile.tree("rail.toml", """
 *         stage = { topology = "buck" }
 *         input = { voltage = "12 V" }
 *         inductor = { inductance = "22 µH" }
 *         output_capacitor = { capacitance = "47 µF" }
 *         load = { current = "2 A" }
 *         drive = { kind = "fixed-duty", duty_cycle = 0.45, switching_frequency = "300 kHz" }
 *         """);
 * ViewerBuilder withSliders = DesignView.of(Findings.of(tree.design("rail")), tree).get();
 * }</pre>
 */
public final class DesignView {
    private static final int PERIODS = 4;

    private final Findings outcome;
    private final Converter converter;

    private DesignView(Findings outcome) {
        this.outcome = outcome;
        this.converter = outcome.converter();
    }

    /**
     * Returns what to look at.
     *
     * @param outcome what the design does
     * @return the viewer, not yet open; none if there is neither a transient nor a steady state
     */
    public static Result<ViewerBuilder> of(Findings outcome) {
        DesignView view = new DesignView(outcome);
        Result<TransientFigures> run = outcome.transientRun();
        return run != null && run.exists()
                ? Result.of(view.transientRun(run.get().run()))
                : outcome.steadyState().map(view::steadyState);
    }

    /**
     * Returns what to look at, with fields and sliders for the values of the design; the waveforms follow them.
     *
     * @param outcome what the design does
     * @param tree the values of the same design
     * @return the viewer, not yet open; none if there is neither a transient nor a steady state
     */
    public static Result<ViewerBuilder> of(Findings outcome, DesignTree tree) {
        return of(outcome).map(viewer -> viewer.values(tree, outcome.name(), outcome.transientRun() != null));
    }

    private ViewerBuilder transientRun(ConverterTransient run) {
        ViewerBuilder viewer = viewer("transient")
                .subtitle(outcome.subtitle())
                .panel(run.of(converter.switchNode()))
                .panel(run.of(converter.inductorCurrent()))
                .panel(run.of(converter.outputVoltage()));
        if (converter.isRegulated()) {
            viewer.panel(run.of(converter.controlVoltage()));
        }
        for (Change change : run.changes()) {
            viewer.mark(change.time(), change.description());
        }
        return withPeriods(viewer, run.gate());
    }

    private ViewerBuilder steadyState(ConverterSteadyState steady) {
        String lasting = switch (steady.periodic().stability()) {
            case STABLE -> "";
            case UNDAMPED -> ", undamped";
            case UNSTABLE -> ", unstable: it does not last";
        };
        ViewerBuilder viewer = viewer("steady state" + lasting)
                .subtitle(
                        outcome.subtitle() + ", " + steady.conduction().name().toLowerCase(Locale.ROOT) + " conduction")
                .panel(steady.of(converter.switchNode()).repeated(PERIODS))
                .panel(steady.of(converter.inductorCurrent()).repeated(PERIODS))
                .panel(steady.of(converter.outputVoltage()).repeated(PERIODS));
        if (converter.isRegulated()) {
            viewer.panel(steady.of(converter.controlVoltage()).repeated(PERIODS));
        }
        return withPeriods(viewer, steady.gate().repeated(PERIODS));
    }

    private ViewerBuilder viewer(String what) {
        return Viewer.builder(Printable.of(outcome.name()) + ": " + what);
    }

    /** Without a clock a period begins where the transistor turns on. */
    private ViewerBuilder withPeriods(ViewerBuilder viewer, Waveform gate) {
        return converter.driven().isClocked()
                ? viewer.period(converter.driven().clockPeriod())
                : viewer.periodStarts(gate.edges().stream()
                        .filter(edge -> edge.height() > 0)
                        .mapToDouble(Edge::time)
                        .toArray());
    }
}
