package org.voltsecond.figures;

import java.util.OptionalDouble;
import org.voltsecond.converter.Converter;

/** What a regulator aims at. */
final class Targets {
    private Targets() {}

    /** The magnitude of the output voltage, V; empty where none is aimed at. */
    static OptionalDouble of(Converter converter) {
        return converter.isRegulated() ? converter.regulator().target() : OptionalDouble.empty();
    }
}
