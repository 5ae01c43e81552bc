package org.voltsecond.plot.viewer;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.voltsecond.plot.StackBuilder;

/** What a viewer shows and measures, without a screen. For one thread: that of events. */
final class ViewModel {
    private static final int MOST_VIEWS = 200;

    private ViewerContent content;
    private TimeWindow whole;
    private Instants switching;
    private List<Traced> traces;
    private final Set<Traced> off = new HashSet<>();
    private final Deque<View> former = new ArrayDeque<>();
    private final List<Runnable> listeners = new ArrayList<>();
    private double cursorA;
    private double cursorB;
    private View view;
    private Which active = Which.A;
    private boolean periodMarks = true;
    private boolean stepping;

    ViewModel(ViewerContent content) {
        this.content = content;
        whole = content.whole();
        switching = content.switching();
        traces = content.traces();
        view = new View(whole, Map.of());
        placeCursors();
    }

    /**
     * Shows something else in the place of what is shown: the time seen stays, or all of it where all was seen, and so do
     * cursors, value axes of panels in the same unit, what is switched off, and the way back.
     */
    void replace(ViewerContent newContent) {
        ViewerContent formerContent = content;
        TimeWindow formerWhole = whole;
        content = newContent;
        whole = newContent.whole();
        switching = newContent.switching();
        traces = newContent.traces();
        view = carried(view, formerContent, formerWhole);
        List<View> views = former.stream()
                .map(each -> carried(each, formerContent, formerWhole))
                .toList();
        former.clear();
        former.addAll(views);
        Set<Traced> stillOff = new HashSet<>();
        traces.stream()
                .filter(trace -> off.stream().anyMatch(trace::isInPlaceOf))
                .forEach(stillOff::add);
        off.clear();
        off.addAll(stillOff);
        cursorA = whole.nearest(cursorA);
        cursorB = whole.nearest(cursorB);
        changed();
    }

    private View carried(View from, ViewerContent formerContent, TimeWindow formerWhole) {
        Map<Integer, ValueSpan> values = new HashMap<>(from.values());
        values.keySet().removeIf(panel -> !content.hasPanelLike(formerContent, panel));
        return new View(from.time().equals(formerWhole) ? whole : from.time().within(whole), values);
    }

    void onChange(Runnable listener) {
        listeners.add(listener);
    }

    private void changed() {
        listeners.forEach(Runnable::run);
    }

    View view() {
        return view;
    }

    TimeWindow time() {
        return view.time();
    }

    ViewerContent content() {
        return content;
    }

    /** Shows a stretch of time; {@link #back()} leads to what was seen before. */
    void select(double from, double to) {
        go(view.at(new TimeWindow(Math.min(from, to), Math.max(from, to)).within(whole)), false);
    }

    void selectValues(int panel, ValueSpan span) {
        if (span.canBeDrawn()) {
            go(view.with(panel, span), true);
        }
    }

    void fitValues() {
        go(view.fitted(), false);
    }

    void zoom(double factor, double about) {
        go(view.at(time().zoomed(factor, about).within(whole)), true);
    }

    void pan(double by) {
        // no farther than the whole, so that no digits of the times are lost
        double most = whole.length();
        go(view.at(time().shifted(Math.max(-most, Math.min(most, by))).within(whole)), true);
    }

    void showAll() {
        go(new View(whole, Map.of()), false);
    }

    /** Steps that follow each other, as those of a wheel, are taken back together. */
    private void go(View next, boolean step) {
        if (next.equals(view)) {
            return;
        }
        if (!(step && stepping)) {
            former.push(view);
        }
        if (former.size() > MOST_VIEWS) {
            former.removeLast();
        }
        stepping = step;
        view = next;
        changed();
    }

    void back() {
        if (!former.isEmpty()) {
            view = former.pop();
            stepping = false;
            changed();
        }
    }

    boolean canGoBack() {
        return !former.isEmpty();
    }

    double cursor(Which which) {
        return which == Which.A ? cursorA : cursorB;
    }

    Which active() {
        return active;
    }

    void activate(Which which) {
        active = which;
        changed();
    }

    void place(Which which, double time) {
        double inside = whole.nearest(time);
        active = which;
        if (which == Which.A) {
            cursorA = inside;
        } else {
            cursorB = inside;
        }
        changed();
    }

    /** Places a cursor, at a switching instant if one is near. */
    void placeNear(Which which, double time, double distance) {
        place(which, switching.snap(time, distance));
    }

    void nudge(double by) {
        place(active, cursor(active) + by);
    }

    void toNextInstant() {
        place(active, switching.after(cursor(active)));
    }

    void toPreviousInstant() {
        place(active, switching.before(cursor(active)));
    }

    /** Brings both cursors into view. */
    void placeCursors() {
        cursorA = time().from() + 0.25 * time().length();
        cursorB = time().from() + 0.75 * time().length();
        changed();
    }

    Readout readout() {
        double a = cursor(Which.A);
        double b = cursor(Which.B);
        return new Readout(a, b, traces.stream().map(trace -> trace.read(a, b)).toList());
    }

    List<Traced> traces() {
        return traces;
    }

    boolean isOn(Traced trace) {
        return !off.contains(trace);
    }

    void switchTrace(Traced trace, boolean on) {
        if (on ? off.remove(trace) : off.add(trace)) {
            changed();
        }
    }

    /** What a picture of this view must leave out: what is switched off, and what has nothing to show. */
    Set<Traced> hidden() {
        Set<Traced> hidden = new HashSet<>(off);
        traces.stream().filter(trace -> !trace.overlaps(time())).forEach(hidden::add);
        return hidden;
    }

    boolean showsAnything() {
        return hidden().size() < traces.size();
    }

    StackBuilder picture() {
        return content.picture(view, hidden());
    }

    boolean hasPeriods() {
        return !content.periods().isEmpty();
    }

    boolean periodMarks() {
        return periodMarks;
    }

    void setPeriodMarks(boolean on) {
        periodMarks = on;
        changed();
    }

    /** Where to mark the start of periods; empty if they are not wanted, or too many to be told apart. */
    double[] marksFor(int most) {
        double[] all = periodMarks ? content.periods().in(time()) : new double[0];
        return all.length <= most ? all : new double[0];
    }

    /** Whether there are more periods in view than can be told apart. */
    boolean tooManyPeriods(int most) {
        return content.periods().in(time()).length > most;
    }
}
