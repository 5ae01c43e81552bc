package org.voltsecond.control;

import java.util.List;

/**
 * A regulator and what surrounds it.
 *
 * @param regulator the regulator
 * @param protection what surrounds it
 */
record ProtectedRegulator(Regulator regulator, Protection protection) implements Regulator {
    @Override
    public List<String> faults() {
        return new Checks()
                .and(regulator.faults())
                .and(protection.faults())
                .and(regulator.faults().isEmpty() ? protection.faults(clockPeriod()) : List.of())
                .faults();
    }

    @Override
    public double clockPeriod() {
        return regulator.clockPeriod();
    }

    @Override
    public boolean isClocked() {
        return regulator.isClocked();
    }

    @Override
    public Regulator withReference(double reference) {
        return new ProtectedRegulator(regulator.withReference(reference), protection);
    }

    @Override
    public Regulator withProtection(Protection other) {
        return new ProtectedRegulator(regulator, other);
    }

    @Override
    public Controller on(Plant plant) {
        Checks.requireNone(faults());
        if (!(regulator.on(plant) instanceof RegulatedController bare)) {
            throw new IllegalArgumentException("a regulator can be protected if it is one of this library, such as "
                    + "VoltageMode, but was " + regulator);
        }
        return new RegulatedController(plant, bare.path(), bare.modulator(), protection);
    }
}
