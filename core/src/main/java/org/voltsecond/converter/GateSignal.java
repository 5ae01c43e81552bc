package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Piece;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/** The drive of a switch over a run as a waveform: 1 while it is closed, 0 while it is open. */
final class GateSignal {
    private GateSignal() {}

    static Waveform of(DrivenCircuit circuit, Trajectory trajectory, String switchName) {
        List<Piece> pieces = new ArrayList<>();
        double start = trajectory.start();
        for (Interval interval : trajectory.intervals()) {
            double length = interval.end() - start;
            if (length > 0) {
                double level = circuit.conducts(interval.phase(), switchName) ? 1 : 0;
                Piece piece = Piece.of(start, length, new double[] {level});
                pieces.add(piece);
                // not the end of the interval, which may differ in the last place: no gap is left
                start = piece.end();
            }
        }
        return Waveform.of("gate of " + switchName, Unit.ONE, pieces);
    }
}
