package org.voltsecond.plot;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.engine.Piece;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/** Waveforms of one lossless buck period in discontinuous conduction, and long runs made of simple polynomials. */
public final class Waves {
    public static final double PERIOD = 10e-6;
    public static final double ON = 2.5e-6;
    public static final double OFF = 4e-6;
    public static final double IDLE = PERIOD - ON - OFF;

    private Waves() {}

    public static Waveform switchNode() {
        return of("Switch node", Unit.VOLT, ON, new double[] {12}, OFF, new double[] {-0.4}, IDLE, new double[] {5});
    }

    public static Waveform inductorCurrent() {
        return of(
                "Inductor current",
                Unit.AMPERE,
                ON,
                new double[] {0, 0.28},
                OFF,
                new double[] {0.28, -0.28},
                IDLE,
                new double[] {0});
    }

    public static Waveform outputVoltage() {
        return of(
                "Output voltage",
                Unit.VOLT,
                ON,
                new double[] {5, -0.0004, 0.0014},
                OFF,
                new double[] {5.001, 0.0016, -0.0016},
                IDLE,
                new double[] {5.001, -0.001});
    }

    private static Waveform of(
            String name,
            Unit unit,
            double on,
            double[] first,
            double off,
            double[] second,
            double idle,
            double[] third) {
        return Waveform.of(
                name,
                unit,
                List.of(Piece.of(0, on, first), Piece.of(on, off, second), Piece.of(on + off, idle, third)));
    }

    /** A triangle between 1 and 2 for so many periods, with one needle up to 5, far narrower than a pixel. */
    public static Waveform longRun(String name, int periods) {
        List<Piece> pieces = new ArrayList<>();
        double start = 0;
        for (int i = 0; i < 2 * periods; i++) {
            boolean needle = i == periods;
            double[] slope = i % 2 == 0 ? new double[] {1, 1} : new double[] {2, -1};
            pieces.add(Piece.of(start, 1e-6, needle ? new double[] {1, 16, -16} : slope));
            start = pieces.get(i).end();
        }
        return Waveform.of(name, Unit.VOLT, pieces);
    }
}
