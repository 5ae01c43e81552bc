package org.voltsecond.plot.command;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.voltsecond.design.DesignTree;
import org.voltsecond.plot.report.Findings;
import org.voltsecond.plot.viewer.DesignView;
import org.voltsecond.plot.viewer.Viewer;
import org.voltsecond.plot.viewer.ViewerBuilder;
import org.voltsecond.units.Result;

/** The windows that {@code --view} opens. Loaded only when it is given, since a window needs many classes. */
final class Windows {
    private final List<Viewer> open = new ArrayList<>();

    /** Why no window can be opened; empty where one can. */
    static Optional<String> fault() {
        return Viewer.displayFault()
                .map(fault -> "--view: " + fault + "; valid: on a computer with a screen. Without --view, "
                        + "report.html shows the same waveforms");
    }

    /** Opens a window, or tells why there is nothing to see. */
    Optional<String> open(Findings outcome, DesignTree tree) {
        Result<ViewerBuilder> view = DesignView.of(outcome, tree);
        if (!view.exists()) {
            return Optional.of(view.reason());
        }
        open.add(view.get().open());
        return Optional.empty();
    }

    boolean isEmpty() {
        return open.isEmpty();
    }

    void awaitAllClosed() {
        try {
            for (Viewer viewer : open) {
                viewer.awaitClose();
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
