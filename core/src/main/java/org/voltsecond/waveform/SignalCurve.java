package org.voltsecond.waveform;

import java.util.IdentityHashMap;
import java.util.List;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.Configuration;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Piece;
import org.voltsecond.engine.Trajectory;

/**
 * A signal over a trajectory.
 *
 * @param trajectory the run
 * @param timeline its intervals that last
 * @param forms how to read the signal off each configuration; never written after construction
 */
record SignalCurve(Trajectory trajectory, Timeline timeline, IdentityHashMap<Configuration, AffineForm> forms)
        implements Curve {
    static SignalCurve of(Trajectory trajectory, Timeline timeline, Signal signal) {
        IdentityHashMap<Configuration, AffineForm> forms = new IdentityHashMap<>();
        trajectory.configurations().forEach(each -> forms.put(each, signal.in(each)));
        return new SignalCurve(trajectory, timeline, forms);
    }

    @Override
    public List<Piece> pieces(int span) {
        Interval interval = trajectory.interval(timeline.interval(span));
        AffineForm form = forms.get(interval.configuration());
        if (form == null) {
            throw new IllegalStateException("no form for " + interval);
        }
        return interval.pieces(form);
    }
}
