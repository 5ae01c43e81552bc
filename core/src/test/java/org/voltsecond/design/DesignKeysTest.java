package org.voltsecond.design;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.tomlj.Toml;

/** The table of keys is whole: each line has an example that is TOML, a unit that exists, a default that is valid. */
class DesignKeysTest {
    @Test
    void everyExampleIsToml() {
        String examples = DesignKeys.text()
                .lines()
                .filter(line -> line.matches(" {2}[a-z_]+ = .*"))
                .map(line -> "[[key]]\n" + line.strip())
                .reduce("", (all, each) -> all + each + "\n");
        assertThat(examples.lines().count()).isGreaterThan(300);
        assertThat(Toml.parse(examples).errors()).isEmpty();
    }

    @Test
    void quantitiesHaveAUnitAndAnExampleThatIsValid() {
        assertThat(DesignKeys.of("inductor", "inductance").kind().valid())
                .isEqualTo("more than 0 H, for example \"22 µH\"");
        assertThat(DesignKeys.of("inductor", "resistance").usual()).isZero();
        assertThat(DesignKeys.of("drive", "delay", "sampled").type()).isEqualTo("s");
        assertThat(DesignKeys.of("drive.compensator", "gain", "parts").example())
                .isEqualTo("1e5");
        assertThat(DesignKeys.of("drive", "numerator").most()).isEqualTo(16);
        assertThatThrownBy(() -> DesignKeys.of("inductor", "colour")).hasMessageContaining("no key colour");
    }

    @Test
    void aKeyOfAnotherKindOrTableIsKnown() {
        assertThat(DesignKeys.whereItBelongs("drive", "on_time")).contains("it is for constant-on-time");
        assertThat(DesignKeys.whereItBelongs("stage", "inductance")).contains("there is one in [inductor]");
        assertThat(DesignKeys.whereItBelongs("stage", "colour")).isEmpty();
    }

    @Test
    void thePageHasEveryKeyOfTheText() {
        long keys = Pattern.compile("^ {2}\\S", Pattern.MULTILINE)
                .matcher(DesignKeys.text())
                .results()
                .count();
        assertThat(Pattern.compile("<tr><td>")
                        .matcher(DesignKeys.page())
                        .results()
                        .count())
                .isEqualTo(keys);
    }
}
