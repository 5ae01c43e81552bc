package org.voltsecond.examples.gallery;

import static org.voltsecond.examples.gallery.Rails.logicRail;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;
import static org.voltsecond.units.Si.nano;

import java.util.List;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.LinearRegulator;
import org.voltsecond.emission.EmissionEstimate;
import org.voltsecond.emission.EmissionLimits;
import org.voltsecond.emission.Emissions;
import org.voltsecond.losses.EfficiencyCurve;
import org.voltsecond.losses.GateChargeLoss;
import org.voltsecond.losses.HeatBalance;
import org.voltsecond.losses.HeatModel;
import org.voltsecond.losses.HeatedBody;
import org.voltsecond.losses.LossBudget;
import org.voltsecond.losses.LossModel;
import org.voltsecond.losses.OutputCapacitanceLoss;
import org.voltsecond.losses.OverlapLoss;
import org.voltsecond.losses.TemperatureCurve;
import org.voltsecond.plot.LossPictures;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.plot.parts.EmissionPicture;
import org.voltsecond.sizing.FilterProposal;
import org.voltsecond.units.Unit;

/** Losses, efficiency, emissions, and figures over a quantity. */
final class LossesAndLines {
    private LossesAndLines() {}

    @Shown(value = "Bars", about = "Figures of one kind side by side; a second name for each bar makes groups.")
    static Picture bars() {
        ConverterSteadyState steady = logicRail().steadyState();
        double linear = LinearRegulator.of(12, 5).efficiencyLimit();
        double output = steady.outputPower();
        return Pictures.bars("What a 5 V rail turns into heat", "loss", Unit.WATT)
                .subtitle("12 V in, 10 W out")
                .bar("buck stage", steady.inputPower() - output)
                .bar("linear regulator, at best", output / linear - output)
                .build();
    }

    @Shown(
            value = "Losses by part and cause",
            about = "Stacked bars: what ideal switching knows, and models of gate drive, overlap and capacitance.")
    static Picture losses() {
        List<LossModel> models =
                List.of(new OverlapLoss(15e-9, 20e-9), new OutputCapacitanceLoss(250e-12), new GateChargeLoss(9e-9, 5));
        LossBudget budget = LossBudget.of(logicRail().steadyState(), models);
        return LossPictures.losses("Logic rail: losses at 2 A", budget);
    }

    @Shown(
            value = "Temperatures against what the parts stand",
            about = "Losses heat the parts, and these lose more when they are hot: both are solved together.")
    static Picture temperatures() {
        HeatModel heat = HeatModel.at(
                60,
                HeatedBody.of("Q1", 60)
                        .withResistance(TemperatureCurve.linear(0.006, 25))
                        .withMaximum(125),
                HeatedBody.of("D1", 60).withForwardDrop(-0.001, 25).withMaximum(125),
                HeatedBody.of("L1", 45)
                        .withResistance(TemperatureCurve.copper(20))
                        .withMaximum(100));
        HeatBalance balance = heat.balance(logicRail().steadyState()).get();
        return LossPictures.temperatures("Logic rail: temperatures at 2 A", balance);
    }

    @Shown(
            value = "Efficiency over load",
            about =
                    "The duty cycle follows the load so that the output stays at 5 V, through both modes of conduction.")
    static Picture efficiency() {
        List<LossModel> models =
                List.of(new OverlapLoss(15e-9, 20e-9), new OutputCapacitanceLoss(250e-12), new GateChargeLoss(9e-9, 5));
        EfficiencyCurve curve = EfficiencyCurve.of(logicRail(), 5, models, EfficiencyCurve.loads(milli(5), 2, 27));
        return LossPictures.efficiency("Logic rail: efficiency over load", curve);
    }

    @Shown(value = "Lines over any quantity", about = "Here the ripple over the input voltage, at one duty cycle.")
    static Picture lines() {
        double[] inputs = {9, 10, 11, 12, 13, 14, 15};
        double[] ripples = new double[inputs.length];
        for (int k = 0; k < inputs.length; k++) {
            Converter rail = logicRail().withInput(inputs[k]);
            ripples[k] = rail.steadyState().of(rail.outputVoltage()).peakToPeak();
        }
        return Pictures.lines("Output ripple over the battery's range")
                .x("input voltage", Unit.VOLT)
                .y("output ripple", Unit.VOLT)
                .line("buck stage", inputs, ripples)
                .limit(milli(6), "highest permitted")
                .build();
    }

    @Shown(
            value = "Emissions into the supply",
            about = "Harmonics at an artificial network, without and with the filter that is proposed for them.")
    static Picture emissions() {
        Emissions bare = EmissionEstimate.of(logicRail().withAcrossInput("CI", micro(10), milli(5)))
                .limits(EmissionLimits.CLASS_B)
                .edges(nano(15), nano(20))
                .measure();
        return EmissionPicture.of(
                "Logic rail",
                "50 µH in each line, 10 µF at the stage",
                bare,
                FilterProposal.of(bare).get().emissions());
    }
}
