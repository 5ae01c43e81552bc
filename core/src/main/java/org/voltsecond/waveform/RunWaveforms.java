package org.voltsecond.waveform;

import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.ToDoubleFunction;
import org.jspecify.annotations.Nullable;
import org.voltsecond.engine.Phase;
import org.voltsecond.engine.Piece;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.units.Unit;

/**
 * The waveforms of a run. An equal signal gets the same waveform again, so that a measure which several readers ask for is
 * worked out once. Immutable but for that, and safe to use from any thread.
 *
 * <pre>{@code
 * RunWaveforms waveforms = RunWaveforms.of(start.run().trajectory());
 * double inrush = waveforms.of(rail.inductorCurrent()).maximum(); // 7.540 A
 * }</pre>
 */
public final class RunWaveforms implements WaveformSource {
    /** A program may ask for ever new signals; what is asked for again comes early. */
    private static final int MOST_KEPT = 100;

    private final Trajectory trajectory;
    private final Map<Signal, Waveform> kept = new ConcurrentHashMap<>();
    /** Made with the first waveform, shared by all. */
    private volatile @Nullable Timeline timeline;

    private final RunReading reading;

    private RunWaveforms(Trajectory trajectory) {
        this.trajectory = trajectory;
        reading = RunReading.of(trajectory);
    }

    /**
     * Returns the waveforms of a run.
     *
     * @param trajectory the run
     * @return its waveforms, each worked out when it is asked for
     */
    public static RunWaveforms of(Trajectory trajectory) {
        return new RunWaveforms(trajectory);
    }

    /**
     * Returns the run.
     *
     * @return the run
     */
    public Trajectory trajectory() {
        return trajectory;
    }

    /**
     * Returns the reading with which its waveforms are measured; who has a reader of his own lets it come along.
     *
     * @return the reading
     */
    public RunReading reading() {
        return reading;
    }

    /**
     * Returns the waveform of a signal.
     *
     * @param signal what to look at
     * @return the waveform, from the start to the end of the run
     * @throws IllegalArgumentException if the run has no duration or the signal belongs to another system
     */
    @Override
    public Waveform of(Signal signal) {
        Waveform known = kept.get(signal);
        if (known != null) {
            return known;
        }
        Waveform waveform = Waveform.of(trajectory, timeline(), signal);
        return kept.size() < MOST_KEPT ? kept.computeIfAbsent(signal, same -> waveform) : waveform;
    }

    /**
     * Returns a waveform that rests on a level in each phase, such as whether a switch is closed.
     *
     * @param name what it is
     * @param unit the unit of the levels
     * @param level the level of each phase
     * @return the waveform, from the start to the end of the run
     * @throws IllegalArgumentException if the run has no duration
     */
    public Waveform ofPhases(String name, Unit unit, ToDoubleFunction<Phase> level) {
        Timeline spans = timeline();
        return new Waveform(name, unit, spans, span -> {
            Phase phase = trajectory.interval(spans.interval(span)).phase();
            double start = spans.start(span);
            return List.of(Piece.of(start, spans.end(span) - start, new double[] {level.applyAsDouble(phase)}));
        });
    }

    private Timeline timeline() {
        Timeline known = timeline;
        if (known == null) {
            known = Timeline.of(reading);
            timeline = known;
        }
        return known;
    }

    @Override
    public String toString() {
        return "waveforms of " + trajectory;
    }
}
