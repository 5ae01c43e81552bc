package org.voltsecond.design;

import java.util.Map;
import org.voltsecond.converter.StageFigure;
import org.voltsecond.study.Axis;

/**
 * The operating map that a design file asks for.
 *
 * @param across the quantity from left to right
 * @param up the quantity from bottom to top
 * @param outputVoltage magnitude of the output voltage that is held at each point, V; not a number if the drive stays
 * @param figures what to show, by the names of the file, in its order
 */
public record MapPlan(Axis across, Axis up, double outputVoltage, Map<String, StageFigure> figures) {}
