package org.voltsecond.plot.viewer;

import java.util.Arrays;
import java.util.List;
import java.util.stream.DoubleStream;
import org.voltsecond.waveform.Waveform;

/** Instants in ascending order, each once. Immutable. */
final class Instants {
    private final double[] times;

    private Instants(double[] times) {
        this.times = times;
    }

    static Instants of(DoubleStream times) {
        return new Instants(times.sorted().distinct().toArray());
    }

    /** Where any of the waveforms begins, ends, or goes from one interval to the next. */
    static Instants ofSwitching(List<Waveform> waveforms) {
        return of(waveforms.stream().flatMapToDouble(waveform -> Arrays.stream(waveform.switchingTimes())));
    }

    /** The nearest instant if it is no farther than a distance, else the time itself. */
    double snap(double time, double distance) {
        double nearest = Double.NaN;
        int next = firstNotBefore(time);
        for (int i = Math.max(0, next - 1); i <= Math.min(next, times.length - 1); i++) {
            if (Math.abs(times[i] - time) <= distance && !(Math.abs(nearest - time) <= Math.abs(times[i] - time))) {
                nearest = times[i];
            }
        }
        return Double.isNaN(nearest) ? time : nearest;
    }

    /** The first instant after a time; the time itself if there is none. */
    double after(double time) {
        int next = firstNotBefore(Math.nextUp(time));
        return next < times.length ? times[next] : time;
    }

    /** The last instant before a time; the time itself if there is none. */
    double before(double time) {
        int next = firstNotBefore(time);
        return next > 0 ? times[next - 1] : time;
    }

    double[] in(TimeWindow window) {
        return Arrays.copyOfRange(times, firstNotBefore(window.from()), firstNotBefore(Math.nextUp(window.to())));
    }

    boolean isEmpty() {
        return times.length == 0;
    }

    private int firstNotBefore(double time) {
        int at = Arrays.binarySearch(times, time);
        return at >= 0 ? at : -at - 1;
    }
}
