package org.voltsecond.plot;

import java.util.List;
import java.util.stream.IntStream;

/**
 * A panel with the traces of it that are shown. Colours and line styles go by the place among all traces, so that they stay
 * when a trace is left out.
 *
 * @param panel the panel
 * @param index its place in the stack
 * @param positions places of the traces shown
 * @param traces the traces shown
 */
record StackPanel(Panel panel, int index, List<Integer> positions, List<Shown> traces) {
    static StackPanel of(Stack stack, int index) {
        Panel panel = stack.panels().get(index);
        List<Integer> positions = IntStream.range(0, panel.waveforms().size())
                .filter(panel::shows)
                .boxed()
                .toList();
        List<Shown> traces = positions.stream()
                .map(position -> new Shown(panel.waveforms().get(position), stack.from(), stack.to()))
                .toList();
        return new StackPanel(panel, index, positions, traces);
    }

    TraceStyle style(int k) {
        return TraceStyle.of(panel, index, positions.get(k));
    }
}
