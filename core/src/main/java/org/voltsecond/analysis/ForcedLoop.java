package org.voltsecond.analysis;

import java.util.IdentityHashMap;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.DemodulatedFlow.Moments;
import org.voltsecond.analysis.ForcedBlocks.Read;
import org.voltsecond.analysis.ForcedBlocks.Way;
import org.voltsecond.analysis.OrbitLoop.Passage;
import org.voltsecond.control.CircuitPhase;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.AffineMap;
import org.voltsecond.engine.Cause;
import org.voltsecond.engine.Configuration;
import org.voltsecond.numeric.Complex;
import org.voltsecond.numeric.ComplexMatrix;
import org.voltsecond.numeric.Matrices;
import org.voltsecond.waveform.Signal;

/**
 * The response of the linearised periodic system to one small sine exp(j omega t), seen from the frame that turns with it:
 * there the response repeats with the orbit. Unknown are the small change of the (scaled) states and the shift of the last
 * event; each passage maps them linearly, and the period must give them back. A named numeric kernel.
 *
 * <p>In that frame the flow of a passage is exp(-j omega h) times the real exp(A h), and all else that the unknowns meet is real.
 * So the map of the period is real but for one factor, and its matrices are worked out once for all frequencies; what the sine adds
 * on the way is {@code sum (A h)^k / k! u m_k} with u its input and {@code m_k} the integral of {@code x^k exp(-j omega h x)} from 0
 * to 1. Where A h or omega h is too large for the series, {@link DemodulatedFlow} has the integrals.
 */
final class ForcedLoop {
    /** Beyond this norm of A h the terms would grow before they shrink, and cost digits. */
    private static final double LARGEST = 2;

    private final OrbitLoop loop;
    private final Forcing forcing;
    private final int n;
    private final double[] scale;
    private final Way[] ways;
    /** The map of the unknowns over the period, but for the turn of the frame. */
    private final double[] monodromy;

    private final double duration;
    private final boolean inBlocks;
    /** Of a long orbit: those of the first signal that is read, since what a block does to the unknowns is the same for any. */
    private volatile @Nullable ForcedBlocks blocks;

    /** A signal, ready to be read at any frequency. */
    static final class Reading {
        private final List<Read> reads;
        private final @Nullable ForcedBlocks blocks;

        private Reading(List<Read> reads, @Nullable ForcedBlocks blocks) {
            this.reads = reads;
            this.blocks = blocks;
        }
    }

    ForcedLoop(OrbitLoop loop, Forcing forcing) {
        this(loop, forcing, true);
    }

    /** In blocks where that is quicker, or passage by passage throughout. */
    ForcedLoop(OrbitLoop loop, Forcing forcing, boolean inBlocks) {
        this.loop = loop;
        this.forcing = forcing;
        n = forcing.kept().length;
        double[] all = forcing.circuit().law().scale();
        scale = new double[n];
        for (int i = 0; i < n; i++) {
            scale[i] = all[forcing.kept()[i]];
        }
        ways = new Way[loop.passages().size()];
        double sum = 0;
        double[] map = new double[(n + 1) * (n + 1)];
        for (int i = 0; i <= n; i++) {
            map[i * (n + 1) + i] = 1;
        }
        for (int k = 0; k < ways.length; k++) {
            ways[k] = way(k);
            sum += ways[k].duration;
            map = Matrices.multiply(ways[k].step, map, n + 1);
            double[] flown = map.clone();
            for (int i = 0; i < n; i++) {
                for (int j = 0; j <= n; j++) {
                    double entry = 0;
                    for (int m = 0; m < n; m++) {
                        entry += ways[k].exponential[i * n + m] * map[m * (n + 1) + j];
                    }
                    flown[i * (n + 1) + j] = entry;
                }
            }
            map = flown;
        }
        monodromy = map;
        duration = sum;
        this.inBlocks = inBlocks;
    }

    private @Nullable ForcedBlocks blocks() {
        ForcedBlocks known = blocks;
        if (known == null && inBlocks) {
            known = ForcedBlocks.of(ways, null);
            blocks = known;
        }
        return known;
    }

    private Way way(int index) {
        Passage passage = loop.passages().get(index);
        Configuration configuration = passage.phase().configuration();
        double[][] a = new double[n][n];
        double norm = 0;
        for (int i = 0; i < n; i++) {
            double row = 0;
            for (int j = 0; j < n; j++) {
                a[i][j] = scale[i] * configuration.a(forcing.kept()[i], forcing.kept()[j]) / scale[j];
                row += Math.abs(a[i][j]);
            }
            norm = Math.max(norm, row * passage.duration());
        }
        Way way = new Way(n, passage.duration(), a, DemodulatedFlow.exponential(a, passage.duration()));
        for (int i = 0; i < n; i++) {
            int state = forcing.kept()[i];
            way.input[i] = forcing.value() < 0 ? 0 : scale[i] * configuration.a(state, forcing.value());
            way.derivativeInput[i] = forcing.derivative() < 0
                    ? 0
                    : scale[i] * configuration.a(state, forcing.derivative()) / forcing.angular();
        }
        if (norm <= LARGEST) {
            way.terms = DemodulatedFlow.termsFor(norm);
            if (Matrices.size(way.input) + Matrices.size(way.derivativeInput) > 0) {
                way.inputTerms = DemodulatedFlow.terms(way.dynamics, way.duration, way.terms, way.input, false);
                way.derivativeTerms =
                        DemodulatedFlow.terms(way.dynamics, way.duration, way.terms, way.derivativeInput, false);
            }
        }
        enter(index, way);
        return way;
    }

    /** From just before the step into a passage to just after it. */
    private void enter(int index, Way way) {
        Passage from = loop.before(index);
        Passage to = loop.passages().get(index);
        int width = n + 1;
        shift(from, way);
        double[] before = from.phase().configuration().rate(from.end());
        double[] rate = to.phase().configuration().rate(to.start());
        AffineMap jump = to.jump();
        int[] kept = forcing.kept();
        for (int i = 0; i < n; i++) {
            double rateBefore = 0;
            for (int j = 0; j < n; j++) {
                double factor = jump == null ? (i == j ? 1 : 0) : jump.entry(kept[i], kept[j]);
                rateBefore += factor * before[kept[j]];
                way.step[i * width + j] = scale[i] * factor / scale[j];
            }
            if (jump != null && forcing.value() >= 0) {
                way.direct[i] = scale[i] * jump.entry(kept[i], forcing.value());
            }
            if (jump != null && forcing.derivative() >= 0) {
                way.quadrature[i] = scale[i] * jump.entry(kept[i], forcing.derivative()) / forcing.angular();
            }
            double moved = scale[i] * (rateBefore - rate[kept[i]]);
            for (int j = 0; j <= n; j++) {
                way.step[i * width + j] += moved * way.step[n * width + j];
            }
            way.direct[i] += moved * way.direct[n];
            way.quadrature[i] += moved * way.quadrature[n];
        }
    }

    /** The shift of the instant in which one passage ends and the next begins: the last row of the step. */
    private void shift(Passage from, Way way) {
        Cause cause = from.cause();
        int row = n * (n + 1);
        if (cause != null && cause.kind() == Cause.Kind.GUARD) {
            AffineForm form =
                    from.phase().configuration().guards().get(cause.index()).form();
            if (from.fallsAtOnce(form)) {
                way.step[row + n] = 1;
            } else {
                crossing(from, form, way);
            }
        } else if (((CircuitPhase) from.phase()).endMoves()) {
            way.direct[n] = forcing.circuit().clockPeriod();
        } else if (!from.endsByClock()) {
            way.step[row + n] = 1;
        }
    }

    private void crossing(Passage from, AffineForm form, Way way) {
        double[] factors = forcing.ofKept(form);
        double[] rate = from.phase().configuration().rate(from.end());
        double slope = form.slope();
        for (int i = 0; i < n; i++) {
            slope += factors[i] * rate[forcing.kept()[i]];
        }
        if (slope == 0) {
            return;
        }
        for (int i = 0; i < n; i++) {
            way.step[n * (n + 1) + i] = -factors[i] / scale[i] / slope;
        }
        way.direct[n] = -forcing.direct(form) / slope;
        way.quadrature[n] = -forcing.quadrature(form, 1) / slope;
    }

    /** Makes a signal ready to be read. */
    Reading reading(Signal signal) {
        IdentityHashMap<Configuration, AffineForm> forms = new IdentityHashMap<>();
        Read[] reads = new Read[ways.length];
        for (int k = 0; k < reads.length; k++) {
            Passage passage = loop.passages().get(k);
            AffineForm form = forms.computeIfAbsent(passage.phase().configuration(), signal::in);
            double[] factors = forcing.ofKept(form);
            for (int i = 0; i < n; i++) {
                factors[i] /= scale[i];
            }
            // by how much the signal is larger before the step into the passage than after it
            Passage from = loop.before(k);
            double before = forms.computeIfAbsent(from.phase().configuration(), signal::in)
                    .valueAt(from.end(), from.endSinceTick());
            reads[k] = new Read(
                    before - form.valueAt(passage.start(), passage.sinceTick()),
                    forcing.direct(form) * passage.duration(),
                    forcing.quadrature(form, 1) * passage.duration(),
                    factors,
                    DemodulatedFlow.terms(ways[k].dynamics, ways[k].duration, ways[k].terms, factors, true));
        }
        ForcedBlocks made = inBlocks ? ForcedBlocks.of(ways, List.of(reads)) : null;
        if (blocks == null) {
            blocks = made;
        }
        return new Reading(List.of(reads), made);
    }

    /** The response at a frequency, Hz. */
    Response at(double frequency) {
        return new Response(2 * Math.PI * frequency);
    }

    /** The unknowns on their way around the period, at one frequency. */
    final class Response {
        private final double omega;
        private final double[] startRe = new double[n + 1];
        private final double[] startIm = new double[n + 1];
        private double[] re = new double[n + 1];
        private double[] im = new double[n + 1];
        private double[] otherRe = new double[n + 1];
        private double[] otherIm = new double[n + 1];
        private final Moments moments;
        private double sumRe;
        private double sumIm;

        private Response(double omega) {
            this.omega = omega;
            int most = 0;
            for (Way way : ways) {
                most = Math.max(most, way.terms);
            }
            moments = new Moments(most);
            solve();
        }

        /** What the sine leaves after the period is what the unknowns must make up for. */
        private void solve() {
            ForcedBlocks quick = blocks();
            boolean isQuick = quick != null && quick.reach(omega);
            if (quick != null && isQuick) {
                quick.run(omega, re, im, null);
            }
            for (Way way : isQuick ? new Way[0] : ways) {
                findMoments(way);
                step(way);
                flow(way);
            }
            double c = Math.cos(omega * duration);
            double s = Math.sin(omega * duration);
            ComplexMatrix left = new ComplexMatrix(n + 1, n + 1);
            ComplexMatrix right = new ComplexMatrix(n + 1, 1);
            for (int i = 0; i <= n; i++) {
                for (int j = 0; j <= n; j++) {
                    double entry = monodromy[i * (n + 1) + j];
                    left.add(i, j, (i == j ? 1 : 0) - c * entry, s * entry);
                }
                right.add(i, 0, re[i], im[i]);
            }
            left.solve(right);
            for (int i = 0; i <= n; i++) {
                startRe[i] = right.real(i, 0);
                startIm[i] = right.imaginary(i, 0);
            }
        }

        /** The component of a signal at the frequency of the perturbation, per unit of it. */
        Complex of(Reading reading) {
            System.arraycopy(startRe, 0, re, 0, n + 1);
            System.arraycopy(startIm, 0, im, 0, n + 1);
            ForcedBlocks quick = reading.blocks;
            if (quick != null && quick.reach(omega)) {
                double[] sum = new double[2];
                quick.run(omega, re, im, sum);
                return new Complex(sum[0] / loop.period(), sum[1] / loop.period());
            }
            sumRe = 0;
            sumIm = 0;
            for (int k = 0; k < ways.length; k++) {
                Way way = ways[k];
                Read read = reading.reads.get(k);
                findMoments(way);
                step(way);
                sumRe += read.step() * re[n] + read.direct();
                sumIm += read.step() * im[n] + read.quadrature() * omega;
                if (way.duration > 0 && way.isSeries(omega)) {
                    for (int m = 0; m < way.terms; m++) {
                        double a = 0;
                        double b = 0;
                        for (int i = 0; i < n; i++) {
                            a += read.terms()[m * n + i] * re[i];
                            b += read.terms()[m * n + i] * im[i];
                        }
                        sumRe += moments.re[m] * a - moments.im[m] * b;
                        sumIm += moments.re[m] * b + moments.im[m] * a;
                        if (way.isDriven()) {
                            addDriven(way, read.terms(), m);
                        }
                    }
                } else if (way.duration > 0) {
                    DemodulatedFlow flow = DemodulatedFlow.of(way.dynamics, omega, way.duration);
                    ComplexMatrix integral = flow.integral()
                            .times(ComplexMatrix.column(n, re, im, 1))
                            .plus(flow.secondIntegral().times(input(way)));
                    for (int i = 0; i < n; i++) {
                        sumRe += read.factors()[i] * integral.real(i, 0);
                        sumIm += read.factors()[i] * integral.imaginary(i, 0);
                    }
                }
                flow(way);
            }
            return new Complex(sumRe / loop.period(), sumIm / loop.period());
        }

        /** The integral of what the sine adds up to an instant has the weight of the rest of the time. */
        private void addDriven(Way way, double[] terms, int m) {
            double direct = 0;
            double quadrature = 0;
            for (int i = 0; i < n; i++) {
                direct += terms[m * n + i] * way.input[i];
                quadrature += terms[m * n + i] * way.derivativeInput[i] * omega;
            }
            double restRe = (moments.re[m] - moments.re[m + 1]) * way.duration;
            double restIm = (moments.im[m] - moments.im[m + 1]) * way.duration;
            sumRe += restRe * direct - restIm * quadrature;
            sumIm += restIm * direct + restRe * quadrature;
        }

        private void step(Way way) {
            for (int i = 0; i <= n; i++) {
                double a = way.direct[i];
                double b = way.quadrature[i] * omega;
                for (int j = 0; j <= n; j++) {
                    double factor = way.step[i * (n + 1) + j];
                    a += factor * re[j];
                    b += factor * im[j];
                }
                otherRe[i] = a;
                otherIm[i] = b;
            }
            swap();
        }

        private void swap() {
            double[] freeRe = re;
            re = otherRe;
            otherRe = freeRe;
            double[] freeIm = im;
            im = otherIm;
            otherIm = freeIm;
        }

        private void flow(Way way) {
            if (!(way.duration > 0)) {
                return;
            }
            for (int i = 0; i <= n; i++) {
                double a = i == n ? re[n] : 0;
                double b = i == n ? im[n] : 0;
                for (int j = 0; j < n && i < n; j++) {
                    double factor = way.exponential[i * n + j];
                    a += factor * re[j];
                    b += factor * im[j];
                }
                otherRe[i] = moments.cos * a + moments.sin * b;
                otherIm[i] = moments.cos * b - moments.sin * a;
            }
            if (way.isSeries(omega)) {
                for (int m = 0; m < way.terms && way.isDriven(); m++) {
                    double p = moments.re[m];
                    double q = moments.im[m];
                    for (int i = 0; i < n; i++) {
                        double direct = way.inputTerms[m * n + i];
                        double quadrature = way.derivativeTerms[m * n + i] * omega;
                        otherRe[i] += p * direct - q * quadrature;
                        otherIm[i] += p * quadrature + q * direct;
                    }
                }
            } else {
                ComplexMatrix forced = DemodulatedFlow.of(way.dynamics, omega, way.duration)
                        .integral()
                        .times(input(way));
                for (int i = 0; i < n; i++) {
                    otherRe[i] += forced.real(i, 0);
                    otherIm[i] += forced.imaginary(i, 0);
                }
            }
            swap();
        }

        private void findMoments(Way way) {
            moments.find(omega * way.duration, way.isSeries(omega) ? way.terms : 0);
        }

        private ComplexMatrix input(Way way) {
            return ComplexMatrix.column(n, way.input, way.derivativeInput, omega);
        }
    }
}
