package org.voltsecond.benchmark;

import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.Supplier;
import org.hipparchus.exception.MathRuntimeException;
import org.hipparchus.ode.nonstiff.DormandPrince54Integrator;
import org.hipparchus.ode.nonstiff.DormandPrince853Integrator;
import org.hipparchus.ode.nonstiff.GraggBulirschStoerIntegrator;
import org.hipparchus.ode.nonstiff.HighamHall54Integrator;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.Simulation;

/**
 * Time per period against accuracy: the engine, and the integrators of Hipparchus at several tolerances, over the first 300 periods from
 * rest. Prints a line for each, {@code circuit,method,tolerance,nanoseconds,error}: least processor time, and the error
 * of inductor current and capacitor voltage relative to their size.
 *
 * <p>Arguments: {@code CONTINUOUS=current,voltage} and so on: the state after these periods from another source.
 */
public final class Accuracy {
    private static final int PERIODS = 300;

    /** So long one way is repeated at least, in ns of processor time. */
    private static final long EFFORT = 250_000_000L;

    private static final double[] TOLERANCES = {1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 1e-9, 1e-10, 1e-11, 1e-12};
    private static final ThreadMXBean THREADS = ManagementFactory.getThreadMXBean();

    private Accuracy() {}

    private static Map<String, Integrated.Method> methods() {
        Map<String, Integrated.Method> methods = new LinkedHashMap<>();
        methods.put("Dormand-Prince 8(5)", (low, high, t) -> new DormandPrince853Integrator(low, high, t, t));
        methods.put("Dormand-Prince 5(4)", (low, high, t) -> new DormandPrince54Integrator(low, high, t, t));
        methods.put("Higham-Hall 5(4)", (low, high, t) -> new HighamHall54Integrator(low, high, t, t));
        methods.put("Gragg-Bulirsch-Stoer", (low, high, t) -> new GraggBulirschStoerIntegrator(low, high, t, t));
        return methods;
    }

    /**
     * Measures.
     *
     * @param references of each circuit the state reached
     */
    public static void main(String[] references) {
        for (String reference : references) {
            String[] halves = reference.split("=", 2);
            String[] numbers = halves[1].split(",", 2);
            measure(halves[0], Double.parseDouble(numbers[0]), Double.parseDouble(numbers[1]));
        }
    }

    private static void measure(String name, double current, double voltage) {
        DrivenCircuit driven = PeerCircuit.valueOf(name).driven();
        double[] start = driven.restState();
        List<Double> reached = List.of(current, voltage);
        row(
                name,
                "Voltsecond",
                0,
                reached,
                () -> Simulation.of(driven.law()).finalState(start, PERIODS * driven.clockPeriod()));
        methods().forEach((method, integrator) -> {
            for (double tolerance : TOLERANCES) {
                Integrated integrated = new Integrated(driven, integrator, tolerance);
                try {
                    row(name, method, tolerance, reached, () -> integrated.finalState(start, PERIODS));
                } catch (MathRuntimeException | IllegalStateException e) {
                    System.err.println(name + ", " + method + " at " + tolerance + ": " + e.getMessage());
                }
            }
        });
    }

    private static void row(
            String name, String method, double tolerance, List<Double> reached, Supplier<double[]> run) {
        double[] state = run.get();
        long least = Long.MAX_VALUE;
        long begin = THREADS.getCurrentThreadCpuTime();
        while (THREADS.getCurrentThreadCpuTime() - begin < EFFORT) {
            long before = THREADS.getCurrentThreadCpuTime();
            state = run.get();
            least = Math.min(least, THREADS.getCurrentThreadCpuTime() - before);
        }
        double error = Math.hypot(state[0] - reached.get(0), state[1] - reached.get(1))
                / Math.hypot(reached.get(0), reached.get(1));
        System.out.printf(
                Locale.ROOT, "%s,%s,%.0e,%.6g,%.6g%n", name, method, tolerance, (double) least / PERIODS, error);
    }
}
