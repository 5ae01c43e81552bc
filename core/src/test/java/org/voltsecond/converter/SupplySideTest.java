package org.voltsecond.converter;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;

import java.util.Map;
import java.util.Random;
import org.hipparchus.ode.ODEState;
import org.hipparchus.ode.OrdinaryDifferentialEquation;
import org.hipparchus.ode.nonstiff.DormandPrince853Integrator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.voltsecond.control.Drive;
import org.voltsecond.stage.InputCapacitor;
import org.voltsecond.stage.InputFilter;
import org.voltsecond.stage.Load;
import org.voltsecond.stage.Phases;
import org.voltsecond.stage.PlainStages;
import org.voltsecond.stage.SourceImpedance;
import org.voltsecond.stage.Topology;
import org.voltsecond.stage.Transformer;
import org.voltsecond.waveform.Waveform;

/** What lies between source and stage, against closed forms and {@link DormandPrince853Integrator}. */
class SupplySideTest {
    private static final double FREQUENCY = kilo(300);

    private static PowerStage buck() {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(2.5));
    }

    /**
     * RMS current of the input capacitor of one phase: Io sqrt(D (1 - D)), standard formula from memory; the ripple of the inductor
     * current adds D times its own square, and the tilt of the pulse has no part in its mean.
     */
    @ParameterizedTest
    @ValueSource(doubles = {0.1, 0.125, 0.25, 0.5})
    void theInputCapacitorCarriesWhatTheSourceDoesNot(double dutyCycle) {
        Converter converter = PowerStage.buck()
                .input(12)
                .inductor(milli(1), 0)
                .outputCapacitor(1, 0)
                .load(Load.resistor(2.5))
                .with(new SourceImpedance(0, 1)) // so much that the source's current is constant to 1e-7
                .with(new InputCapacitor(1, 0))
                .drive(Drive.fixedDuty(dutyCycle, FREQUENCY));
        ConverterSteadyState steady = converter.steadyState();
        Waveform capacitor = steady.of(converter.further("input_capacitor_current"));
        double load = dutyCycle * 12 / 2.5;
        double ripple = 12 * dutyCycle * (1 - dutyCycle) / (milli(1) * FREQUENCY);
        double square = dutyCycle * (1 - dutyCycle) * load * load + dutyCycle * ripple * ripple / 12;
        assertThat(capacitor.rms()).isCloseTo(Math.sqrt(square), within(1e-6 * load));
        assertThat(capacitor.acRms()).isCloseTo(capacitor.rms(), within(1e-9 * load));
    }

    /**
     * Of lossless phases hardly anything but the ripple of the input brings the currents together, so that rounding hides how they
     * share: to 1e-5, while what does not depend on it is exact. Charge balance: Io is the sum of the phases, D of each the source's.
     */
    @Test
    void losslessPhasesBehindALeadHaveTheirSteadyState() {
        Converter converter = PowerStage.buck()
                .input(12)
                .inductor(micro(1))
                .outputCapacitor(milli(1))
                .synchronousRectifier(0)
                .load(Load.resistor(0.1))
                .with(new Phases(4))
                .with(new SourceImpedance(milli(10), micro(1)))
                .with(new InputCapacitor(micro(100), 0))
                .drive(Drive.fixedDuty(0.1, 500e3));
        ConverterSteadyState steady = converter.steadyState();
        double load = steady.of(converter.loadCurrent()).mean();
        assertThat(converter.inductorCurrents())
                .hasSize(4)
                .allSatisfy(phase -> assertThat(steady.of(phase).mean()).isCloseTo(load / 4, within(1e-5 * load)));
        double source = steady.of(converter.sourceCurrent()).mean();
        assertThat(source).isCloseTo(0.1 * load, within(1e-4 * load));
        // 12 V less the drop of the lead, of which the converter makes a tenth; without loss elsewhere
        double input = 12 - milli(10) * source;
        assertThat(steady.outputPower()).isCloseTo(input * source, within(1e-4 * steady.outputPower()));
        assertThat(steady.of(converter.outputVoltage()).mean()).isCloseTo(0.1 * input, within(1e-4 * input));
        assertThat(steady.audit().residual()).isLessThan(1e-10);
    }

    @Test
    void lossesOfTheSupplysSideBalanceThePower() {
        Converter converter = buck().with(new SourceImpedance(milli(50), micro(1)))
                .with(new InputFilter(micro(4.7), milli(20), micro(4.7), new InputFilter.Damping(0.5, micro(47))))
                .with(new InputCapacitor(micro(10), milli(5)))
                .drive(Drive.fixedDuty(0.45, FREQUENCY));
        ConverterSteadyState steady = converter.steadyState();
        Map<String, Double> losses = steady.losses().groups();
        assertThat(losses)
                .containsOnlyKeys(
                        "transistor",
                        "rectifier",
                        "inductor",
                        "output capacitor",
                        "source",
                        "input filter",
                        "input capacitor");
        assertThat(losses.values()).allMatch(watt -> watt > 0);
        double lost = steady.inputPower() - steady.outputPower();
        assertThat(steady.losses().total()).isCloseTo(lost, within(1e-10 * steady.inputPower()));
        double drawn = steady.of(converter.sourceCurrent()).rms();
        assertThat(losses.get("source")).isCloseTo(milli(50) * drawn * drawn, within(1e-10));
        assertThat(steady.audit().residual()).isLessThan(1e-10);
    }

    /** An ideal transformer has no part in the losses, and is told in none. */
    @Test
    void onlyWhatMayBecomeHotIsToldOf() {
        Converter converter = PowerStage.of(Topology.FLYBACK)
                .input(24)
                .with(new SourceImpedance(milli(50), 0))
                .with(new InputCapacitor(micro(22), milli(10)))
                .with(Transformer.of(3, 1, micro(100)))
                .outputCapacitor(micro(100), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, 0)
                .load(Load.resistor(5))
                .drive(Drive.fixedDuty(0.4, kilo(100)));
        ConverterSteadyState steady = converter.steadyState();
        assertThat(steady.losses().groups())
                .containsKeys("source", "input capacitor")
                .doesNotContainKey("other parts");
        assertThat(steady.losses().total())
                .isCloseTo(steady.inputPower() - steady.outputPower(), within(1e-10 * steady.inputPower()));
    }

    /** A source without impedance charges a capacitor without resistance before anything is looked at. */
    @Test
    void anIdealCapacitorAcrossAnIdealSourceChangesNothing() {
        Converter plain = buck().drive(Drive.fixedDuty(0.45, FREQUENCY));
        Converter across = buck().with(new InputCapacitor(micro(10), 0)).drive(Drive.fixedDuty(0.45, FREQUENCY));
        ConverterTransient start = across.startUp(milli(0.2));
        Waveform drawn = start.of(across.sourceCurrent());
        double peak = plain.startUp(milli(0.2)).of(plain.sourceCurrent()).maximum();
        assertThat(drawn.maximum()).isCloseTo(peak, within(1e-14 * peak));
        assertThat(start.of(across.further("input_capacitor_voltage")).minimum())
                .isEqualTo(12);
        assertThat(start.audit().residual()).isLessThan(1e-12);
        assertThat(across.steadyState().of(across.outputVoltage()).mean())
                .isCloseTo(plain.steadyState().of(plain.outputVoltage()).mean(), within(1e-13));
    }

    /** Switched on, the source charges the input capacitor through its resistance: V / R at the first instant. */
    @Test
    void switchingTheInputOnDrawsThePeakOfTheResistance() {
        Converter converter = buck().with(new SourceImpedance(milli(200), 0))
                .with(new InputCapacitor(micro(100), 0))
                .drive(Drive.fixedDuty(0, FREQUENCY));
        ConverterTransient start = converter.startUp(milli(0.1));
        Waveform drawn = start.of(converter.sourceCurrent());
        assertThat(drawn.maximum()).isCloseTo(60, within(1e-9));
        double later = 5 / FREQUENCY;
        assertThat(drawn.at(later)).isCloseTo(60 * Math.exp(-later / (0.2 * micro(100))), within(1e-9));
    }

    /** Random stages with everything before them, from rest over 60 periods, against an independent integrator. */
    @ParameterizedTest
    @ValueSource(strings = {"buck", "boost", "inverting-buck-boost"})
    void agreesWithAnIndependentIntegrator(String name) {
        Topology topology = PlainStages.ALL.stream()
                .filter(each -> each.key().equals(name))
                .findFirst()
                .orElseThrow();
        Random random = new Random(20250607 + PlainStages.ALL.indexOf(topology));
        for (int k = 0; k < 4; k++) {
            Fed fed = Fed.random(topology, random);
            Converter converter = fed.converter();
            ConverterTransient run = converter.startUp(60 / FREQUENCY);
            double[] expected = fed.integrated(60);
            double[] found = {
                run.of(converter.sourceCurrent()).at(run.finalTime()),
                run.of(converter.driven().voltageAcross("CF")).at(run.finalTime()),
                run.finalInductorCurrent(),
                run.finalCapacitorVoltage()
            };
            double[] scale = {fed.ampere(), 12, fed.ampere(), 12};
            int[] states = {0, 1, 4, 5};
            for (int i = 0; i < found.length; i++) {
                assertThat(found[i])
                        .as(fed + ", state " + states[i])
                        .isCloseTo(expected[states[i]], within(1e-9 * scale[i]));
            }
            assertThat(run.audit().residual()).isLessThan(1e-10);
        }
    }

    /**
     * A synchronous stage with source impedance, filter, damping and input capacitor by its equations. The states: current of source and
     * filter, voltage of the filter's capacitor, of the input capacitor, of the damping branch, inductor current, output voltage.
     */
    private record Fed(
            Topology topology,
            double dutyCycle,
            double leadOhm,
            double lead,
            double filter,
            double filterFarad,
            double inputFarad,
            double inputOhm,
            double dampingFarad,
            double dampingOhm,
            double inductor,
            double output,
            double load) {
        private static final double ON_OHM = 0.1;

        static Fed random(Topology topology, Random random) {
            return new Fed(
                    topology,
                    0.2 + 0.5 * random.nextDouble(),
                    between(random, 0.01, 0.3),
                    between(random, micro(0.1), micro(3)),
                    between(random, micro(1), micro(20)),
                    between(random, micro(1), micro(20)),
                    between(random, micro(2), micro(50)),
                    between(random, 0.05, 0.3),
                    between(random, micro(5), micro(100)),
                    between(random, 0.2, 3),
                    between(random, micro(5), micro(50)),
                    between(random, micro(10), micro(200)),
                    between(random, 1, 30));
        }

        private static double between(Random random, double low, double high) {
            return low * Math.pow(high / low, random.nextDouble());
        }

        double ampere() {
            return 12 / Math.sqrt(inductor / output);
        }

        Converter converter() {
            return PowerStage.of(topology)
                    .input(12)
                    .inductor(inductor, 0)
                    .outputCapacitor(output, 0)
                    .transistor(ON_OHM)
                    .synchronousRectifier(ON_OHM)
                    .load(Load.resistor(load))
                    .with(new SourceImpedance(leadOhm, lead))
                    .with(new InputFilter(filter, 0, filterFarad, new InputFilter.Damping(dampingOhm, dampingFarad)))
                    .with(new InputCapacitor(inputFarad, inputOhm))
                    .drive(Drive.fixedDuty(dutyCycle, FREQUENCY));
        }

        double[] integrated(int periods) {
            double[] state = new double[6];
            double[] small = {1e-13, 1e-13, 1e-13, 1e-13, 1e-13, 1e-13};
            for (int k = 0; k < 2 * periods; k++) {
                boolean on = k % 2 == 0;
                double length = (on ? dutyCycle : 1 - dutyCycle) / FREQUENCY;
                DormandPrince853Integrator integrator = new DormandPrince853Integrator(1e-14, 1e-5, small, small);
                state = integrator
                        .integrate(new Interval(on), new ODEState(0, state), length)
                        .getPrimaryState();
            }
            return state;
        }

        private final class Interval implements OrdinaryDifferentialEquation {
            private final boolean on;

            Interval(boolean on) {
                this.on = on;
            }

            @Override
            public int getDimension() {
                return 6;
            }

            @Override
            public double[] computeDerivatives(double time, double[] x) {
                double node = x[1];
                double intoInput = (node - x[2]) / inputOhm;
                double intoDamping = (node - x[3]) / dampingOhm;
                double drop = ON_OHM * x[4];
                boolean fed = on || topology == Topology.BOOST;
                boolean feeds = topology == Topology.BUCK || !on;
                int sign = topology == Topology.INVERTING_BUCK_BOOST ? -1 : 1;
                double across = (fed ? node : 0) - (feeds ? sign * x[5] : 0) - drop;
                return new double[] {
                    (12 - leadOhm * x[0] - node) / (lead + filter),
                    (x[0] - intoInput - intoDamping - (fed ? x[4] : 0)) / filterFarad,
                    intoInput / inputFarad,
                    intoDamping / dampingFarad,
                    across / inductor,
                    ((feeds ? sign * x[4] : 0) - x[5] / load) / output
                };
            }
        }
    }
}
