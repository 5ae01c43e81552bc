package org.voltsecond.plot;

import java.awt.Dimension;
import java.awt.Graphics2D;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.zip.CRC32;
import java.util.zip.Deflater;
import java.util.zip.DeflaterOutputStream;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import org.apache.batik.svggen.SVGGeneratorContext;
import org.apache.batik.svggen.SVGGraphics2D;
import org.jspecify.annotations.Nullable;
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

    /** Type is at least 12 high (see {@link Look}), which is a thirtieth of this. */
    private static final int SLIDE_HEIGHT = 360;

    private static final int SLIDE_WIDTH = 640;
    private static final double SLIDE_PIXELS = 3;

    /** Two lines of a message. */
    private static final int MESSAGE_HEIGHT = 52;

    private static final String SLIDE_CAUTION = "Result of a simulation, not a safety approval.";

    private final Drawing drawing;
    private final int width;
    private final int height;
    private final double pixelRatio;
    private final boolean dark;
    /** Drawn when first asked for: files and pages take the same. */
    private volatile @Nullable String svg;

    Picture(Drawing drawing, int width, int height, double pixelRatio) {
        this(drawing, width, height, pixelRatio, false);
    }

    private Picture(Drawing drawing, int width, int height, double pixelRatio, boolean dark) {
        this.drawing = drawing;
        this.width = width;
        this.height = height;
        this.pixelRatio = pixelRatio;
        this.dark = dark;
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
        return new Picture(drawing, newWidth, newHeight, pixelRatio, dark);
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
        return new Picture(drawing, width, height, newPixelRatio, dark);
    }

    /**
     * Returns the same picture for a screen in front of a room: 1920 by 1080 pixels, its smallest type a thirtieth of the height.
     *
     * @param message what it shows, a sentence in place of its title; of more than two lines the rest is cut. Empty for none: then it is
     *     {@value #MESSAGE_HEIGHT} of {@value #SLIDE_HEIGHT} less high, for a message beside it
     * @param below in place of the line below the title; empty for none
     * @return the picture, with a short caution
     */
    public Picture slide(String message, String below) {
        int bare = message.isEmpty() ? MESSAGE_HEIGHT : 0;
        Sheet sheet = new Sheet(message, below, SLIDE_CAUTION);
        return new Picture(drawing.on(sheet), SLIDE_WIDTH, SLIDE_HEIGHT - bare, SLIDE_PIXELS, dark);
    }

    /**
     * Returns the same picture for a dark room or page: what is light is dark and the other way around, in the same hues.
     *
     * @return the picture
     */
    public Picture dark() {
        return new Picture(drawing, width, height, pixelRatio, true);
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
        if (dark) {
            Dark.turn(image);
        }
        return image;
    }

    /**
     * Draws the picture as PNG.
     *
     * @return the bytes of the file
     */
    public byte[] png() {
        try {
            return Png.of(image());
        } catch (IOException impossible) {
            throw new UncheckedIOException(impossible);
        }
    }

    /**
     * Draws the picture as SVG. Text stays text, in the reader's own sans-serif font.
     *
     * @return the document
     */
    public String svg() {
        String drawn = svg;
        if (drawn == null) {
            String light = Svg.of(drawing, width, height);
            drawn = dark ? Dark.turned(light) : light;
            svg = drawn;
        }
        return drawn;
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
    interface Drawing {
        /** Draws into the rectangle from (0, 0) to the given width and height. */
        void draw(Graphics2D graphics, int width, int height);

        /** The same with something else around it. */
        Drawing on(Sheet sheet);

        /** The height that it takes at a small width, when it usually has the given one. */
        default int slimHeight(int width, int height) {
            return Math.max(width, height * 3 / 4);
        }
    }

    /**
     * Writes an image as PNG (ISO/IEC 15948): three bytes a pixel, each line as it is. The writer of the JDK tries five filters on each line
     * and takes four times as long; lines of a drawing are mostly of one colour, and filtered ones are no smaller.
     */
    static final class Png {
        private static final byte[] SIGNATURE = {(byte) 0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n'};

        /** Bits of a sample, kind of colour (red, green and blue), compression, filter, interlacing: section 11.2.2. */
        private static final byte[] DEPTH_AND_KIND = {8, 2, 0, 0, 0};

        /** From 4 on it takes half as long again, for a tenth less (measured with the pictures of the demo). */
        private static final int LEVEL = 3;

        private final ByteArrayOutputStream file = new ByteArrayOutputStream();

        private Png() throws IOException {
            file.write(SIGNATURE);
        }

        /** Of an image of type RGB. */
        static byte[] of(BufferedImage image) throws IOException {
            ByteArrayOutputStream head = new ByteArrayOutputStream();
            DataOutputStream numbers = new DataOutputStream(head);
            numbers.writeInt(image.getWidth());
            numbers.writeInt(image.getHeight());
            numbers.write(DEPTH_AND_KIND);
            Png png = new Png();
            png.chunk("IHDR", head.toByteArray());
            png.chunk("IDAT", deflated(image));
            png.chunk("IEND", new byte[0]);
            return png.file.toByteArray();
        }

        private static byte[] deflated(BufferedImage image) throws IOException {
            int width = image.getWidth();
            ByteArrayOutputStream bytes = new ByteArrayOutputStream();
            Deflater deflater = new Deflater(LEVEL);
            try (DeflaterOutputStream all = new DeflaterOutputStream(bytes, deflater, 1 << 13)) {
                int[] pixels = new int[width];
                byte[] line = new byte[1 + 3 * width]; // begins with 0: no filter
                for (int y = 0; y < image.getHeight(); y++) {
                    image.getRaster().getDataElements(0, y, width, 1, pixels);
                    for (int x = 0, at = 1; x < width; x++) {
                        int pixel = pixels[x];
                        line[at++] = (byte) (pixel >> 16);
                        line[at++] = (byte) (pixel >> 8);
                        line[at++] = (byte) pixel;
                    }
                    all.write(line);
                }
            } finally {
                deflater.end();
            }
            return bytes.toByteArray();
        }

        /** Length, kind, content, and the check of kind and content. */
        private void chunk(String kind, byte[] content) throws IOException {
            byte[] name = kind.getBytes(StandardCharsets.US_ASCII);
            CRC32 check = new CRC32();
            check.update(name);
            check.update(content);
            DataOutputStream out = new DataOutputStream(file);
            out.writeInt(content.length);
            out.write(name);
            out.write(content);
            out.writeInt((int) check.getValue());
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

    /**
     * Turns lightness around. Lightness is here the luminance of ITU-R BT.709 taken of the values as they are stored, as the filters of
     * a browser do; that is affine, so that edges of letters turn as their colours do.
     */
    private static final class Dark {
        private static final Pattern COLOR =
                Pattern.compile("(fill|stroke):(white|black|rgb\\(([0-9]+),([0-9]+),([0-9]+)\\))");
        /** Paper does not become black, which smears on some screens, nor ink white, which glares. */
        private static final double STRENGTH = 0.82;

        private static final double DARKEST = 0.09 * 255;

        private Dark() {}

        static void turn(BufferedImage image) {
            int width = image.getWidth();
            int[] row = new int[width];
            for (int y = 0; y < image.getHeight(); y++) {
                image.getRGB(0, y, width, 1, row, 0, width);
                for (int x = 0; x < width; x++) {
                    row[x] = turned(row[x] >> 16 & 255, row[x] >> 8 & 255, row[x] & 255);
                }
                image.setRGB(0, y, width, 1, row, 0, width);
            }
        }

        static String turned(String svg) {
            return COLOR.matcher(svg).replaceAll(found -> {
                int paper = found.group(2).equals("white") ? 255 : 0;
                int rgb = found.group(3) == null
                        ? turned(paper, paper, paper)
                        : turned(number(found, 3), number(found, 4), number(found, 5));
                return found.group(1) + ":rgb(" + (rgb >> 16 & 255) + "," + (rgb >> 8 & 255) + "," + (rgb & 255) + ")";
            });
        }

        private static int number(MatchResult found, int group) {
            return Integer.parseInt(found.group(group));
        }

        private static int turned(int red, int green, int blue) {
            double luminance = 0.2126 * red + 0.7152 * green + 0.0722 * blue;
            double shift = DARKEST + STRENGTH * (255 - 2 * luminance);
            return part(red, shift) << 16 | part(green, shift) << 8 | part(blue, shift);
        }

        private static int part(int value, double shift) {
            return (int) Math.round(Math.max(0, Math.min(255, STRENGTH * value + shift)));
        }
    }
}
