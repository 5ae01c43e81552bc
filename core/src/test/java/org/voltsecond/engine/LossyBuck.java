package org.voltsecond.engine;

import java.util.ArrayList;
import java.util.List;

/**
 * A buck converter with losses, compiled by hand: 12 V, 300 kHz, 22 µH with 30 mΩ, 47 µF with 5 mΩ, transistor 80 mΩ,
 * rectifier 0.4 V and 20 mΩ. States: inductor current (A), capacitor voltage (V). Its load can be stepped.
 */
final class LossyBuck implements SwitchingLaw {
    static final double PERIOD = 1 / 300e3;
    static final double[] SCALE = {Math.sqrt(22e-6), Math.sqrt(47e-6)};

    private static final double INDUCTANCE = 22e-6;
    private static final double CAPACITANCE = 47e-6;
    private static final AffineMap NO_CURRENT = AffineMap.of(new double[][] {{0, 0}, {0, 1}}, new double[2]);

    private final List<ClockTime> changes = new ArrayList<>();
    private final List<Triple> loads = new ArrayList<>();
    /** How often the run has asked what follows. */
    int questions;

    /** The three phases at one load. */
    private record Triple(Node on, Node off, Node idle) {}

    /** A phase that knows its load and its place in the cycle: 0 on, 1 off, 2 idle. */
    static final class Node extends Phase {
        final int load;
        final int place;

        Node(int load, int place, Configuration configuration, double end) {
            super(configuration, end, Double.POSITIVE_INFINITY);
            this.load = load;
            this.place = place;
        }
    }

    LossyBuck(double load, double dutyCycle) {
        loads.add(triple(load, dutyCycle));
    }

    LossyBuck withLoad(ClockTime from, double load, double dutyCycle) {
        changes.add(from);
        loads.add(triple(load, dutyCycle));
        return this;
    }

    private Triple triple(double load, double dutyCycle) {
        double k = load / (load + 5e-3);
        double on = 30e-3 + 80e-3 + k * 5e-3;
        double off = 30e-3 + 20e-3 + k * 5e-3;
        int index = loads.size();
        AffineForm current = AffineForm.of(new double[] {1, 0}, 0);
        return new Triple(
                new Node(
                        index,
                        0,
                        configuration(
                                "on",
                                stage(on, k, load),
                                12 / INDUCTANCE,
                                new Guard("voltage of D1", AffineForm.of(new double[] {-80e-3, 0}, 12.4)),
                                List.of()),
                        dutyCycle * PERIOD),
                new Node(
                        index,
                        1,
                        configuration(
                                "off",
                                stage(off, k, load),
                                -0.4 / INDUCTANCE,
                                new Guard("current of D1", current),
                                List.of()),
                        PERIOD),
                new Node(
                        index,
                        2,
                        configuration(
                                "idle",
                                new double[][] {{0, 0}, {0, -k / (load * CAPACITANCE)}},
                                0,
                                new Guard("voltage of D1", AffineForm.of(new double[] {0, k}, 0.4)),
                                List.of(current)),
                        PERIOD));
    }

    private static double[][] stage(double resistance, double k, double load) {
        return new double[][] {{-resistance / INDUCTANCE, -k / INDUCTANCE}, {k / CAPACITANCE, -k / (load * CAPACITANCE)}
        };
    }

    private static Configuration configuration(
            String name, double[][] a, double currentRate, Guard guard, List<AffineForm> constraints) {
        return Configuration.builder(name, SCALE, PERIOD)
                .dynamics(a, new double[] {currentRate, 0})
                .guards(List.of(guard))
                .constraints(constraints)
                .channels(List.of(AffineForm.of(new double[] {1, 0}, 0), AffineForm.of(new double[] {0, 1}, 0)))
                .build();
    }

    @Override
    public double[] scale() {
        return SCALE.clone();
    }

    @Override
    public double clockPeriod() {
        return PERIOD;
    }

    @Override
    public List<ClockTime> changes() {
        return changes;
    }

    @Override
    public Entry first(double[] state) {
        return Entry.of(loads.get(0).on);
    }

    @Override
    public Entry next(Phase ended, Cause cause, double[] state, double sinceTick) {
        questions++;
        Node node = (Node) ended;
        if (cause.kind() == Cause.Kind.CHANGE) {
            Triple now = loads.get(cause.index() + 1);
            return node.place == 0 && sinceTick < now.on.endSinceTick()
                    ? Entry.of(now.on)
                    : freewheel(now, node.place == 2 ? 0 : state[0]);
        }
        Triple now = loads.get(node.load);
        if (cause.kind() == Cause.Kind.END) {
            return node.place == 0 ? freewheel(now, state[0]) : Entry.of(now.on);
        }
        if (node.place == 1) {
            return freewheel(now, 0);
        }
        throw new SwitchingException("the rectifier cannot conduct here; " + cause + " in " + ended);
    }

    private static Entry freewheel(Triple now, double current) {
        return current > 0 ? Entry.of(now.off) : new Entry(now.idle, NO_CURRENT);
    }
}
