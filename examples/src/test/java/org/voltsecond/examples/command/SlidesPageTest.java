package org.voltsecond.examples.command;

import static org.assertj.core.api.Assertions.assertThat;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Base64;
import java.util.List;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Slides by the command, and worked in a browser. */
class SlidesPageTest {
    @TempDir
    Path folder;

    private CommandRun run(String... options) throws Exception {
        Path design = Designs.write(folder, "rail.toml", Designs.BUCK);
        Object[] all = new Object[options.length + 4];
        all[0] = design;
        all[1] = "--into";
        all[2] = folder.resolve("out");
        all[3] = "--no-pictures";
        System.arraycopy(options, 0, all, 4, options.length);
        return CommandRun.of(all);
    }

    private static final String KEY = "document.activeElement.dispatchEvent(new KeyboardEvent('keydown', "
            + "{key: 'KEY', shiftKey: SHIFT, bubbles: true, cancelable: true})), location.hash";

    private static String press(OpenPage page, String key, boolean shift) throws Exception {
        return page.evaluate("(" + KEY.replace("KEY", key).replace("SHIFT", String.valueOf(shift)) + ")");
    }

    @Test
    void theyAreMadeWhereAskedFor() throws Exception {
        CommandRun none = run();
        assertThat(none.exitCode()).isZero();
        assertThat(folder.resolve("out/rail/slides.html")).doesNotExist();
        CommandRun some = run("--slides", "ripple,tolerance,start");
        assertThat(some.exitCode()).isZero();
        assertThat(some.out())
                .contains(
                        "  no slide tolerance: no [tolerance] is asked for",
                        "  no slide start: no transient is asked for");
        assertThat(Files.readString(folder.resolve("out/rail/slides.html"))).contains(" of ripple the charge makes ");
        assertThat(folder.resolve("out/rail/slides/02-ripple.svg")).exists();
        // what was there is replaced, since the command knows it as its own
        assertThat(run().exitCode()).isZero();
        assertThat(folder.resolve("out/rail/slides")).doesNotExist();
    }

    @Test
    void anUnknownNameIsAFaultThatListsTheOthers() throws Exception {
        CommandRun run = run("--slides", "riple,weather");
        assertThat(run.exitCode()).isEqualTo(2);
        assertThat(run.err())
                .isEqualTo(List.of("voltsecond: --slides: there is no riple, weather; valid: current-paths, balance, "
                        + "conversion-ratio, boundary, ripple, inductances, start, load-step, pulses, losses, linear, "
                        + "tolerance, or nothing for those that say most"));
        assertThat(folder.resolve("out")).doesNotExist();
        assertThat(run("--slides=weather").exitCode()).isEqualTo(2);
    }

    @Test
    void keysLeadFromSlideToSlideAndEachIsPrintedOnAPage() throws Exception {
        Optional<Browser> browser = Browser.find();
        assumeTrue(browser.isPresent(), "there is no browser on this computer");
        assertThat(run("--slides", "current-paths,balance,ripple").exitCode()).isZero();
        try (OpenPage page = OpenPage.open(browser.get(), folder.resolve("out/rail/slides.html"), 1280)) {
            String shown =
                    "[...document.querySelectorAll('.slide')].filter(each => each.offsetHeight > 0).map(each => each.id).join()";
            int count = Integer.parseInt(page.evaluate("document.querySelectorAll('.slide').length"));
            assertThat(count).isEqualTo(8);
            assertThat(page.evaluate(shown)).isEqualTo("1");
            assertThat(press(page, "ArrowRight", false)).isEqualTo("#2");
            assertThat(press(page, " ", false)).isEqualTo("#3");
            assertThat(press(page, " ", true)).isEqualTo("#2");
            assertThat(press(page, "PageDown", false)).isEqualTo("#3");
            assertThat(press(page, "PageUp", false)).isEqualTo("#2");
            assertThat(press(page, "End", false)).isEqualTo("#8");
            assertThat(press(page, "ArrowDown", false)).isEqualTo("#8");
            assertThat(page.evaluate(shown)).isEqualTo("8");
            assertThat(page.evaluate("document.activeElement.id")).isEqualTo("8");
            assertThat(press(page, "Home", false)).isEqualTo("#1");
            page.evaluate("(location.hash = '#4', new Promise(done => setTimeout(done, 100)))");
            assertThat(page.evaluate(shown)).isEqualTo("4");

            String notes = "document.querySelector('.slide.now .notes').offsetHeight > 0";
            assertThat(page.evaluate(notes)).isEqualTo("false");
            press(page, "n", false);
            assertThat(page.evaluate(notes)).isEqualTo("true");
            String dark = "document.documentElement.classList.contains('dark')";
            assertThat(page.evaluate(dark)).isEqualTo("false");
            press(page, "d", false);
            assertThat(page.evaluate(dark)).isEqualTo("true");

            // a finger to the left
            page.evaluate(
                    "['touchstart', 'touchend'].forEach((kind, k) => { const touch = new Touch({identifier: 1, target: document.body, "
                            + "clientX: 300 - 200 * k, clientY: 200}); document.body.dispatchEvent(new TouchEvent(kind, {bubbles: true, "
                            + "touches: k ? [] : [touch], changedTouches: [touch]})); })");
            assertThat(page.evaluate(shown)).isEqualTo("5");

            assertThat(pagesOf(page)).isEqualTo(count);
            assertThat(page.console()).isEmpty();
        }
    }

    private static int pagesOf(OpenPage page) throws Exception {
        Matcher data = Pattern.compile("\"data\":\"([^\"]*)\"")
                .matcher(page.call("Page.printToPDF", "{\"preferCSSPageSize\":true,\"printBackground\":true}"));
        assertThat(data.find()).isTrue();
        String file = new String(Base64.getDecoder().decode(data.group(1)), StandardCharsets.ISO_8859_1);
        return (int) Pattern.compile("/Type\\s*/Page\\b(?!s)")
                .matcher(file)
                .results()
                .count();
    }
}
