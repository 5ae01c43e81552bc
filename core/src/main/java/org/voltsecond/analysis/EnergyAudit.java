package org.voltsecond.analysis;

import java.util.ArrayList;
import java.util.Collections;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.NonlinearResistor;
import org.voltsecond.circuit.Part;
import org.voltsecond.circuit.Port;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.engine.AffineForm;
import org.voltsecond.engine.Configuration;
import org.voltsecond.engine.Interval;
import org.voltsecond.engine.Trajectory;
import org.voltsecond.waveform.RunReading;

/**
 * Where the energy of a run went: what the sources delivered, what each part dissipated, and by how much the stored
 * energy changed. All three are worked out on their own, by exact integrals, so that their sum is a check of the run.
 *
 * <pre>{@code
 * EnergyAudit audit = start.audit();
 * double stored = audit.storedChange(); // 628.2 µJ
 * double diode = audit.dissipated().get("D1"); // 1.052 mJ
 * boolean sound = Math.abs(audit.residual()) < 1e-9 * audit.totalDelivered(); // true
 * }</pre>
 *
 * @param delivered energy delivered by each source, J, by name; negative if the source took energy in
 * @param dissipated energy turned into heat in each part, J, by name
 * @param storedChange stored energy at the end less that at the start, J
 * @param redistributed stored energy lost in jumps of the state, where ideal switching redistributes charge, J
 * @param stored energy stored at the start or at the end, whichever is more, J
 * @param resolution energy that rounding of the state may add to the store or take from it, J: in each interval of the run a
 *     unit in the last place
 * @param duration how long the run lasted, s
 */
public record EnergyAudit(
        Map<String, Double> delivered,
        Map<String, Double> dissipated,
        double storedChange,
        double redistributed,
        double stored,
        double resolution,
        double duration) {

    /**
     * Makes the maps unmodifiable, in the order of the circuit's parts.
     *
     * @param delivered energy delivered by each source, J
     * @param dissipated energy turned into heat in each part, J
     * @param storedChange stored energy at the end less that at the start, J
     * @param redistributed stored energy lost in jumps of the state, J
     * @param stored energy stored at the start or at the end, whichever is more, J
     * @param resolution energy that rounding of the state may add to the store or take from it, J
     * @param duration how long the run lasted, s
     */
    public EnergyAudit {
        delivered = Collections.unmodifiableMap(new LinkedHashMap<>(delivered));
        dissipated = Collections.unmodifiableMap(new LinkedHashMap<>(dissipated));
    }

    /**
     * Audits a run.
     *
     * @param circuit the circuit that was run
     * @param trajectory the run
     * @return the audit
     */
    public static EnergyAudit of(DrivenCircuit circuit, Trajectory trajectory) {
        return of(circuit, RunReading.of(trajectory));
    }

    /** Whoever waits for the reading is served by the same walk. */
    static EnergyAudit of(DrivenCircuit circuit, RunReading reading) {
        Ledger ledger = new Ledger(circuit, reading.run());
        reading.read(ledger);
        return ledger.audit();
    }

    /**
     * Returns the energy that all sources delivered.
     *
     * @return the energy, J
     */
    public double totalDelivered() {
        return sum(delivered);
    }

    /**
     * Returns the energy that all parts turned into heat, loads included.
     *
     * @return the energy, J
     */
    public double totalDissipated() {
        return sum(dissipated);
    }

    /**
     * Returns the mean power that a part turned into heat.
     *
     * @param part the name of the part
     * @return the power, W; 0 for a part that dissipates nothing
     */
    public double meanLoss(String part) {
        return dissipated.getOrDefault(part, 0.0) / duration;
    }

    /**
     * Returns by how much the energy does not balance: |delivered - dissipated - stored - redistributed| relative to the
     * largest energy that takes part. What is below {@link #resolution()} cannot be told from rounding, and is relative to the
     * stored energy: nothing moves in a converter at rest but the last digits of what its capacitor holds.
     *
     * @return the relative residual; 0 if no energy moved at all
     */
    public double residual() {
        double difference = totalDelivered() - totalDissipated() - storedChange - redistributed;
        double largest = Math.max(Math.abs(storedChange), Math.abs(redistributed));
        for (double energy : delivered.values()) {
            largest = Math.max(largest, Math.abs(energy));
        }
        for (double energy : dissipated.values()) {
            largest = Math.max(largest, Math.abs(energy));
        }
        double size = Math.abs(difference) <= resolution ? Math.max(largest, stored) : largest;
        return size == 0 ? 0 : Math.abs(difference) / size;
    }

    private static double sum(Map<String, Double> energies) {
        return energies.values().stream().mapToDouble(Double::doubleValue).sum();
    }

    /** Adds up the energies of one run. */
    private static final class Ledger extends RunReading.OfBlocks {
        private static final double UNIT = 0x1p-52;

        private final DrivenCircuit driven;
        private final Map<String, Double> delivered = new LinkedHashMap<>();
        private final Map<String, Double> dissipated = new LinkedHashMap<>();
        /** In the order in which they were first met, so that the same run gives the same bits. */
        private final List<MomentSum> sums = new ArrayList<>();

        private final IdentityHashMap<Configuration, IdentityHashMap<Circuit, MomentSum>> positions =
                new IdentityHashMap<>();
        private final Trajectory trajectory;
        private double redistributed;

        Ledger(DrivenCircuit driven, Trajectory trajectory) {
            super(trajectory);
            this.driven = driven;
            this.trajectory = trajectory;
        }

        @Override
        protected void read(Interval interval, int times) {
            Circuit circuit = driven.circuit(interval.phase());
            if (interval.jump() != null) {
                double[] left = trajectory.stateBefore(interval.index());
                redistributed += times * (circuit.storedEnergy(left) - circuit.storedEnergy(interval.startState()));
            }
            sumOf(circuit, interval.configuration()).moments.add(interval, times);
        }

        EnergyAudit audit() {
            sums.forEach(this::enter);
            double first = driven.circuit().storedEnergy(trajectory.initialState());
            double last = driven.circuit().storedEnergy(trajectory.finalState());
            double duration = trajectory.end() - trajectory.start();
            double stored = Math.max(first, last);
            double resolution = UNIT * stored * trajectory.size();
            return new EnergyAudit(delivered, dissipated, last - first, redistributed, stored, resolution, duration);
        }

        /** Energies are linear in the moments, so those of all intervals alike are added up first. */
        private MomentSum sumOf(Circuit circuit, Configuration configuration) {
            IdentityHashMap<Circuit, MomentSum> byCircuit = positions.get(configuration);
            if (byCircuit == null) {
                byCircuit = new IdentityHashMap<>();
                positions.put(configuration, byCircuit);
            }
            MomentSum sum = byCircuit.get(circuit);
            if (sum == null) {
                sum = new MomentSum(circuit, configuration, formsOf(configuration));
                byCircuit.put(circuit, sum);
                sums.add(sum);
            }
            return sum;
        }

        private void enter(MomentSum sum) {
            double[][] moments = sum.moments.values();
            for (Part part : sum.circuit.parts()) {
                for (Port port : part.ports()) {
                    AffineForm[] pair = sum.ports.get(port.name());
                    if (pair != null) {
                        enter(part, port, pair[0], pair[1], moments);
                    }
                }
            }
        }

        private Map<String, AffineForm[]> formsOf(Configuration configuration) {
            Map<String, AffineForm[]> result = new LinkedHashMap<>();
            for (Part part : driven.circuit().parts()) {
                for (Port port : part.ports()) {
                    AffineForm voltage = driven.voltageAcross(port.name()).in(configuration);
                    AffineForm current = driven.current(port.name()).in(configuration);
                    result.put(port.name(), new AffineForm[] {voltage, current});
                }
            }
            return result;
        }

        private void enter(Part part, Port port, AffineForm voltage, AffineForm current, double[][] moments) {
            switch (Kind.of(part)) {
                case SOURCE -> delivered.merge(part.name(), -product(voltage, current, moments), Double::sum);
                case RESISTIVE -> dissipated.merge(part.name(), product(voltage, current, moments), Double::sum);
                case STORING -> {
                    double heat = Kind.seriesResistance(part, port) * product(current, current, moments);
                    dissipated.merge(part.name(), heat, Double::sum);
                }
            }
        }

        private static double product(AffineForm first, AffineForm second, double[][] moments) {
            double sum = 0;
            for (int i = 0; i < moments.length; i++) {
                for (int j = 0; j < moments.length; j++) {
                    sum += MomentSum.factor(first, i) * MomentSum.factor(second, j) * moments[i][j];
                }
            }
            return sum;
        }
    }

    /** What a part does with energy. */
    enum Kind {
        SOURCE,
        RESISTIVE,
        STORING;

        static Kind of(Part part) {
            if (part instanceof Part.Resistor
                    || part instanceof NonlinearResistor
                    || part instanceof Part.Switch
                    || part instanceof Part.Rectifier) {
                return RESISTIVE;
            }
            boolean winds = part instanceof Part.CoupledInductors || part instanceof Part.IdealTransformer;
            return winds || part instanceof Part.Inductor || part instanceof Part.Capacitor ? STORING : SOURCE;
        }

        static double seriesResistance(Part part, Port port) {
            if (part instanceof Part.Inductor inductor) {
                return inductor.seriesResistance();
            }
            if (part instanceof Part.Capacitor capacitor) {
                return capacitor.seriesResistance();
            }
            int winding = part.ports().indexOf(port);
            return part instanceof Part.CoupledInductors coupled
                    ? coupled.windings().get(winding).seriesResistance()
                    : ((Part.IdealTransformer) part).windings().get(winding).seriesResistance();
        }
    }

    /** The second moments of all intervals in which one configuration of one circuit held. */
    private static final class MomentSum {
        final Circuit circuit;
        /** Voltage and current of each port. */
        final Map<String, AffineForm[]> ports;

        final Interval.Moments moments;

        MomentSum(Circuit circuit, Configuration configuration, Map<String, AffineForm[]> ports) {
            this.ports = ports;
            this.circuit = circuit;
            // which states, constant and time the ports depend on; no other moment is asked for
            boolean[] wanted = new boolean[configuration.dimension() + 2];
            for (AffineForm[] pair : ports.values()) {
                for (int i = 0; i < wanted.length; i++) {
                    wanted[i] |= factor(pair[0], i) != 0 || factor(pair[1], i) != 0;
                }
            }
            moments = new Interval.Moments(configuration, wanted);
        }

        /** The factor of a state, of the constant 1, or of the time since the clock edge. */
        static double factor(AffineForm form, int i) {
            if (i < form.dimension()) {
                return form.coefficient(i);
            }
            return i == form.dimension() ? form.constant() : form.slope();
        }
    }
}
