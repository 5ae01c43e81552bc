package org.voltsecond.plot;

/**
 * An instant to be marked in all panels, for example a load step.
 *
 * <pre>{@code
 * TimeMark loadStep = new TimeMark(milli(0.5), "2 A");
 * Picture picture = Pictures.stack()
 *         .panel(start.of(rail.outputVoltage()))
 *         .mark(loadStep.time(), loadStep.label())
 *         .build();
 * }</pre>
 *
 * @param time when, s
 * @param label what happens then; short
 */
public record TimeMark(double time, String label) {}
