package org.voltsecond.sizing;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.StagePart;
import org.voltsecond.stage.Topology;

/**
 * Collects a {@link Specification}. Input, output, load, switching frequency and both ripples must be given; parts
 * are ideal and limits absent unless stated.
 *
 * <pre>{@code
 * SpecificationBuilder wanted = Specification.of(Topology.BUCK)
 *         .input(9, 15) // V
 *         .output(5) // V
 *         .load(0.05, 2) // A
 *         .switchingFrequency(kilo(300))
 *         .inductorRipple(0.3) // of the mean current
 *         .outputRipple(milli(50)); // V, peak to peak
 * PartsProposal proposal = wanted.propose().refined(); // held against the exact steady states
 * }</pre>
 */
public final class SpecificationBuilder {
    private final Topology topology;
    private Span input = new Span(Double.NaN, Double.NaN);
    private double output = Double.NaN;
    private Span load = new Span(Double.NaN, Double.NaN);
    private double frequency = Double.NaN;
    private double inductorRipple = Double.NaN;
    private double outputRipple = Double.NaN;
    private double capacitiveShare = 0.5;
    private ConductingParts parts = ConductingParts.IDEAL;
    private PartSeries series = PartSeries.USUAL;
    private Load loadKind = Load.resistor(1);
    private PracticalLimits limits = PracticalLimits.NONE;
    private final List<StagePart> given = new ArrayList<>();

    SpecificationBuilder(Topology topology) {
        this.topology = topology;
    }

    /**
     * Sets the range of the input voltage.
     *
     * @param lowest V; more than 0
     * @param highest V; not below the lowest
     * @return this builder
     */
    public SpecificationBuilder input(double lowest, double highest) {
        input = new Span(lowest, highest);
        return this;
    }

    /**
     * Sets the output voltage.
     *
     * @param voltage its magnitude, V; more than 0
     * @return this builder
     */
    public SpecificationBuilder output(double voltage) {
        output = voltage;
        return this;
    }

    /**
     * Sets the range of the load.
     *
     * @param lowest A; more than 0
     * @param highest A; not below the lowest
     * @return this builder
     */
    public SpecificationBuilder load(double lowest, double highest) {
        load = new Span(lowest, highest);
        return this;
    }

    /**
     * Sets the switching frequency.
     *
     * @param hertz Hz; more than 0
     * @return this builder
     */
    public SpecificationBuilder switchingFrequency(double hertz) {
        frequency = hertz;
        return this;
    }

    /**
     * Sets the target of the inductor ripple.
     *
     * @param fraction peak to peak, of the mean inductor current at full load and the same input; usually 0.2 to 0.4
     * @return this builder
     */
    public SpecificationBuilder inductorRipple(double fraction) {
        inductorRipple = fraction;
        return this;
    }

    /**
     * Sets the target of the output ripple.
     *
     * @param volt peak to peak, V; more than 0
     * @return this builder
     */
    public SpecificationBuilder outputRipple(double volt) {
        outputRipple = volt;
        return this;
    }

    /**
     * Sets how the output ripple is divided; half and half unless stated.
     *
     * @param share the part that the capacitance may take, more than 0 and at most 1; the ESR gets what is left
     * @return this builder
     */
    public SpecificationBuilder capacitiveShare(double share) {
        capacitiveShare = share;
        return this;
    }

    /**
     * Sets the drops of the parts.
     *
     * @param conducting the parts
     * @return this builder
     */
    public SpecificationBuilder parts(ConductingParts conducting) {
        parts = conducting;
        return this;
    }

    /**
     * Sets the series of preferred values.
     *
     * @param preferred the series
     * @return this builder
     */
    public SpecificationBuilder series(PartSeries preferred) {
        series = preferred;
        return this;
    }

    /**
     * Sets the kind of load; a resistor unless stated.
     *
     * @param like a load of that kind, whatever its value
     * @return this builder
     */
    public SpecificationBuilder loadedBy(Load like) {
        loadKind = like;
        return this;
    }

    /**
     * Sets limits of controller and inductor.
     *
     * @param held the limits
     * @return this builder
     */
    public SpecificationBuilder limits(PracticalLimits held) {
        limits = held;
        return this;
    }

    /**
     * Adds a part of the stage beyond the usual ones, such as its phases. What the stage proposes stands in place of one of its kind.
     *
     * @param part the part
     * @return this builder
     */
    public SpecificationBuilder with(StagePart part) {
        given.add(part);
        return this;
    }

    /**
     * Checks the values.
     *
     * @return the specification
     * @throws SizingException if a value is missing or out of its range; tells all faults at once
     */
    public Specification build() {
        return new Specification(
                topology,
                input,
                output,
                load,
                frequency,
                inductorRipple,
                outputRipple,
                capacitiveShare,
                parts,
                series,
                loadKind,
                limits,
                given);
    }

    /**
     * Checks the values and proposes parts.
     *
     * @return the proposal
     * @throws SizingException if a value is missing or out of its range, or the drops leave no duty cycle
     */
    public PartsProposal propose() {
        return PartsProposal.of(build());
    }
}
