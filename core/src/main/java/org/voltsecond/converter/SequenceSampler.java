package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.characteristic.Junction;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.InvalidCircuitException;
import org.voltsecond.circuit.Network;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.PartValues;
import org.voltsecond.circuit.Regime;
import org.voltsecond.circuit.RegimePattern;
import org.voltsecond.control.CircuitPhase;
import org.voltsecond.control.Plant;
import org.voltsecond.control.Regulator;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Phase;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.numeric.UnitPolynomial;
import org.voltsecond.stage.Roles;
import org.voltsecond.waveform.Signal;

/**
 * Solves designs of any converter whose devices follow each other as they do in the nominal design, by the {@link SequenceKernel}:
 * at their own duty cycle, or at the one that holds an output, which may be a regulator's. A design is the nominal circuit with
 * other values, of which only those regimes are compiled that it passes through. One instance serves one thread.
 */
final class SequenceSampler implements StageSampler.Quick, OrbitCurves {
    private static final double[] ONE = {1};

    private final Converter converter;
    private final List<StageValue> varied;
    private final double[] nominal;
    private final List<Step> steps;
    private final SequenceKernel kernel;
    private final CurveFigures reader = new CurveFigures(this);
    private final PartValues parts;
    private final double[] ofParts;
    /** Magnitude of the output voltage that is held; not a number where the duty cycle stays, or a regulator sets it. */
    private final double heldOutput;

    private final @Nullable Regulator regulator;
    private final @Nullable Plant plant;
    private final List<String> channelNames;
    private final int sign;
    private final Conduction conduction;
    private final Row output;
    private final Row sensed;
    private final Row source;
    private final @Nullable Row rectified;
    /** Bits of the rectifiers of the cell. */
    private final long rectifiers;

    private final Map<StageSignal, Row> signals = new EnumMap<>(StageSignal.class);
    /** How often, and with which sign, each varied value stands among those of the parts. */
    private final int[] times;

    private final double[] signs;

    // ------------------------------------------------------------------------------------- the design solved last
    private final List<Optional<RegimePattern>> patterns = new ArrayList<>();
    private final Regime[] regimes;
    private double period;
    private double input;
    private boolean follows;
    private final double[] first = new double[HIGHEST_DEGREE + 1];
    private final double[] second = new double[HIGHEST_DEGREE + 1];
    private int design;

    /** A signal over the states in each step, of the design for which it was asked last. */
    private final class Row {
        final Signal signal;
        private final double[][] ofStep = new double[steps.size()][kernel.rowLength()];
        private final int[] ofDesign = new int[steps.size()];

        Row(Signal signal) {
            this.signal = signal;
        }

        double[] in(int step) {
            if (ofDesign[step] != design) {
                kernel.write(signal.in(regimes[step].channels(), channelNames), 1, ofStep[step], 0);
                ofDesign[step] = design;
            }
            return ofStep[step];
        }

        int read(int interval, double[] into) {
            return kernel.curve(in(kernel.step[interval]), 0, interval, into);
        }
    }

    /** A regime of the order, and how it ends. */
    private record Step(
            long closed, long conducting, int end, long changes, Share share, boolean rectifies, double duration) {}

    private SequenceSampler(ConverterSteadyState steady, List<StageValue> varied, List<Step> steps, double heldOutput) {
        converter = steady.converter();
        this.varied = varied;
        this.steps = steps;
        this.heldOutput = heldOutput;
        nominal = varied.stream().mapToDouble(value -> value.in(converter)).toArray();
        List<String> names = new ArrayList<>();
        varied.forEach(value -> names.addAll(value.partValues(converter)));
        times = varied.stream()
                .mapToInt(value -> value.partValues(converter).size())
                .toArray();
        signs = varied.stream().mapToDouble(value -> value.sign(converter)).toArray();
        Circuit circuit = converter.driven().circuit();
        parts = PartValues.of(circuit, names);
        ofParts = new double[names.size()];
        Network network = Network.of(circuit);
        channelNames = network.channelNames();
        regulator = converter.isRegulated() ? converter.regulator() : null;
        plant = regulator == null ? null : StageRun.plant(converter.values());
        kernel = new SequenceKernel(
                network.scale(),
                steps.stream().mapToInt(Step::end).toArray(),
                steps.stream().mapToLong(Step::changes).toArray());
        double[] state = Arrays.copyOf(steady.periodic().state(), network.scale().length);
        double onTime = steps.stream()
                .filter(step -> step.closed() == steps.get(0).closed())
                .mapToDouble(Step::duration)
                .sum();
        kernel.guess(state, steps.stream().mapToDouble(Step::duration).toArray(), onTime / steady.period());
        regimes = new Regime[steps.size()];
        sign = converter.roles().isInverting() ? -1 : 1;
        conduction = steady.conduction();
        output = new Row(converter.outputVoltage().times(sign));
        source = new Row(converter.sourceCurrent());
        sensed = plant == null ? source : new Row(plant.current(0));
        Roles.Cell cell = converter.roles().cells().get(0);
        rectifiers = cell.rectifiers().stream().mapToLong(network::rectifierBit).reduce(0, (a, b) -> a | b);
        rectified = converter.roles().rectifier().isEmpty() ? null : new Row(converter.rectifierCurrent(cell));
        steps.forEach(step -> patterns.add(RegimePattern.of(circuit, step.closed(), step.conducting())));
    }

    /**
     * A sampler of converters like this one; null where the equations cannot be compiled once and for all, or the order is not
     * that of a pulse and what follows it.
     *
     * @param steady the steady state of the nominal converter
     * @param varied the values of a design
     * @param heldOutput magnitude of the output voltage to hold, V; not a number where the drive has its say
     */
    static @Nullable SequenceSampler of(ConverterSteadyState steady, List<StageValue> varied, double heldOutput) {
        Converter converter = steady.converter();
        boolean regulated = converter.isRegulated();
        if (!isPlain(converter)
                || (regulated && converter.regulator().reference().isEmpty())) {
            return null;
        }
        List<Step> steps = steps(steady);
        return steps == null ? null : new SequenceSampler(steady, varied, steps, heldOutput);
    }

    private static boolean isPlain(Converter converter) {
        Roles roles = converter.roles();
        return converter.driven().isClocked()
                && converter.driven().pulsesPerPeriod() == 1
                && roles.pattern().legs().size() == 1
                && roles.cells().size() == 1
                && StageLosses.furtherSources(converter).isEmpty()
                && converter.driven().sourceStates().isEmpty()
                && converter.load().curve().isEmpty()
                && converter.driven().circuit().parts().stream()
                        .allMatch(part -> roles.loadResistor().equals(Optional.of(part.name()))
                                || isPlain(converter.driven().circuit(), part));
    }

    private static boolean isPlain(Circuit circuit, Part part) {
        boolean known = part instanceof Part.Resistor
                || part instanceof Part.Inductor
                || part instanceof Part.CoupledInductors
                || part instanceof Part.IdealTransformer
                || part instanceof Part.Capacitor
                || part instanceof Part.VoltageSource
                || part instanceof Part.CurrentSource
                || part instanceof Part.Switch
                || (part instanceof Part.Rectifier d && d.junction().equals(Junction.IDEAL));
        return known && !circuit.bends(part.name());
    }

    /** The regimes of the nominal period; null if they are not a pulse and what follows it, each ended by one cause. */
    private static @Nullable List<Step> steps(ConverterSteadyState steady) {
        List<Interval> intervals = new ArrayList<>();
        List<Double> durations = new ArrayList<>();
        for (Interval interval : steady.periodic().trajectory().intervals()) {
            int last = intervals.size() - 1;
            if (last >= 0 && isSame(regime(interval), regime(intervals.get(last)))) {
                durations.set(last, durations.get(last) + interval.duration());
            } else if (interval.duration() > 0) {
                intervals.add(interval);
                durations.add(interval.duration());
            }
        }
        List<Step> steps = new ArrayList<>();
        int pulses = 0;
        for (int k = 0; k < intervals.size(); k++) {
            Regime regime = regime(intervals.get(k));
            int end = SequenceKernel.WITH_PERIOD;
            long changes = 0;
            if (k < intervals.size() - 1) {
                Regime next = regime(intervals.get(k + 1));
                boolean byGate = next.closed() != regime.closed();
                pulses += byGate ? 1 : 0;
                changes = byGate ? 0 : next.conducting() ^ regime.conducting();
                end = byGate ? SequenceKernel.WITH_PULSE : Long.numberOfTrailingZeros(changes);
            }
            Phase phase = intervals.get(k).phase();
            boolean on = steady.isOn().test(phase);
            Share share = on ? Share.ON : steady.isOff().test(phase) ? Share.OFF : Share.IDLE;
            boolean rectifies = steady.converter()
                    .rectifies(phase, steady.converter().roles().cells().get(0));
            steps.add(new Step(regime.closed(), regime.conducting(), end, changes, share, rectifies, durations.get(k)));
        }
        return pulses == 1 && steps.get(0).share() == Share.ON ? steps : null;
    }

    private static Regime regime(Interval interval) {
        return ((CircuitPhase) interval.phase()).regime();
    }

    private static boolean isSame(Regime a, Regime b) {
        return a.closed() == b.closed() && a.conducting() == b.conducting();
    }

    // ---------------------------------------------------------------------------------------------------- designs

    @Override
    public boolean solve(double[] values) {
        Blueprint design = isSane(values) ? design(values) : null;
        if (design == null) {
            return false;
        }
        return isFound(design, values, 0);
    }

    private boolean isFound(Blueprint design, double[] values, long but) {
        input = design.inputVoltage();
        boolean found;
        if (regulator == null) {
            period = 1 / of(values, StageValue.FREQUENCY);
            found = (Double.isNaN(heldOutput)
                            ? kernel.solve(period, of(values, StageValue.DUTY_CYCLE))
                            : kernel.hold(period, heldOutput))
                    && kernel.isCertain(but);
        } else {
            period = regulator.clockPeriod();
            double reference = of(values, StageValue.REFERENCE);
            double divider = of(values, StageValue.DIVIDER);
            double target = reference / divider;
            found = kernel.hold(period, target)
                    && kernel.isCertain(but)
                    && regulator.keeps(
                            Objects.requireNonNull(plant)
                                    .withFullLoad(StageRun.FullLoad.crest(design, OptionalDouble.of(target))),
                            sensed(divider, reference));
        }
        if (found && follows) {
            kernel.follow();
        }
        return found;
    }

    /** Has each search begin at the orbit found last, the next one at the nominal one. */
    void follow() {
        follows = true;
        kernel.restart();
    }

    /** Values that a stage can have, as far as the kernel knows; the others are for the checks of the stage to name. */
    private boolean isSane(double[] values) {
        boolean sane = true;
        for (int k = 0; k < nominal.length; k++) {
            sane &= Math.abs(values[k]) < Double.POSITIVE_INFINITY
                    && (nominal[k] > 0 ? values[k] > 0 : nominal[k] < 0 ? values[k] < 0 : values[k] >= 0);
        }
        return sane && (regulator == null || of(values, StageValue.DIVIDER) <= 1);
    }

    /** The circuit with other values, whose regimes are given to the kernel; null if it has not all of them. */
    private @Nullable Blueprint design(double[] values) {
        int at = 0;
        for (int k = 0; k < values.length; k++) {
            for (int names = times[k]; names > 0; names--) {
                ofParts[at++] = signs[k] * values[k];
            }
        }
        design++;
        try {
            Circuit circuit = parts.set(ofParts);
            for (int k = 0; k < regimes.length; k++) {
                regimes[k] = regime(circuit, k);
                kernel.take(k, regimes[k]);
                kernel.takeOutput(k, output.in(k));
            }
            return converter.values().with(circuit);
        } catch (InvalidCircuitException | SwitchingException e) {
            return null;
        }
    }

    private Regime regime(Circuit circuit, int step) {
        Regime quick = patterns.get(step).map(pattern -> pattern.in(circuit)).orElse(null);
        return quick != null
                ? quick
                : Network.of(circuit)
                        .regime(steps.get(step).closed(), steps.get(step).conducting());
    }

    private double of(double[] values, StageValue value) {
        int at = varied.lastIndexOf(value);
        return at < 0 ? value.in(converter) : values[at];
    }

    private Sensed sensed(double divider, double reference) {
        double mean = sign * reader.mean(StageSignal.OUTPUT_VOLTAGE);
        return new Sensed(this, sign, mean, input, divider, reference);
    }

    // -------------------------------------------------------------------------------------- what a design tells

    @Override
    public double of(StageMeasurement figure) {
        return reader.of(figure);
    }

    /** That of the nominal design, unless that happens to lie at the boundary: the order of its devices is the same. */
    @Override
    public Conduction conduction() {
        return conduction == Conduction.BOUNDARY ? Conduction.of(margin()) : conduction;
    }

    @Override
    public double margin() {
        double idle = 0;
        for (int k = 0; k < kernel.pieces; k++) {
            idle += share(k) == Share.IDLE ? kernel.duration[k] : 0;
        }
        double last = idle > 0 ? Double.NaN : lastCurrent();
        return idle > 0 ? -idle / period : last >= -ConverterSteadyState.ROUND_OFF ? last : Double.NaN;
    }

    /** The current of the rectifiers as the transistor turns on, over their peak; not a number where there are none. */
    private double lastCurrent() {
        Row current = rectified;
        double last = Double.NaN;
        for (int k = 0; k < kernel.pieces && current != null; k++) {
            boolean turnsOn = share(k) != Share.ON && share((k + 1) % kernel.pieces) == Share.ON;
            if (turnsOn && steps.get(kernel.step[k]).rectifies()) {
                double value = UnitPolynomial.sum(first, current.read(k, first));
                last = Double.isNaN(last) ? value : Math.min(last, value);
            }
        }
        return current == null ? Double.NaN : last / reader.maximum(current::read);
    }

    @Override
    public double smoothMargin(double[] values) {
        boolean continuous = steps.stream().noneMatch(step -> step.share() == Share.IDLE);
        Blueprint design = continuous && isSane(values) ? design(values) : null;
        return design != null && isFound(design, values, rectifiers) ? lastCurrent() : Double.NaN;
    }

    private Row row(StageSignal signal) {
        Row known = signals.get(signal);
        if (known == null) {
            known = new Row(signal.of(converter));
            signals.put(signal, known);
        }
        return known;
    }

    @Override
    public int intervals() {
        return kernel.pieces;
    }

    @Override
    public int pulse() {
        int count = 0;
        while (count < kernel.pieces
                && steps.get(kernel.step[count]).closed() == steps.get(0).closed()) {
            count++;
        }
        return count;
    }

    @Override
    public double duration(int interval) {
        return kernel.duration[interval];
    }

    @Override
    public Share share(int interval) {
        return steps.get(kernel.step[interval]).share();
    }

    @Override
    public int read(StageSignal signal, int interval, double[] into) {
        return row(signal).read(interval, into);
    }

    @Override
    public int readSensed(int interval, double[] into) {
        return sensed.read(interval, into);
    }

    @Override
    public double efficiency(CurveFigures figures) {
        double taken = 0;
        double given = 0;
        double most = 0;
        for (int k = 0; k < kernel.pieces; k++) {
            int degree = source.read(k, first);
            taken += kernel.duration[k] * UnitPolynomial.integralOfProduct(first, degree, ONE, 0);
            most = Math.max(most, UnitPolynomial.reach(first, degree));
            read(StageSignal.OUTPUT_VOLTAGE, k, first);
            read(StageSignal.LOAD_CURRENT, k, second);
            given += kernel.duration[k] * UnitPolynomial.integralOfProduct(first, degree, second, degree);
        }
        // as of ConverterSteadyState: a mean that is nothing but rounding of what flows to and fro is no power
        return taken > 1e-12 * most * period ? given / (input * taken) : Double.NaN;
    }
}
