package org.voltsecond.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.util.List;
import org.voltsecond.design.DesignException.Fault;

/** What is told of a design that must be refused. */
final class Refused {
    private Refused() {}

    static List<String> faults(String text) {
        DesignException e =
                catchThrowableOfType(DesignException.class, () -> DesignFile.parse("rail.toml", "rail", text));
        assertThat(e).as("the design must be refused: %s", text).isNotNull();
        return e.faults().stream().map(Fault::toString).toList();
    }

    static String only(String text) {
        List<String> faults = faults(text);
        assertThat(faults).hasSize(1);
        return faults.get(0);
    }
}
