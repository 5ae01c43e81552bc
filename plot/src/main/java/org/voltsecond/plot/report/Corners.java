package org.voltsecond.plot.report;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.DutyCycleSearch;
import org.voltsecond.engine.SwitchingException;
import org.voltsecond.sizing.CornerRequirements;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Result;
import org.voltsecond.units.Unit;

/** The design's own parts at the corners of input and load of its sizing, the output held there. */
final class Corners {
    private Corners() {}

    /** By what the corner is called, for example "corner 9 V, 2 A". */
    static Map<String, Result<ConverterSteadyState>> of(Converter converter, CornerRequirements wanted) {
        Map<String, Result<ConverterSteadyState>> corners = new LinkedHashMap<>();
        for (double volt :
                new TreeSet<>(List.of(wanted.input().low(), wanted.input().high()))) {
            for (double ampere :
                    new TreeSet<>(List.of(wanted.load().low(), wanted.load().high()))) {
                Load load = converter.load().drawing(ampere, wanted.outputVoltage());
                corners.put(
                        "corner " + Quantity.brief(volt, Unit.VOLT) + ", " + Quantity.brief(ampere, Unit.AMPERE),
                        held(converter.withInput(volt).withLoad(load), wanted.outputVoltage()));
            }
        }
        return corners;
    }

    private static Result<ConverterSteadyState> held(Converter there, double output) {
        try {
            return Result.of(
                    there.isRegulated()
                            ? there.steadyState()
                            : DutyCycleSearch.forOutput(there, output).steadyState());
        } catch (NoSteadyStateException | SwitchingException e) {
            return Result.missing(String.valueOf(e.getMessage()));
        }
    }
}
