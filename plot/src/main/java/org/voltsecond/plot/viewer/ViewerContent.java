package org.voltsecond.plot.viewer;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import org.voltsecond.plot.Panel;
import org.voltsecond.plot.Pictures;
import org.voltsecond.plot.StackBuilder;
import org.voltsecond.plot.TimeMark;

/**
 * What can be looked at. Immutable.
 *
 * @param title in bold at the top
 * @param subtitle the line below it
 * @param panels from top to bottom, at least one
 * @param marks instants with a label
 * @param periods where switching periods begin; empty if nothing is known of them
 */
record ViewerContent(String title, String subtitle, List<Panel> panels, List<TimeMark> marks, Instants periods) {
    ViewerContent {
        panels = List.copyOf(panels);
        marks = List.copyOf(marks);
    }

    List<Traced> traces() {
        List<Traced> traces = new ArrayList<>();
        for (int index = 0; index < panels.size(); index++) {
            for (int k = 0; k < panels.get(index).waveforms().size(); k++) {
                traces.add(Traced.of(panels.get(index), index, k));
            }
        }
        return traces;
    }

    /** Whether a panel has the unit that it has in another content. */
    boolean hasPanelLike(ViewerContent other, int index) {
        return index < panels.size()
                && panels.get(index).unit().equals(other.panels.get(index).unit());
    }

    /** The same with the waveforms of another content behind its own, panel by panel, for comparison. */
    ViewerContent beside(ViewerContent other) {
        List<Panel> both = new ArrayList<>();
        for (int index = 0; index < panels.size(); index++) {
            Panel panel = panels.get(index);
            both.add(hasPanelLike(other, index) ? panel.compared(other.panels.get(index)) : panel);
        }
        return new ViewerContent(title, subtitle, both, marks, periods);
    }

    /** All the time of all waveforms. */
    TimeWindow whole() {
        List<Traced> traces = traces();
        return new TimeWindow(
                traces.stream()
                        .mapToDouble(trace -> trace.waveform().startTime())
                        .min()
                        .orElse(0),
                traces.stream()
                        .mapToDouble(trace -> trace.waveform().endTime())
                        .max()
                        .orElse(1));
    }

    Instants switching() {
        return Instants.ofSwitching(traces().stream().map(Traced::waveform).toList());
    }

    /** The picture of a view. What it draws is sampled from the exact waveforms for just this view. */
    StackBuilder picture(View view, Set<Traced> hidden) {
        Map<Integer, Set<Integer>> left = hidden.stream()
                .collect(
                        Collectors.groupingBy(Traced::panel, Collectors.mapping(Traced::position, Collectors.toSet())));
        StackBuilder stack = Pictures.stack()
                .title(title)
                .subtitle(subtitle)
                .window(view.time().from(), view.time().to());
        for (int index = 0; index < panels.size(); index++) {
            Panel panel = panels.get(index).hiding(left.getOrDefault(index, Set.of()));
            ValueSpan span = view.values().get(index);
            stack.panel(span == null ? panel : panel.range(span.low(), span.high()));
        }
        marks.forEach(mark -> stack.mark(mark.time(), mark.label()));
        return stack;
    }
}
