package org.voltsecond.control;

import org.voltsecond.circuit.Circuit;
import org.voltsecond.circuit.Network;
import org.voltsecond.engine.ClockTime;

/** The time between two scheduled changes: what the circuit and its sources are, and what drives its gates. */
record Epoch(ClockTime start, Circuit circuit, Network network, Controller controller) {}
