package org.voltsecond.sizing;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.analysis.FrequencyResponse;
import org.voltsecond.analysis.Margins;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.converter.ConverterTransient;
import org.voltsecond.converter.DutyCycleSearch;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.numeric.Complex;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Topology;
import org.voltsecond.waveform.Waveform;

class LoopProposalTest {
    private static Converter stage(Topology topology, double output, double ohm) {
        Converter stage = PowerStage.of(topology)
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(ohm))
                .drive(Drive.fixedDuty(0.4, kilo(300)));
        return DutyCycleSearch.forOutput(stage, output);
    }

    /** Crossover and margin are found again by another way: a sweep of the exact loop gain and its margins. */
    @ParameterizedTest
    @CsvSource({
        "BUCK, 5, 2.5, 20, 60, 3",
        "BUCK, 5, 2.5, 50, 45, 3",
        "BUCK, 5, 2.5, 2, 45, 1",
        "BUCK, 5, 2.5, 5, 45, 2",
        "BOOST, 24, 48, 5, 60, 3",
        "INVERTING_BUCK_BOOST, 5, 2.5, 5, 60, 3"
    })
    void crossoverAndMarginAreThoseAskedFor(
            Topology topology, double output, double ohm, double kilohertz, double margin, int type) {
        Converter stage = stage(topology, output, ohm);
        LoopProposal loop = LoopProposal.of(
                stage, LoopTarget.of(kilo(kilohertz), margin).withReference(0.8).withRamp(1.5));
        ConverterSteadyState steady = loop.converter().steadyState();
        Margins found = steady.smallSignal()
                .loopGain(FrequencyResponse.decades(kilo(kilohertz) / 3, kilo(kilohertz) * 3, 40))
                .margins();
        assertThat(loop.type()).isEqualTo(type);
        assertThat(found.crossoverFrequency().orElseThrow()).isCloseTo(kilo(kilohertz), within(1e-6 * kilo(kilohertz)));
        if (type == 1) {
            assertThat(found.phaseMargin().orElseThrow()).isGreaterThan(margin);
        } else {
            assertThat(found.phaseMargin().orElseThrow()).isCloseTo(margin, within(1e-6));
        }
        assertThat(steady.periodic().isStable()).isTrue();
        double mean = steady.of(loop.converter().outputVoltage()).mean();
        assertThat(Math.abs(mean)).isCloseTo(output, within(1e-3 * output));
        assertThat(loop.divider()).isCloseTo(0.8 / output, within(1e-9));
    }

    /**
     * The K factor on the averaged buck stage, by hand: its response to the duty cycle is V_in + V_F (the switch node's swing)
     * times the filter's (R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, ch. 8), and the boost that is
     * missing is shared by two pairs (H. D. Venable, The K factor, Powercon 10, 1983, from memory). The ripple of the control
     * voltage is not in it, so that the exact proposal differs by some per cent.
     */
    @Test
    void isNearTheKFactorOfTheAveragedStage() {
        double crossover = kilo(15);
        LoopProposal loop = LoopProposal.of(stage(Topology.BUCK, 5, 2.5), LoopTarget.of(crossover, 60));
        Complex s = new Complex(0, 2 * Math.PI * crossover);
        double series = 0.03 + 0.45 * 0.08 + 0.55 * 0.02;
        Complex capacitor = s.multiply(47e-6).reciprocal().add(0.005);
        Complex parallel = capacitor.multiply(2.5).divide(capacitor.add(2.5));
        Complex filter = parallel.divide(parallel.add(s.multiply(22e-6)).add(series));
        double swing = 12 + 0.4 - 2 * (0.08 - 0.02);
        Complex plant = filter.multiply(swing / 5);
        double boost = 60 - 90 - Math.toDegrees(plant.argument());
        double k = Math.pow(Math.tan(Math.toRadians(boost / 4 + 45)), 2);
        assertThat(loop.zero()).isCloseTo(crossover / Math.sqrt(k), within(0.05 * loop.zero()));
        assertThat(loop.pole()).isCloseTo(crossover * Math.sqrt(k), within(0.05 * loop.pole()));
        double gain = 2 * Math.PI * crossover / (k * plant.magnitude());
        assertThat(loop.integratorGain()).isCloseTo(gain, within(0.1 * gain));
    }

    /** K of Venable's curves: 3.73 for 60 degrees of one pair, 13.9 for 120 degrees of two (Powercon 10, 1983, from memory). */
    @Test
    void kFactorsOfTheCurves() {
        KFactor two = KFactor.of(1000, 60, 2);
        assertThat(two.type()).isEqualTo(2);
        assertThat(1000 / two.zero()).isCloseTo(3.73, within(0.005));
        assertThat(two.pole() / 1000).isCloseTo(3.73, within(0.005));
        KFactor three = KFactor.of(1000, 120, 2);
        assertThat(three.type()).isEqualTo(3);
        assertThat(Math.pow(1000 / three.zero(), 2)).isCloseTo(13.9, within(0.05));
        assertThat(KFactor.of(1000, 0, 2).type()).isEqualTo(1);
        // one pair would have to be spread by tan(80 degrees)^2 = 32, which is shared by two
        assertThat(KFactor.of(1000, 70, 2).type()).isEqualTo(3);
        for (KFactor each : new KFactor[] {KFactor.of(1000, -5, 2), two, three, KFactor.of(1000, 160, 2)}) {
            assertThat(each.at(1000).magnitude()).isCloseTo(2, within(1e-12));
        }
        assertThat(Math.toDegrees(two.at(1000).argument())).isCloseTo(-90 + 60, within(1e-9));
        assertThat(Math.toDegrees(three.at(1000).argument())).isCloseTo(-90 + 120, within(1e-9));
    }

    /**
     * Far above the double pole a boost stage lags by 180 degrees and by the angle of its zero in the right half-plane, which
     * its losses and the capacitor's own zero change by a few degrees (R. W. Erickson, D. Maksimovic, Fundamentals of Power
     * Electronics, ch. 8): more than half a turn, and not taken for a lead.
     */
    @Test
    void aLagOfMoreThanHalfATurnIsTold() {
        Converter stage = stage(Topology.BOOST, 24, 48);
        double zero =
                StageFormulas.rightHalfPlaneZero(Topology.BOOST, stage.drive().dutyCycle(), 48, micro(22));
        double lag = 180 + Math.toDegrees(Math.atan(kilo(40) / zero));
        assertThatThrownBy(() -> LoopProposal.of(stage, LoopTarget.of(kilo(40), 60)))
                .isInstanceOfSatisfying(SizingException.class, e -> {
                    String fault = e.faults().get(0);
                    assertThat(fault).contains("degrees more than an integrator has");
                    String told = fault.replaceAll(".*lags by (\\d+) degrees.*", "$1");
                    assertThat(Double.parseDouble(told)).isCloseTo(lag, within(6.0));
                });
    }

    @Test
    void theOutputMayBeItsOwnReference() {
        LoopProposal loop = LoopProposal.of(
                stage(Topology.BUCK, 5, 2.5), LoopTarget.of(kilo(20), 60).withReference(5));
        assertThat(loop.divider()).isCloseTo(1, within(1e-8)).isLessThanOrEqualTo(1);
    }

    /** A boost stage at a duty cycle of 1 makes no output, so that a regulator that may go there would hold it there. */
    @Test
    void halfOfWhatIsLeftOfThePeriodIsLeft() {
        Converter steep = stage(Topology.BOOST, 80, 300);
        double dutyCycle = steep.drive().dutyCycle();
        assertThat(dutyCycle).isGreaterThan(0.8);
        LoopProposal loop = LoopProposal.of(steep, LoopTarget.of(kilo(2), 45));
        assertThat(1 - loop.maximumDutyCycle()).isCloseTo((1 - dutyCycle) / 2, within(1e-12));
        assertThat(LoopProposal.of(stage(Topology.BUCK, 5, 2.5), LoopTarget.of(kilo(20), 60))
                        .maximumDutyCycle())
                .isEqualTo(0.9);
    }

    /** A loop of 60 degrees rings little: the output is back in a few periods of the crossover after a load step. */
    @Test
    void aLoadStepComesToRest() {
        LoopProposal loop = LoopProposal.of(stage(Topology.BUCK, 5, 2.5), LoopTarget.of(kilo(20), 60));
        Converter converter = loop.converter().withLoad(Load.resistor(5));
        ConverterTransient run = converter.transientFromSteadyState(
                milli(1), Change.at(micro(100)).load(Load.resistor(2.5)));
        double deepest = run.of(converter.outputVoltage()).minimum();
        double later = run.of(converter.outputVoltage()).at(micro(100) + 10 / kilo(20));
        assertThat(deepest).isBetween(4.7, 4.98);
        assertThat(Math.abs(later - 5)).isLessThan(0.1 * (5 - deepest));
    }

    @Test
    void everyCornerIsTold() {
        LoopProposal loop = LoopProposal.of(stage(Topology.BUCK, 5, 2.5), LoopTarget.of(kilo(20), 60));
        LoopCheck check = loop.check(new Span(9, 15), new Span(0.05, 2));
        assertThat(check.failures()).isEmpty();
        assertThat(check.results())
                .extracting(LoopCornerResult::corner)
                .containsExactly(new Corner(9, 0.05), new Corner(9, 2), new Corner(15, 0.05), new Corner(15, 2));
        assertThat(check.isStable()).isTrue();
        // the gain of a buck stage is proportional to its input
        double low = check.results().get(1).margins().crossoverFrequency().orElseThrow();
        double high = check.results().get(3).margins().crossoverFrequency().orElseThrow();
        assertThat(low).isLessThan(kilo(20));
        assertThat(high).isGreaterThan(kilo(20));
        LoopCornerResult worst = check.worst().orElseThrow();
        assertThat(check.results())
                .allSatisfy(result -> assertThat(result.margins().phaseMargin().orElseThrow())
                        .isGreaterThanOrEqualTo(worst.margins().phaseMargin().orElseThrow()));
        assertThat(loop.check(new Span(12, 12), new Span(2, 2)).results())
                .singleElement()
                .satisfies(result ->
                        assertThat(result.margins().phaseMargin().orElseThrow()).isCloseTo(60, within(0.01)));
    }

    /** A corner that is not stable is worse than any margin, and one without a crossover is not the least. */
    @Test
    void theWorstCornerIsTheUnstableOne() {
        LoopCornerResult good = corner(15, OptionalDouble.of(50), true);
        LoopCornerResult poor = corner(12, OptionalDouble.of(20), true);
        LoopCornerResult silent = corner(10, OptionalDouble.empty(), true);
        LoopCornerResult unstable = corner(9, OptionalDouble.of(70), false);
        assertThat(new LoopCheck(List.of(good, silent, poor, unstable), Map.of()).worst())
                .contains(unstable);
        LoopCheck stable = new LoopCheck(List.of(good, silent, poor), Map.of());
        assertThat(stable.worst()).contains(poor);
        assertThat(stable.isStable()).isTrue();
        assertThat(new LoopCheck(List.of(good, unstable), Map.of()).isStable()).isFalse();
        assertThat(new LoopCheck(List.of(), Map.of()).worst()).isEmpty();
    }

    /**
     * Peak current mode without slope compensation is unstable at duty cycles above one half (R. W. Erickson, D. Maksimovic,
     * Fundamentals of Power Electronics, ch. 12): 5 V from 9 V takes 0.59, from 15 V 0.36.
     */
    @Test
    void aCornerThatIsNotStableIsTold() {
        Converter regulated = stage(Topology.BUCK, 5, 2.5)
                .withRegulator(CurrentMode.peak(kilo(300), 1, 0.2, Compensator.type2(20e3, 5e3, 100e3), 0.2));
        LoopCheck check = LoopCheck.of(regulated, new Span(9, 15), new Span(2, 2));
        assertThat(check.failures()).isEmpty();
        assertThat(check.results()).extracting(LoopCornerResult::stable).containsExactly(false, true);
        assertThat(check.isStable()).isFalse();
        assertThat(check.worst().orElseThrow().corner()).isEqualTo(new Corner(9, 2));
    }

    private static LoopCornerResult corner(double volt, OptionalDouble phaseMargin, boolean stable) {
        List<Margins.Crossover> crossovers = phaseMargin.stream()
                .mapToObj(degrees -> new Margins.Crossover(kilo(20), degrees))
                .toList();
        Margins.Bound none = Margins.Bound.none("no limit");
        Margins margins = new Margins(stable, crossovers, none, none);
        return new LoopCornerResult(new Corner(volt, 1), Conduction.CONTINUOUS, margins);
    }

    /** What a corner cannot reach is kept with its reason: a buck stage does not step up. */
    @Test
    void aCornerThatCannotBeReachedIsKept() {
        LoopProposal loop = LoopProposal.of(stage(Topology.BUCK, 5, 2.5), LoopTarget.of(kilo(20), 60));
        LoopCheck check = loop.check(new Span(4, 12), new Span(2, 2));
        assertThat(check.isStable()).isFalse();
        assertThat(check.results()).hasSize(1);
        assertThat(check.failures()).containsOnlyKeys(new Corner(4, 2));
        assertThat(check.failures().get(new Corner(4, 2))).contains("at its limit", "in place of 5.000 V");
    }

    /** Without the limit the control voltage of a boost stage falls for as long as the soft start asks for less than its input. */
    @Test
    void theControlVoltageStaysWithinTheRamp() {
        Converter boost = LoopProposal.of(
                        stage(Topology.BOOST, 24, 48),
                        LoopTarget.of(kilo(1), 60).withRamp(2))
                .converter();
        Waveform control = boost.startUp(milli(5)).of(boost.controlVoltage());
        assertThat(control.minimum()).isGreaterThanOrEqualTo(-1e-12);
        assertThat(control.maximum()).isLessThanOrEqualTo(2 + 1e-12);
    }

    @Test
    void aLimitOfTheDutyCycleLeavesRoom() {
        Converter buck = stage(Topology.BUCK, 5, 2.5);
        LoopTarget target = LoopTarget.of(kilo(20), 60);
        assertThat(LoopProposal.of(buck, target, 0.97).maximumDutyCycle()).isEqualTo(0.97);
        assertThatThrownBy(() -> LoopProposal.of(buck, target, 0.3))
                .isInstanceOf(SizingException.class)
                .hasMessageContaining("maximum duty cycle must be above that of the stage");
    }

    @Test
    void whatCannotBeHadIsRefused() {
        Converter buck = stage(Topology.BUCK, 5, 2.5);
        assertThatThrownBy(() -> LoopProposal.of(buck, LoopTarget.of(kilo(150), 60)))
                .isInstanceOf(SizingException.class)
                .hasMessageContaining("below half the switching frequency, 150 kHz, but was 150 kHz");
        assertThatThrownBy(
                        () -> LoopProposal.of(buck, LoopTarget.of(kilo(20), 60).withReference(6)))
                .isInstanceOf(SizingException.class)
                .hasMessageContaining("not be above the output of 5 V but was 6 V");
        assertThatThrownBy(() -> LoopProposal.of(stage(Topology.BOOST, 24, 48), LoopTarget.of(kilo(30), 60)))
                .isInstanceOf(SizingException.class)
                .hasMessageContaining("take a lower crossover");
        Converter regulated = LoopProposal.of(buck, LoopTarget.of(kilo(20), 60)).converter();
        assertThatThrownBy(() -> LoopProposal.of(regulated, LoopTarget.of(kilo(20), 60)))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("regulated");
        assertThatThrownBy(() -> new LoopTarget(Double.NaN, 90, 0, -1))
                .isInstanceOfSatisfying(
                        SizingException.class,
                        e -> assertThat(e.faults())
                                .hasSize(4)
                                .anyMatch(fault -> fault.contains("crossover"))
                                .anyMatch(fault -> fault.contains("phase margin") && fault.contains("90")));
    }

    /** R. W. Erickson, D. Maksimovic, Fundamentals of Power Electronics, ch. 8: 2.65 kHz for the buck-boost example (from memory). */
    @Test
    void zeroInTheRightHalfPlane() {
        assertThat(StageFormulas.rightHalfPlaneZero(Topology.INVERTING_BUCK_BOOST, 0.6, 10, micro(160)))
                .isCloseTo(2650, within(5.0));
        assertThat(StageFormulas.rightHalfPlaneZero(Topology.BUCK, 0.6, 10, micro(160)))
                .isInfinite();
        // far above the double pole of an ideal boost stage the phase is that of both, -180 degrees, and of this zero
        double zero = StageFormulas.rightHalfPlaneZero(Topology.BOOST, 0.5, 48, micro(47));
        Converter boost = PowerStage.boost()
                .input(12)
                .inductor(micro(47))
                .outputCapacitor(micro(100))
                .load(Load.resistor(48))
                .drive(Drive.fixedDuty(0.5, kilo(4000)));
        Complex response =
                boost.steadyState().smallSignal().controlToOutput(zero).value(0);
        assertThat(Math.toDegrees(response.argument())).isCloseTo(360 - 180 - 45, within(1.0));
    }
}
