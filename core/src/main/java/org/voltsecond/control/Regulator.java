package org.voltsecond.control;

import java.util.List;

/** A way of regulating, before it is put to a circuit: control method, compensator, limits. Immutable. */
public interface Regulator {
    /**
     * Returns everything that is wrong with the values of this regulator.
     *
     * @return one line for each fault; empty if all is well
     */
    List<String> faults();

    /**
     * Puts the regulator to a circuit.
     *
     * @param plant the switches that it drives and the signals that it senses
     * @return the controller
     * @throws IllegalArgumentException listing all faults, if there are any
     */
    Controller on(Plant plant);

    /**
     * Returns this regulator with what surrounds it.
     *
     * @param protection limits of time and current, lock-out, synchronous rectification
     * @return a regulator that drives through the protection
     */
    default Regulator withProtection(Protection protection) {
        return new ProtectedRegulator(this, protection);
    }
}
