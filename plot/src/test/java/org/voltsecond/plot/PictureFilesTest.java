package org.voltsecond.plot;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.zip.CRC32;
import javax.imageio.ImageIO;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.waveform.Waveform;
import org.w3c.dom.Document;

class PictureFilesTest {
    private static final int HALF_A_MEGABYTE = 500_000;

    @TempDir
    private Path folder;

    private static Picture steady() {
        return Pictures.stack()
                .title("Steady")
                .panel(Waves.switchNode().repeated(3))
                .panel(Waves.inductorCurrent().repeated(3))
                .ripplePanel(Waves.outputVoltage().repeated(3))
                .build();
    }

    @Test
    void svgIsWellFormedAndKeepsTextAsText() throws Exception {
        byte[] svg = steady().svg().getBytes(StandardCharsets.UTF_8);
        DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
        factory.setNamespaceAware(true);
        Document document = factory.newDocumentBuilder().parse(new ByteArrayInputStream(svg));
        assertThat(document.getDocumentElement().getLocalName()).isEqualTo("svg");
        assertThat(document.getDoctype()).isNull();
        assertThat(document.getElementsByTagName("text").getLength()).isGreaterThan(20);
        assertThat(new String(svg, StandardCharsets.UTF_8))
                .contains("font-family:sans-serif")
                .doesNotContain("Dialog");
    }

    @Test
    void sameBytesEveryTime() throws InterruptedException {
        Picture picture = steady();
        String svg = picture.svg();
        byte[] png = picture.png();
        // so that a time stamp in the bytes would differ
        Thread.sleep(5);
        assertThat(steady().svg()).isEqualTo(svg);
        assertThat(steady().png()).isEqualTo(png);
    }

    @Test
    void manyThreadsDrawTheSamePicture() throws Exception {
        Picture picture = steady();
        String expected = picture.svg();
        byte[] png = picture.png();
        ExecutorService threads = Executors.newFixedThreadPool(4);
        try {
            List<Callable<Boolean>> tasks = new ArrayList<>();
            for (int i = 0; i < 12; i++) {
                tasks.add(() -> picture.svg().equals(expected) && java.util.Arrays.equals(picture.png(), png));
            }
            for (Future<Boolean> done : threads.invokeAll(tasks)) {
                assertThat(done.get()).isTrue();
            }
        } finally {
            threads.shutdownNow();
        }
    }

    @Test
    void svgStaysSmallAtAnyLength() {
        Waveform run = Waves.longRun("long run", 50_000);
        StackBuilder builder = Pictures.stack();
        for (int i = 0; i < 8; i++) {
            builder.panel(run.times(1 + i), run.plus(i));
        }
        assertThat(builder.build().svg().length()).isLessThan(HALF_A_MEGABYTE);
        assertThat(steady().svg().length()).isLessThan(HALF_A_MEGABYTE);
    }

    @Test
    void filesHoldWhatWasDrawn() throws IOException {
        Picture picture = steady().withPixelRatio(2);
        Path png = folder.resolve("steady.png");
        Path svg = folder.resolve("steady.svg");
        picture.writePng(png);
        picture.writeSvg(svg);
        assertThat(ImageIO.read(png.toFile()).getWidth()).isEqualTo(2 * picture.width());
        assertThat(ImageIO.read(png.toFile()).getHeight()).isEqualTo(2 * picture.height());
        assertThat(Files.readString(svg)).isEqualTo(picture.svg());
        assertThatThrownBy(() -> picture.writePng(folder.resolve("missing/steady.png")))
                .isInstanceOf(IOException.class);
    }

    /** The writer is the project's own, so the reader of the JDK tells what it wrote. */
    @Test
    void everyPixelIsReadAsItWasDrawn() throws IOException {
        Picture odd = steady().withSize(641, 401);
        for (Picture picture : List.of(odd, odd.dark(), odd.withPixelRatio(0.5))) {
            BufferedImage drawn = picture.image();
            BufferedImage read = ImageIO.read(new ByteArrayInputStream(picture.png()));
            assertThat(pixels(read)).isEqualTo(pixels(drawn));
            assertThat(Arrays.stream(pixels(read)).distinct().count()).isGreaterThan(100);
        }
    }

    private static int[] pixels(BufferedImage image) {
        int width = image.getWidth();
        return image.getRGB(0, 0, width, image.getHeight(), null, 0, width);
    }

    /** Readers other than that of the JDK refuse a chunk whose check is wrong: ISO/IEC 15948, section 5.3. */
    @Test
    void everyChunkHasItsLengthAndCheck() {
        ByteBuffer png = ByteBuffer.wrap(steady().png());
        assertThat(png.getLong()).isEqualTo(0x89504e470d0a1a0aL);
        List<String> kinds = new ArrayList<>();
        while (png.hasRemaining()) {
            byte[] content = new byte[png.getInt() + 4];
            png.get(content);
            CRC32 check = new CRC32();
            check.update(content);
            assertThat(png.getInt()).isEqualTo((int) check.getValue());
            kinds.add(new String(content, 0, 4, StandardCharsets.US_ASCII));
        }
        assertThat(kinds).containsExactly("IHDR", "IDAT", "IEND");
    }
}
