package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.nio.file.Path;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.plot.page.Page;

/** The current that flows in the report, in a browser. */
class FlowPageTest {
    private static final String BUTTON = "document.querySelector('.flow button')";
    private static final String CURSOR = "document.querySelector('.flow .cursor').getAttribute('x1')";
    private static final String SHOWN = "document.querySelector('figure.flow').offsetHeight > 0";
    private static final String SLIDE =
            "(() => { const slider = document.querySelector('.flow input'); slider.value = 'PLACE'; "
                    + "slider.dispatchEvent(new Event('input', {bubbles: true})); return document.querySelector('.flow output').textContent; })()";

    @TempDir
    Path folder;

    @Test
    void itPlaysPausesAndShowsAnyInstant() throws Exception {
        Optional<Browser> browser = Browser.find();
        assumeTrue(browser.isPresent(), "there is no browser on this computer");
        Path design = Designs.write(folder, "rail.toml", Designs.BUCK);
        assertThat(CommandRun.of(design, "--into", folder.resolve("out")).exitCode())
                .isZero();
        try (OpenPage page = OpenPage.open(browser.get(), folder.resolve("out/rail/report.html"), 1200)) {
            assertThat(page.evaluate(SHOWN)).isEqualTo("true");
            assertThat(page.evaluate(BUTTON + ".textContent")).isEqualTo("Pause");
            page.evaluate("document.querySelector('.flow').scrollIntoView()");
            String before = page.evaluate(CURSOR);
            page.await(CURSOR + " !== '" + before + "'");
            page.evaluate(BUTTON + ".click()");
            String rests = page.evaluate(CURSOR);
            // that nothing moves any more can only be seen over some time
            page.evaluate("new Promise(done => setTimeout(done, 400))");
            assertThat(page.evaluate(CURSOR)).isEqualTo(rests);

            assertThat(page.evaluate(SLIDE.replace("PLACE", "200")))
                    .startsWith("at 667 ns: on, 1.50 µs: Q1 conducts; ");
            assertThat(page.evaluate(SLIDE.replace("PLACE", "900")))
                    .startsWith("at 3.00 µs: off, 1.83 µs: D1 conducts; ");
            assertThat(
                            page.evaluate(
                                    "[...document.querySelectorAll('.flow .head')].some(each => each.style.display !== 'none')"))
                    .isEqualTo("true");

            if (Page.canCompute()) {
                // another value works the page out anew, and what is not worked out anew stays and stays alive
                String mean =
                        "document.querySelector('[data-figure=\"steady_state/signals/output_voltage/mean\"]').dataset.value";
                String old = page.evaluate(mean);
                page.evaluate(
                        "(() => { const field = document.querySelector('[data-key=\"input.voltage\"]'); field.value = '13'; "
                                + "for (const kind of ['input', 'change']) field.dispatchEvent(new Event(kind, {bubbles: true})); })()");
                page.await(mean + " !== '" + old + "'");
                assertThat(page.evaluate(SLIDE.replace("PLACE", "200"))).contains("Q1 conducts");
            }

            page.call("Emulation.setEmulatedMedia", "{\"media\":\"print\"}");
            assertThat(page.evaluate(SHOWN)).isEqualTo("false");
            page.call(
                    "Emulation.setEmulatedMedia",
                    "{\"media\":\"\",\"features\":[{\"name\":\"prefers-reduced-motion\",\"value\":\"reduce\"}]}");
            page.call("Page.reload", "{}");
            page.awaitPage("report.html");
            page.await(BUTTON + ".textContent === 'Play'");
            assertThat(page.console()).isEmpty();
        }
    }
}
