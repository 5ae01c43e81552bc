package org.voltsecond.study;

import java.util.List;
import java.util.function.Function;
import java.util.function.Supplier;
import org.voltsecond.units.Result;

/**
 * The same question asked of many designs. They are run in parallel; since each is asked by itself and results are kept in
 * the order of the designs, the results have the same bits on any number of threads. A design that fails is kept as a
 * {@link Result} without a value beside the others and does not end the study.
 * For steady states of one stage at thousands of values let each thread ask a
 * {@link org.voltsecond.converter.StageSampler} ({@link #withOwnAsker}).
 *
 * <pre>{@code
 * List<Double> loads = List.of(1.0, 2.0, 5.0); // ohm
 * StudyResults<Double, Double> ripple = Study.of(loads, ohm -> {
 *             Converter loaded = rail.withLoad(Load.resistor(ohm));
 *             return loaded.steadyState().of(loaded.outputVoltage()).peakToPeak();
 *         })
 *         .run();
 * }</pre>
 *
 * @param <D> a design, or whatever a design is made from; not null
 * @param <R> what is found for each design; not null
 */
public final class Study<D, R> {
    private final List<D> designs;
    private final Supplier<? extends Function<? super D, ? extends R>> askers;

    private Study(List<D> designs, Supplier<? extends Function<? super D, ? extends R>> askers) {
        this.designs = designs;
        this.askers = askers;
    }

    /**
     * Plans a study.
     *
     * @param <D> a design
     * @param <R> what is found for each design
     * @param designs the designs, in order
     * @param question what is asked of each: a function of the design alone, safe for several threads at once
     * @return the study, not yet run
     */
    public static <D, R> Study<D, R> of(List<D> designs, Function<? super D, ? extends R> question) {
        return new Study<>(List.copyOf(designs), () -> question);
    }

    /**
     * Plans a study that needs room to work in, such as arrays, which threads must not share.
     *
     * @param <D> a design
     * @param <R> what is found for each design
     * @param designs the designs, in order
     * @param askers makes what asks the question, once for each thread; its answer must depend on the design alone, not on
     *     what it was asked before
     * @return the study, not yet run
     */
    public static <D, R> Study<D, R> withOwnAsker(
            List<D> designs, Supplier<? extends Function<? super D, ? extends R>> askers) {
        return new Study<>(List.copyOf(designs), askers);
    }

    /**
     * Runs the study in the usual way.
     *
     * @return what was found
     * @see #run(Execution)
     */
    public StudyResults<D, R> run() {
        return run(Execution.standard());
    }

    /**
     * Runs the study. Interrupting the thread that calls this cancels the study as {@link Cancellation#cancel()} does; the
     * thread stays interrupted.
     *
     * @param execution on how many threads, who is told of it, and what can cancel it
     * @return what was found; if the study was cancelled, what was found by then
     */
    public StudyResults<D, R> run(Execution execution) {
        return new StudyRun<D, R>(designs, askers, execution).run();
    }
}
