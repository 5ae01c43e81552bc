package org.voltsecond.converter;

import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.EnergyAudit;
import org.voltsecond.analysis.OutputRegulation;
import org.voltsecond.analysis.SmallSignal;
import org.voltsecond.analysis.SteadyState;
import org.voltsecond.circuit.Part;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Phase;
import org.voltsecond.stage.Roles;
import org.voltsecond.waveform.Signal;
import org.voltsecond.waveform.Waveform;
import org.voltsecond.waveform.WaveformSource;

/**
 * The periodic steady state of a converter, with its parts called by what they do. Immutable, safe for any thread.
 *
 * <pre>{@code
 * ConverterSteadyState light = rail.withLoad(Load.resistor(100)).steadyState();
 * Conduction conduction = light.conduction(); // DISCONTINUOUS
 * double idle = light.idleTime(); // 1.184 µs
 * double efficiency = light.efficiency().orElseThrow(); // 98.37 %
 * }</pre>
 */
public final class ConverterSteadyState implements WaveformSource {
    /** A current that is less than zero by so small a part of its peak is zero. */
    static final double ROUND_OFF = 1e-9;

    private final Converter converter;
    private final SteadyState periodic;
    /** Whoever asks first works it out: whatever the thread, it is the same. */
    private volatile @Nullable EnergyAudit audit;

    ConverterSteadyState(Converter converter, SteadyState periodic) {
        this.converter = converter;
        this.periodic = periodic;
    }

    /**
     * Returns the converter.
     *
     * @return the converter
     */
    public Converter converter() {
        return converter;
    }

    /**
     * Returns the steady state of the circuit, with its stability and multipliers.
     *
     * @return the steady state
     */
    public SteadyState periodic() {
        return periodic;
    }

    /**
     * Returns how small disturbances of control, line and load show in the output.
     *
     * @return the small-signal behaviour
     */
    public ConverterSmallSignal smallSignal() {
        return new ConverterSmallSignal(converter, SmallSignal.of(periodic));
    }

    @Override
    public Waveform of(Signal signal) {
        return periodic.of(signal);
    }

    /**
     * Returns the drive of the transistor.
     *
     * @return 1 while the transistor is closed, 0 while it is open
     */
    public Waveform gate() {
        return gate(converter.transistorName());
    }

    /**
     * Returns the drive of a switch.
     *
     * @param switchName its reference designator
     * @return 1 while the switch is closed, 0 while it is open
     */
    public Waveform gate(String switchName) {
        return ConverterSignals.gate(periodic.circuit(), periodic.trajectory(), switchName);
    }

    /**
     * Returns whether a regulated converter holds its output.
     *
     * @return target, error and what holds the output where the loop does not; empty where the duty cycle is fixed or the
     *     inductor current commanded
     */
    public Optional<OutputRegulation> regulation() {
        OptionalDouble target = converter.target();
        return target.isEmpty()
                ? Optional.empty()
                : Optional.of(OutputRegulation.of(
                        periodic, converter.regulatedVoltage(), target.getAsDouble(), converter.controlLimits()));
    }

    /**
     * Returns the mode of conduction: whether the inductor current ends before the period does, by the devices that carry it,
     * whatever those of a snubber or clamp do. Interleaved phases are discontinuous when each of them is.
     *
     * @return continuous, discontinuous, or at the boundary between the two; undefined where nothing stores a current
     */
    public Conduction conduction() {
        Roles roles = converter.roles();
        Map<Optional<String>, List<Roles.Cell>> byInductor = roles.cells().stream()
                .collect(Collectors.groupingBy(Roles.Cell::inductor, LinkedHashMap::new, Collectors.toList()));
        List<Conduction> each = new ArrayList<>();
        byInductor.forEach((inductor, cells) ->
                each.add(inductor.map(name -> conduction(name, cells)).orElse(Conduction.UNDEFINED)));
        return Stream.of(Conduction.UNDEFINED, Conduction.CONTINUOUS, Conduction.BOUNDARY)
                .filter(each::contains)
                .findFirst()
                .orElse(Conduction.DISCONTINUOUS);
    }

    private Conduction conduction(String inductor, List<Roles.Cell> cells) {
        List<String> switches = new ArrayList<>();
        List<String> rectifiers = new ArrayList<>();
        for (Roles.Cell cell : cells) {
            switches.addAll(cell.switches());
            switches.addAll(cell.synchronous());
            rectifiers.addAll(cell.rectifiers());
        }
        List<String> bodyDiodes = converter.withBodyDiodes(switches);
        bodyDiodes.removeAll(switches);
        rectifiers.addAll(bodyDiodes);
        return periodic.conduction(switches, rectifiers, inductor);
    }

    /**
     * Returns how far the steady state is from the boundary between continuous and discontinuous conduction: a number that passes
     * through zero exactly where the rectifier current just reaches zero as the transistor turns on.
     *
     * @return in continuous conduction the rectifier current as the transistor turns on, over its peak (a leakage inductance takes it
     *     over only then); in discontinuous conduction the idle part of the period, negative. Not a number if the rectifier never conducts, or carries current backwards, as a
     *     synchronous one does that knows no idle interval
     */
    public double conductionMargin() {
        double idle = idleTime();
        if (idle > 0) {
            return -idle / period();
        }
        if (converter.roles().rectifier().isEmpty()) {
            return Double.NaN; // every switch is driven for itself: no current ends on its own
        }
        Roles.Cell cell = cell();
        Signal current = converter.rectifierCurrent(cell);
        double last = lastCurrent(current, cell);
        double peak = of(current).maximum();
        return last >= -ROUND_OFF * peak ? last / peak : Double.NaN;
    }

    /** The smallest current with which the rectifier is relieved by another device. */
    private double lastCurrent(Signal current, Roles.Cell cell) {
        List<Interval> intervals = periodic.trajectory().intervals();
        double last = Double.NaN;
        for (int k = 0; k < intervals.size(); k++) {
            Interval interval = intervals.get(k);
            Interval next = intervals.get((k + 1) % intervals.size());
            boolean turnsOn = !converter.isOn(interval.phase(), cell) && converter.isOn(next.phase(), cell);
            if (turnsOn && converter.rectifies(interval.phase(), cell)) {
                double value = interval.valueAt(current.in(interval.configuration()), interval.duration());
                last = Double.isNaN(last) ? value : Math.min(last, value);
            }
        }
        return last;
    }

    /** The devices whose times are told: the first whose switch both opens and closes. */
    private Roles.Cell cell() {
        List<Roles.Cell> cells = converter.roles().cells();
        return cells.size() == 1
                ? cells.get(0)
                : cells.stream()
                        .filter(cell -> periodic.trajectory().intervals().stream()
                                        .map(interval -> converter.isOn(interval.phase(), cell))
                                        .distinct()
                                        .count()
                                > 1)
                        .findFirst()
                        .orElse(cells.get(0));
    }

    /**
     * Returns the time after which everything repeats: the switching period; under a line ripple the shortest time that is a
     * whole number of switching periods and of periods of the ripple. On, off and idle time add up to it.
     *
     * @return the period, s
     */
    public double period() {
        return periodic.period();
    }

    /**
     * Returns how long the transistor is closed in a period: of interleaved phases that of the first, of a four-switch stage that of
     * the input leg, or of the output leg where the former does not switch. Off and idle time are those of the same leg.
     *
     * @return the time, s
     */
    public double onTime() {
        return periodic.timeIn(isOn());
    }

    /**
     * Returns how long, in a period, the transistor is open and the rectifier conducts.
     *
     * @return the time, s
     */
    public double offTime() {
        return periodic.timeIn(isOff());
    }

    /** {@return whether the transistor whose times are told is closed} */
    public Predicate<Phase> isOn() {
        Roles.Cell cell = cell();
        return phase -> converter.isOn(phase, cell);
    }

    /** {@return whether that transistor is open and its rectifier conducts} */
    public Predicate<Phase> isOff() {
        Roles.Cell cell = cell();
        return phase -> !converter.isOn(phase, cell) && converter.rectifies(phase, cell);
    }

    Predicate<Phase> isIdle() {
        Roles.Cell cell = cell();
        return phase -> !converter.isOn(phase, cell) && !converter.rectifies(phase, cell);
    }

    /**
     * Returns how long, in a period, neither device conducts.
     *
     * @return the time, s
     */
    public double idleTime() {
        return periodic.timeIn(isIdle());
    }

    /**
     * Returns the part of the period in which the transistor is closed.
     *
     * @return the duty cycle, from 0 to 1
     */
    public double dutyCycle() {
        return onTime() / period();
    }

    /**
     * Returns what the source delivers, as a mean over a period; of a custom circuit with several sources what all those deliver
     * that do.
     *
     * @return the power, W
     */
    public double inputPower() {
        Waveform current = of(converter.sourceCurrent());
        double first = converter.values().input().oscillates()
                ? of(converter.inputNode()).times(current).mean()
                : converter.inputVoltage() * current.mean();
        double further = 0;
        for (String source : furtherFeeds()) {
            further += delivered(source);
        }
        return first + further;
    }

    /** The sources beside the input that feed a custom circuit. */
    List<String> furtherFeeds() {
        return StageLosses.furtherSources(converter).stream()
                .filter(source -> delivered(source) > 0)
                .toList();
    }

    private double delivered(String source) {
        return audit().delivered().getOrDefault(source, 0.0) / audit().duration();
    }

    /**
     * Returns what the load takes, as a mean over a period.
     *
     * @return the power, W
     */
    public double outputPower() {
        return of(converter.outputVoltage()).times(of(converter.loadCurrent())).mean();
    }

    /**
     * Returns the efficiency.
     *
     * @return output power over input power; empty if the source delivers nothing
     */
    public OptionalDouble efficiency() {
        Waveform current = of(converter.sourceCurrent());
        // A mean that is nothing but rounding of what flows to and fro is no power.
        boolean delivers = current.mean() > 1e-12 * current.rms();
        return delivers ? OptionalDouble.of(outputPower() / inputPower()) : OptionalDouble.empty();
    }

    /**
     * Returns where power is turned into heat.
     *
     * @return the losses
     */
    public StageLosses losses() {
        return new StageLosses(inGroups(StageLosses.parts(converter)));
    }

    /**
     * Returns the same losses under the words in which they are told: of a ready-made stage by what its parts do, such as
     * "transistor", of a custom circuit by the names of its parts. A body diode counts as part of its switch; a source that takes
     * power up, as that of a clamp, is told too, and what is lost where capacitors meet without resistance.
     *
     * @return the losses; with the output power they add up to the input power
     */
    public StageLosses heat() {
        Map<String, Double> told = inGroups(StageLosses.told(converter));
        if (StageLosses.isOwn(converter)) {
            told.values().removeIf(loss -> loss == 0);
        }
        double met = audit().redistributed() / audit().duration();
        if (met > 0) {
            told.put("meeting charges", met);
        }
        return new StageLosses(told);
    }

    private Map<String, Double> inGroups(Map<String, List<String>> groups) {
        Map<String, Double> losses = new LinkedHashMap<>();
        groups.forEach((words, parts) ->
                losses.put(words, parts.stream().mapToDouble(this::loss).sum()));
        return losses;
    }

    /**
     * Returns where power is turned into heat, part by part.
     *
     * @return the mean loss of each part that is no load, W, by its reference designator
     */
    public Map<String, Double> lossesByPart() {
        Roles roles = converter.roles();
        Map<String, Double> losses = new LinkedHashMap<>();
        for (Part part : converter.circuit().parts()) {
            boolean dissipates = audit().dissipated().containsKey(part.name());
            boolean loads = Optional.of(part.name()).equals(roles.loadResistor())
                    || Optional.of(part.name()).equals(roles.loadSink());
            if (dissipates && !loads) {
                losses.put(part.name(), loss(part.name()));
            }
        }
        return Collections.unmodifiableMap(losses);
    }

    /**
     * No part gives heat back: what is less than zero is rounding. The residual of the audit counts it all the same. A source that is
     * no input takes up what it is fed.
     */
    private double loss(String part) {
        return Math.max(0, audit().meanLoss(part)) + Math.max(0, -delivered(part));
    }

    /**
     * Prepares the exact derivatives of every figure by every value of the stage.
     *
     * @return the derivatives, worked out when asked for
     * @throws IllegalArgumentException if the line has a ripple
     */
    public StageSensitivities sensitivities() {
        return new StageSensitivities(this);
    }

    /**
     * Works out where the energy of a period went.
     *
     * @return the audit
     */
    public EnergyAudit audit() {
        EnergyAudit known = audit;
        if (known == null) {
            known = periodic.audit();
            audit = known;
        }
        return known;
    }

    @Override
    public String toString() {
        return "steady state of " + converter;
    }
}
