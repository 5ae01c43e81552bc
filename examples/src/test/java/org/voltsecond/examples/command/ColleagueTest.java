package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.TimeoutException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.analysis.Conduction;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.DutyCycleSearch;
import org.voltsecond.design.DesignFile;
import org.voltsecond.plot.page.Page;
import org.voltsecond.stage.Load;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Somebody gets explore.html by mail, without any other word, and has three questions. Only what is seen on the page is read, and
 * only what a visitor has is used: labels, mouse and keys.
 */
class ColleagueTest {
    @TempDir
    Path folder;

    /** The text of the tile with a label. */
    private static String tile(OpenPage page, String label)
            throws InterruptedException, ExecutionException, TimeoutException {
        return page.evaluate("[...document.querySelectorAll('dl div')].filter(each => each.innerText.startsWith('"
                        + label + "')).map(each => each.querySelector('dd').innerText).join()")
                .replace('\u00a0', ' ');
    }

    /** Clicks what is seen at the middle of the field that a label names, as a mouse does, and types over what stands there. */
    private static void type(OpenPage page, String group, String label, String text) throws Exception {
        String[] place = page.evaluate(
                        "(() => { const field = [...document.querySelectorAll('label')].find(each =>"
                                + " each.innerText.startsWith('" + label
                                + "') && each.closest('fieldset').innerText.trim().toLowerCase().startsWith('"
                                + group + "')).control; field.scrollIntoView({block: 'center'}); field.select();"
                                + " const box = field.getBoundingClientRect(); return [box.left + box.width / 2, box.top + box.height / 2].join(); })()")
                .split(",", -1);
        for (String kind : new String[] {"mousePressed", "mouseReleased"}) {
            page.call(
                    "Input.dispatchMouseEvent",
                    "{\"type\":\"" + kind + "\",\"button\":\"left\",\"clickCount\":3,\"x\":" + place[0] + ",\"y\":"
                            + place[1] + "}");
        }
        page.call("Input.insertText", "{\"text\":\"" + text + "\"}");
        page.key("Enter");
        page.evaluate("new Promise(done => { const look = () => document.documentElement.dataset.live === 'ready'"
                + " ? done() : setTimeout(look, 20); setTimeout(look, 200); })");
    }

    @Test
    void findsThreeAnswersOnThePageAlone() throws Exception {
        Optional<Browser> browser = Browser.find();
        assumeTrue(browser.isPresent(), "there is no browser on this computer");
        assumeTrue(Page.canCompute(), "the build has made no script of the page");
        Path file = Designs.write(folder, "rail.toml", Designs.BUCK);
        assertThat(CommandRun.of(file, "--into", folder.resolve("out")).exitCode())
                .isZero();
        Converter rail = DesignFile.read(file).converter();
        try (OpenPage page = OpenPage.open(browser.get(), folder.resolve("out/rail/explore.html"), 1200)) {
            // at which load does the current run dry?
            String told = tile(page, "current runs dry");
            assertThat(told).matches("above [0-9.]+ Ω, below [0-9.]+ mA");
            double ohm = Quantity.parse(told.substring(6, told.indexOf(',')), Unit.OHM);
            assertThat(rail.withLoad(Load.resistor(1.001 * ohm)).steadyState().conduction())
                    .isEqualTo(Conduction.DISCONTINUOUS);
            assertThat(rail.withLoad(Load.resistor(0.999 * ohm)).steadyState().conduction())
                    .isEqualTo(Conduction.CONTINUOUS);
            // and it is so, when the load is set to a little less
            type(page, "load", "resistance", Quantity.format(1.01 * ohm, Unit.OHM, 5));
            assertThat(tile(page, "conduction\\n")).isEqualTo("discontinuous");
            type(page, "load", "resistance", "2.5 Ω");

            // what is the ripple with twice the capacitor?
            double before = Quantity.parse(tile(page, "output ripple"), Unit.VOLT);
            type(page, "output capacitor", "capacitance", "94 µF");
            double after = Quantity.parse(tile(page, "output ripple"), Unit.VOLT);
            assertThat(after).isBetween(0.5 * before, 0.75 * before);

            // which duty cycle gives 3.3 V?
            type(page, "drive", "duty cycle for an output", "3.3 V");
            double duty = Double.parseDouble(
                    page.evaluate(
                            "[...document.querySelectorAll('label')].find(each => each.innerText.startsWith('duty cycle')).innerText.replace(/[^0-9.]/g, '')"));
            assertThat(duty)
                    .isCloseTo(DutyCycleSearch.forOutput(rail, 3.3).drive().dutyCycle(), within(1e-3));
            page.evaluate("new Promise(done => { const look = () => document.documentElement.dataset.live === 'ready'"
                    + " ? done() : setTimeout(look, 20); setTimeout(look, 200); })");
            assertThat(tile(page, "output voltage")).isEqualTo("3.300 V");
            type(page, "drive", "duty cycle for an output", "40 V");
            assertThat(page.evaluate("document.querySelector('.wanted').innerText"))
                    .contains("no duty cycle gives 40 V", "at most");
            assertThat(page.console()).isEmpty();
        }
    }
}
