package org.voltsecond.control;

import org.voltsecond.circuit.Circuit;

/** Something that changes at a time that is known in advance. */
sealed interface ScheduledChange {
    /** When, s since the start. */
    double time();

    /** The circuit becomes another of the same structure. */
    record OfCircuit(double time, Circuit circuit) implements ScheduledChange {}

    /** A switch is driven otherwise. */
    record OfDrive(double time, String switchName, Drive drive) implements ScheduledChange {}

    /** The controller becomes another of the same kind. */
    record OfController(double time, Controller controller) implements ScheduledChange {}
}
