package org.voltsecond.plot.viewer;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Executor;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.voltsecond.design.DesignException;
import org.voltsecond.design.DesignException.Fault;
import org.voltsecond.design.DesignTree;
import org.voltsecond.design.DesignTree.Setting;
import org.voltsecond.plot.report.Findings;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;

/**
 * A design whose values are changed one by one, and what it then does. For one thread, that of events; the designs are
 * simulated beside it.
 */
final class DesignModel {
    private static final int MOST_STEPS = 500;
    /** Digits of a value that a slider sets: steps of a thousandth are told apart. */
    private static final MathContext SHOWN = new MathContext(4);

    private final String name;
    private final DesignTree first;
    private final List<Setting> settings;
    private final Latest<Answer> latest;
    private final List<Runnable> listeners = new ArrayList<>();
    private final List<Consumer<ViewerContent>> contentListeners = new ArrayList<>();
    private final Map<Boolean, Findings> starts = new LinkedHashMap<>();
    private final List<Map<String, String>> history = new ArrayList<>(List.of(Map.of()));
    private final boolean hasRun;
    private Map<String, String> changes = Map.of();
    private int place;
    private boolean showsRun;
    private boolean showsStart = true;
    private List<Fault> faults = List.of();
    private @Nullable Findings found;

    /**
     * What one setting leads to.
     *
     * @param found what the design does; null where it has faults
     * @param start what the design of the file does; null where that cannot be found
     * @param ofRun whether with its transient
     * @param faults what is wrong
     */
    private record Answer(
            @Nullable Findings found, @Nullable Findings start, boolean ofRun, List<Fault> faults) {}

    /**
     * Begins with the values of a file.
     *
     * @param tree the design
     * @param name its name where the tree gives none
     * @param hasRun whether it has a transient, which is then shown to begin with
     * @param events runs what it is given on the thread of events
     */
    DesignModel(DesignTree tree, String name, boolean hasRun, Executor events) {
        this.name = name;
        this.hasRun = hasRun;
        first = tree;
        settings = tree.settings();
        showsRun = hasRun;
        latest = new Latest<>(events, this::take);
    }

    void onChange(Runnable listener) {
        listeners.add(listener);
    }

    /** Tells of other waveforms to look at. */
    void onContent(Consumer<ViewerContent> listener) {
        contentListeners.add(listener);
    }

    private void changed() {
        listeners.forEach(Runnable::run);
    }

    private void shown() {
        ViewerContent content = content();
        if (content != null) {
            contentListeners.forEach(listener -> listener.accept(content));
        }
        changed();
    }

    /** Simulates the values of the file, so that there is something to compare with. */
    void begin() {
        request();
    }

    List<Setting> settings() {
        return settings;
    }

    /** What a field says: what was typed, else the value of the file. */
    String text(Setting setting) {
        return changes.getOrDefault(setting.key(), original(setting));
    }

    private static String original(Setting setting) {
        return Quantity.format(setting.value(), setting.unit());
    }

    /** The value in SI units; that of the file where what was typed is no value. */
    double value(Setting setting) {
        String typed = changes.get(setting.key());
        if (typed == null) {
            return setting.value();
        }
        try {
            return Double.parseDouble(typed);
        } catch (NumberFormatException quantity) {
            try {
                return Quantity.parse(typed, setting.unit());
            } catch (IllegalArgumentException fault) {
                return setting.value();
            }
        }
    }

    /** Takes what is typed, and simulates it; {@link #settle} makes it a step of the history. */
    void type(Setting setting, String text) {
        if (text.strip().equals(text(setting))) {
            return;
        }
        Map<String, String> next = new LinkedHashMap<>(changes);
        if (text.strip().equals(original(setting))) {
            next.remove(setting.key());
        } else {
            next.put(setting.key(), text.strip());
        }
        changes = Map.copyOf(next);
        request();
    }

    /** Takes a place of a slider, with as many digits as a reader wants to see. */
    void slide(Setting setting, double share) {
        type(
                setting,
                Quantity.format(new BigDecimal(setting.at(share)).round(SHOWN).doubleValue(), setting.unit()));
    }

    /** Makes what was changed since the last step one step. */
    void settle() {
        if (changes.equals(history.get(place))) {
            return;
        }
        history.subList(place + 1, history.size()).clear();
        history.add(changes);
        if (history.size() > MOST_STEPS) {
            history.remove(0);
        }
        place = history.size() - 1;
        changed();
    }

    void undo() {
        settle();
        go(place - 1);
    }

    void redo() {
        settle();
        go(place + 1);
    }

    private void go(int to) {
        if (to >= 0 && to < history.size()) {
            place = to;
            changes = history.get(to);
            request();
        }
    }

    /** Back to the values of the file, as a step that can be undone. */
    void reset() {
        settle();
        changes = Map.of();
        settle();
        request();
    }

    boolean canUndo() {
        return place > 0 || !changes.equals(history.get(place));
    }

    boolean canRedo() {
        return place < history.size() - 1;
    }

    boolean isChanged() {
        return !changes.isEmpty();
    }

    boolean hasRun() {
        return hasRun;
    }

    boolean showsRun() {
        return showsRun;
    }

    void showRun(boolean run) {
        if (run != showsRun && (hasRun || !run)) {
            showsRun = run;
            request();
        }
    }

    boolean showsStart() {
        return showsStart;
    }

    void showStart(boolean shown) {
        showsStart = shown;
        shown();
    }

    /** Whether what is shown is that of an earlier setting, since the simulation goes on. */
    boolean isBusy() {
        return latest.isBusy();
    }

    /** Ends whatever is being simulated. */
    void stop() {
        latest.stop();
    }

    private DesignTree tree() {
        DesignTree tree = first;
        for (Map.Entry<String, String> change : changes.entrySet()) {
            tree = tree.typed(change.getKey(), change.getValue());
        }
        return tree;
    }

    private void request() {
        DesignTree tree = tree();
        boolean run = showsRun;
        Findings known = starts.get(run);
        latest.request(() -> {
            Answer answer = answer(tree, run);
            return new Answer(
                    answer.found,
                    known != null ? known : tree == first ? answer.found : answer(first, run).found,
                    run,
                    answer.faults);
        });
        changed();
    }

    private Answer answer(DesignTree tree, boolean run) {
        try {
            return new Answer(Findings.ofPoint(tree.design(name), run), null, run, List.of());
        } catch (DesignException e) {
            return new Answer(null, null, run, e.faults());
        }
    }

    private void take(Result<Answer> result) {
        if (result.exists()) {
            Answer answer = result.get();
            faults = answer.faults;
            found = answer.found == null ? found : answer.found;
            if (answer.start != null) {
                starts.put(answer.ofRun, answer.start);
            }
        } else {
            faults = List.of(new Fault(name, 0, "design", result.reason()));
        }
        shown();
    }

    /** What the last design without faults does; null before the first is known. */
    @Nullable
    Findings found() {
        return found;
    }

    /** What the design of the file does; null before it is known. */
    @Nullable
    Findings start() {
        return starts.get(showsRun);
    }

    /** What to look at: the waveforms, and those of the file behind them where they differ. */
    @Nullable
    ViewerContent content() {
        ViewerContent now = contentOf(found);
        ViewerContent before = isChanged() && showsStart ? contentOf(start()) : null;
        return now == null || before == null ? now : now.beside(before);
    }

    private @Nullable ViewerContent contentOf(@Nullable Findings of) {
        if (of == null) {
            return null;
        }
        Result<ViewerBuilder> builder = DesignView.of(of);
        return builder.exists() ? builder.get().content() : null;
    }

    /** Every fault of what stands in a field; empty where it is right. */
    String faultOf(Setting setting) {
        return faults.stream()
                .filter(fault -> fault.field().equals(setting.key()))
                .map(Fault::message)
                .collect(Collectors.joining("\n"));
    }

    /** Faults that are not those of one field, and what a simulation could not do. */
    List<String> otherFaults() {
        return faults.stream()
                .filter(fault ->
                        settings.stream().noneMatch(setting -> setting.key().equals(fault.field())))
                .map(fault -> fault.field() + ": " + fault.message())
                .toList();
    }

    boolean hasFaults() {
        return !faults.isEmpty();
    }

    /**
     * Returns the design file with the values of now.
     *
     * @return TOML
     * @throws DesignException if a value is wrong; carries every fault
     */
    String file() throws DesignException {
        DesignTree tree = tree();
        tree.design(name);
        return tree.toml();
    }

    String name() {
        return name;
    }
}
