package org.voltsecond.control;

import java.util.List;

/** A control voltage that the circuit itself makes, with an amplifier and its network as parts. */
interface CircuitControl extends ControlPath {
    /** There is no discrete part: limits are the amplifier's own. */
    enum Always implements State {
        PRESENT;

        @Override
        public boolean rising() {
            return false;
        }
    }

    @Override
    default List<String> faults() {
        return List.of();
    }

    @Override
    default State start() {
        return Always.PRESENT;
    }

    @Override
    default ControlPath afterStart() {
        return this;
    }

    @Override
    default List<Controller.OwnState> states(double clockPeriod) {
        return List.of();
    }
}
