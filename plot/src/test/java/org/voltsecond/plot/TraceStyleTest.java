package org.voltsecond.plot;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.voltsecond.engine.Piece;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/** One signal looks the same in every picture, and no two of a panel look alike. */
class TraceStyleTest {
    private static Waveform flat(String name) {
        return Waveform.of(name, Unit.AMPERE, List.of(Piece.of(0, 1, new double[] {1})));
    }

    private static List<TraceStyle> styles(int panel, String... names) {
        return TraceStyle.all(Stream.of(names).map(TraceStyleTest::flat).toList(), panel);
    }

    @Test
    void aRoleKeepsItsColourAndLineWhereverItStands() {
        TraceStyle alone = styles(0, "inductor current").get(0);
        assertThat(styles(3, "inductor current, at most 14.3 A")).containsExactly(alone);
        assertThat(styles(1, "transistor current", "inductor current").get(1)).isEqualTo(alone);
        assertThat(styles(1, "rectifier current"))
                .isEqualTo(styles(2, "transistor current", "rectifier current").subList(1, 2));
    }

    @Test
    void noColourComesTwiceInAPanel() {
        List<TraceStyle> styles = styles(
                0, "output voltage", "output voltage, bench", "something", "inductor current", "another", "a", "b");
        assertThat(styles).extracting(TraceStyle::hue).doesNotHaveDuplicates();
        assertThat(styles.get(0)).isEqualTo(styles(5, "output voltage").get(0));
    }

    @Test
    void whatHasNoRoleIsColouredByItsPanel() {
        assertThat(styles(2, "L7")).containsExactly(new TraceStyle(2, 0));
        assertThat(styles(2, "L7", "L8")).containsExactly(new TraceStyle(0, 0), new TraceStyle(1, 1));
    }
}
