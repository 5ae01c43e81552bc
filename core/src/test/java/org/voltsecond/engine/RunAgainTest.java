package org.voltsecond.engine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.voltsecond.units.Si.kilo;
import static org.voltsecond.units.Si.micro;
import static org.voltsecond.units.Si.milli;
import static org.voltsecond.units.Si.nano;

import java.util.Arrays;
import java.util.Objects;
import java.util.Random;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.voltsecond.control.Compensator;
import org.voltsecond.control.ConstantOnTime;
import org.voltsecond.control.CurrentMode;
import org.voltsecond.control.Drive;
import org.voltsecond.control.DrivenCircuit;
import org.voltsecond.control.Hysteretic;
import org.voltsecond.control.VoltageMode;
import org.voltsecond.converter.Change;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;

/** A stretch of a long run that was let go and is run again has the bits that it had, whoever asks for which and when. */
class RunAgainTest {
    private static final double DURATION = milli(1);

    /** Runs of which some settle and some never do, each with a step of the load on the way. */
    @SuppressWarnings("ImmutableEnumChecker") // a converter cannot be changed
    enum Kind {
        FIXED_DUTY(buck(2.5).drive(Drive.fixedDuty(0.45, kilo(300)))),
        DISCONTINUOUS(buck(100).drive(Drive.fixedDuty(0.45, kilo(300)))),
        VOLTAGE_MODE(buck(2.5)
                .drive(VoltageMode.of(kilo(300), 1, 0.2, Compensator.type3(400, kilo(3), kilo(5), kilo(100), kilo(150)))
                        .withMaximumDutyCycle(0.95))),
        CHAOTIC(PowerStage.boost()
                .input(5)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(5))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(20))
                .drive(CurrentMode.peak(kilo(100), 3))),
        HYSTERETIC(buck(2.5).drive(Hysteretic.voltageBand(kilo(300), 1, 0.2, milli(10)))),
        CONSTANT_ON_TIME(buck(2.5).drive(ConstantOnTime.of(kilo(300), 1, 0.2, micro(1.4), nano(300)))),
        LINE_RIPPLE(buck(2.5).inputRipple(1, 1234.5).drive(Drive.fixedDuty(0.45, kilo(300))));

        private final Converter converter;

        Kind(Converter converter) {
            this.converter = converter;
        }

        DrivenCircuit circuit() {
            Change step = Change.at(0.4 * DURATION).load(Load.resistor(5));
            return converter.startUp(micro(1), step).run().circuit();
        }
    }

    private static PowerStage buck(double load) {
        return PowerStage.buck()
                .input(12)
                .inductor(micro(22), milli(30))
                .outputCapacitor(micro(47), milli(30))
                .transistor(milli(80))
                .rectifier(0.4, milli(20))
                .load(Load.resistor(load));
    }

    private static Trajectory record(DrivenCircuit circuit, int stretch, int mostHeld) {
        return Simulation.of(circuit.law())
                .record(new Simulation.Source(circuit.law(), circuit.restState(), stretch, mostHeld), DURATION);
    }

    private static boolean isSame(Interval one, Interval other) {
        return one.startTime().equals(other.startTime())
                && one.duration() == other.duration()
                && one.start() == other.start()
                && one.end() == other.end()
                && one.configuration() == other.configuration()
                && Objects.equals(one.cause(), other.cause())
                && Arrays.equals(one.startState(), other.startState())
                && (one.jump() == null
                        ? other.jump() == null
                        : Arrays.equals(
                                one.jump().apply(other.startState()),
                                Objects.requireNonNull(other.jump()).apply(other.startState())));
    }

    @ParameterizedTest
    @EnumSource
    void whatIsRunAgainHasTheBitsThatItHad(Kind kind) {
        DrivenCircuit circuit = kind.circuit();
        for (int stretch : new int[] {7, 100}) {
            Trajectory kept = record(circuit, stretch, Integer.MAX_VALUE);
            Trajectory again = record(circuit, stretch, 1);

            assertThat(again.size()).isEqualTo(kept.size()).isGreaterThan(140);
            assertThat(again.blocks()).isEqualTo(kept.blocks());
            assertThat(again.configurations()).isEqualTo(kept.configurations());
            assertThat(again.momentary()).isEqualTo(kept.momentary());
            assertThat(again.finalState())
                    .isEqualTo(kept.finalState())
                    .isEqualTo(Simulation.of(circuit.law())
                            .finalState(
                                    new Run(circuit.law(), null, false, false, stretch),
                                    circuit.restState(),
                                    DURATION));
            // from both ends and in any order
            Random random = new Random(stretch);
            for (int k = 0; k < kept.size(); k++) {
                int index = k % 3 == 0 ? k : k % 3 == 1 ? kept.size() - 1 - k : random.nextInt(kept.size());
                assertThat(isSame(again.interval(index), kept.interval(index)))
                        .as("stretch %d, interval %d", stretch, index)
                        .isTrue();
                double time = random.nextDouble() * DURATION;
                assertThat(k % 10 > 0 || again.indexAt(time) == kept.indexAt(time))
                        .isTrue();
            }
        }
    }
}
