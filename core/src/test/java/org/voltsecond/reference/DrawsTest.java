package org.voltsecond.reference;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import net.jqwik.api.EdgeCasesMode;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.lifecycle.AfterContainer;
import org.junit.jupiter.api.Assumptions;

/** Two properties that are the same draw the same in the build: nothing else is left to chance there. */
class DrawsTest {
    private static final List<Long> FIRST = new ArrayList<>();
    private static final List<Long> SECOND = new ArrayList<>();

    @Property(tries = 20, edgeCases = EdgeCasesMode.NONE)
    void drawsSomething(@ForAll long drawn) {
        FIRST.add(drawn);
    }

    @Property(tries = 20, edgeCases = EdgeCasesMode.NONE)
    void drawsTheSame(@ForAll long drawn) {
        SECOND.add(drawn);
    }

    @AfterContainer
    static void areTheSame() {
        Assumptions.assumeFalse(Draws.anew());
        assertThat(FIRST).hasSize(20).isEqualTo(SECOND);
    }
}
