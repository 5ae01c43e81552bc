package org.voltsecond.waveform;

/**
 * An instant at which a waveform passes through a level, steadily or by a jump.
 *
 * <pre>{@code
 * List<Crossing> crossings = start.of(rail.outputVoltage()).crossings(5);
 * double upThrough = crossings.get(0).time(); // 55.59 µs
 * boolean rising = crossings.get(0).rising(); // true
 * }</pre>
 *
 * @param time when, s
 * @param rising whether the waveform is above the level afterwards
 */
public record Crossing(double time, boolean rising) {}
