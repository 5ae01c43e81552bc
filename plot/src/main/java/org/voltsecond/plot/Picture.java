package org.voltsecond.plot;

import java.awt.Dimension;
import java.awt.Graphics2D;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import javax.imageio.ImageIO;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import org.apache.batik.svggen.SVGGeneratorContext;
import org.apache.batik.svggen.SVGGraphics2D;
import org.w3c.dom.Document;
import org.w3c.dom.Element;

/**
 * A finished picture, to be written as PNG or SVG. Needs no display. The same picture gives the same bytes on the same
 * machine. Immutable and safe to use from any thread.
 *
 * <pre>{@code
 * Picture picture = Pictures.stacked(start, rail.inductorCurrent(), rail.outputVoltage());
 * picture.withSize(800, 600).withPixelRatio(2).writePng(folder.resolve("start.png")); // 1600 by 1200 pixels
 * picture.writeSvg(folder.resolve("start.svg"));
 * }</pre>
 */
public final class Picture {
    private static final int SMALLEST = 240;
    private static final int LARGEST = 20_000;

    private final Drawing drawing;
    private final int width;
    private final int height;
    private final double pixelRatio;

    Picture(Drawing drawing, int width, int height, double pixelRatio) {
        this.drawing = drawing;
        this.width = width;
        this.height = height;
        this.pixelRatio = pixelRatio;
    }

    /** {@return the width in units of which the text is some 12 high} */
    public int width() {
        return width;
    }

    /** {@return the height in the same units as the width} */
    public int height() {
        return height;
    }

    /**
     * Returns the same picture in another size; text keeps its size.
     *
     * @param newWidth width, 240 to 20000
     * @param newHeight height, 240 to 20000
     * @return the picture
     * @throws IllegalArgumentException if a size is out of range
     */
    public Picture withSize(int newWidth, int newHeight) {
        if (newWidth < SMALLEST || newHeight < SMALLEST || newWidth > LARGEST || newHeight > LARGEST) {
            throw new IllegalArgumentException("a picture must measure from " + SMALLEST + " to " + LARGEST
                    + " each way but was to measure " + newWidth + " x " + newHeight);
        }
        return new Picture(drawing, newWidth, newHeight, pixelRatio);
    }

    /**
     * Returns the same picture laid out anew for a narrow screen, on which the text of a wide one would be too small to read.
     *
     * @param newWidth width, 240 to 20000
     * @return the picture, as high as it needs to be there
     * @throws IllegalArgumentException if the width is out of range
     */
    public Picture slim(int newWidth) {
        return withSize(newWidth, Math.min(LARGEST, drawing.slimHeight(newWidth, height)));
    }

    /**
     * Returns the same picture with finer or coarser pixels in its PNG; SVG does not change.
     *
     * @param newPixelRatio PNG pixels for each unit of width, 0.5 to 8; 1 unless set
     * @return the picture
     * @throws IllegalArgumentException if the ratio is out of range
     */
    public Picture withPixelRatio(double newPixelRatio) {
        if (!(newPixelRatio >= 0.5 && newPixelRatio <= 8)) {
            throw new IllegalArgumentException("a pixel ratio must be from 0.5 to 8 but was " + newPixelRatio);
        }
        return new Picture(drawing, width, height, newPixelRatio);
    }

    /**
     * Draws the picture.
     *
     * @return an image without transparency
     */
    public BufferedImage image() {
        int pixelsWide = (int) Math.round(width * pixelRatio);
        int pixelsHigh = (int) Math.round(height * pixelRatio);
        BufferedImage image = new BufferedImage(pixelsWide, pixelsHigh, BufferedImage.TYPE_INT_RGB);
        Graphics2D graphics = image.createGraphics();
        try {
            Look.prepare(graphics);
            graphics.scale(pixelRatio, pixelRatio);
            drawing.draw(graphics, width, height);
        } finally {
            graphics.dispose();
        }
        return image;
    }

    /**
     * Draws the picture as PNG.
     *
     * @return the bytes of the file
     */
    public byte[] png() {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try {
            ImageIO.write(image(), "png", bytes);
        } catch (IOException impossible) {
            throw new UncheckedIOException(impossible);
        }
        return bytes.toByteArray();
    }

    /**
     * Draws the picture as SVG. Text stays text, in the reader's own sans-serif font.
     *
     * @return the document
     */
    public String svg() {
        return Svg.of(drawing, width, height);
    }

    /**
     * Writes the picture as PNG.
     *
     * @param file where to; an existing file is replaced
     * @throws IOException if the file cannot be written
     */
    public void writePng(Path file) throws IOException {
        Files.write(file, png());
    }

    /**
     * Writes the picture as SVG.
     *
     * @param file where to; an existing file is replaced
     * @throws IOException if the file cannot be written
     */
    public void writeSvg(Path file) throws IOException {
        Files.write(file, svg().getBytes(StandardCharsets.UTF_8));
    }

    @Override
    public String toString() {
        return "picture of " + width() + " by " + height();
    }

    /** Draws a picture of any size. Immutable: what it needs for drawing it makes anew each time. */
    @FunctionalInterface
    interface Drawing {
        /** Draws into the rectangle from (0, 0) to the given width and height. */
        void draw(Graphics2D graphics, int width, int height);

        /** The height that it takes at a small width, when it usually has the given one. */
        default int slimHeight(int width, int height) {
            return Math.max(width, height * 3 / 4);
        }
    }

    /** Writes a drawing as SVG: same drawing, same bytes. */
    static final class Svg {
        private static final String NAMESPACE = "http://www.w3.org/2000/svg";

        private Svg() {}

        static String of(Drawing drawing, int width, int height) {
            SVGGeneratorContext context = SVGGeneratorContext.createDefault(emptyDocument());
            context.setComment(null);
            // two decimals are a hundredth of a pixel
            context.setPrecision(2);
            SVGGraphics2D graphics = new SVGGraphics2D(context, false);
            graphics.setSVGCanvasSize(new Dimension(width, height));
            Look.prepare(graphics);
            drawing.draw(graphics, width, height);
            Element root = graphics.getRoot();
            root.setAttribute("viewBox", "0 0 " + width + " " + height);
            StringWriter text = new StringWriter();
            try {
                graphics.stream(root, text, true, false);
            } catch (IOException impossible) {
                throw new UncheckedIOException(impossible);
            }
            return portable(text.toString());
        }

        /** Without the document type, which makes some readers fetch it, and without the name of a font of Java alone. */
        private static String portable(String svg) {
            int type = svg.indexOf("<!DOCTYPE");
            int root = svg.indexOf("<svg");
            return (svg.substring(0, type) + svg.substring(root))
                    .replace("font-family:'Dialog'", "font-family:sans-serif");
        }

        private static Document emptyDocument() {
            try {
                DocumentBuilderFactory factory = DocumentBuilderFactory.newInstance();
                factory.setNamespaceAware(true);
                return factory.newDocumentBuilder().getDOMImplementation().createDocument(NAMESPACE, "svg", null);
            } catch (ParserConfigurationException missing) {
                throw new IllegalStateException("this Java has no XML parser", missing);
            }
        }
    }
}
