package org.voltsecond.engine;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.voltsecond.control.CircuitPhase;
import org.voltsecond.control.Drive;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.PowerStage;
import org.voltsecond.stage.Load;

class ChannelsTest {
    private static final AffineForm FITS = AffineForm.of(new double[] {1}, 2);
    private static final AffineForm TOO_LONG = AffineForm.of(new double[] {1, 1}, 0);

    private static Configuration.Builder falling() {
        return Configuration.builder("falling", new double[] {1}, 1).dynamics(new double[][] {{-1}}, new double[1]);
    }

    @Test
    void aChannelIsWorkedOutOnceAndOnlyWhenItIsRead() {
        List<Integer> asked = new ArrayList<>();
        Configuration configuration = falling()
                .channels(3, index -> {
                    asked.add(index);
                    return AffineForm.of(new double[] {index}, 0);
                })
                .build();
        assertThat(asked).isEmpty();
        assertThat(configuration.channelCount()).isEqualTo(3);
        assertThat(configuration.channel(2).coefficient(0)).isEqualTo(2);
        assertThat(configuration.channel(2)).isSameAs(configuration.channel(2));
        assertThat(asked).containsExactly(2);
    }

    @Test
    void aChannelOfAnotherSizeIsRefused() {
        Configuration.Builder given = falling().channels(List.of(FITS, TOO_LONG));
        assertThatThrownBy(given::build).hasMessageContaining("a channel must have 1 coefficients");
        Configuration later =
                falling().channels(2, index -> index == 0 ? FITS : TOO_LONG).build();
        assertThat(later.channel(0)).isEqualTo(FITS);
        assertThatThrownBy(() -> later.channel(1)).hasMessageContaining("a channel must have 1 coefficients");
    }

    @Test
    void aConfigurationReadsThoseOfTheRegimeOfItsCircuit() {
        Converter rail = PowerStage.buck()
                .input(12)
                .inductor(22e-6, 0.03)
                .outputCapacitor(47e-6, 0.005)
                .rectifier(0.4, 0)
                .load(Load.resistor(2.5))
                .drive(Drive.fixedDuty(0.45, 300e3));
        CircuitPhase first = (CircuitPhase)
                rail.steadyState().periodic().trajectory().interval(0).phase();
        List<AffineForm> channels = first.regime().channels();
        assertThat(first.configuration().channelCount()).isEqualTo(channels.size());
        for (int k = 0; k < channels.size(); k++) {
            assertThat(first.configuration().channel(k)).isSameAs(channels.get(k));
        }
    }
}
