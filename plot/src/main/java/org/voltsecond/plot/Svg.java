package org.voltsecond.plot;

import java.awt.Dimension;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import javax.xml.parsers.DocumentBuilderFactory;
import javax.xml.parsers.ParserConfigurationException;
import org.apache.batik.svggen.SVGGeneratorContext;
import org.apache.batik.svggen.SVGGraphics2D;
import org.w3c.dom.Document;
import org.w3c.dom.Element;

/** Writes a drawing as SVG: same drawing, same bytes. */
final class Svg {
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
        return (svg.substring(0, type) + svg.substring(root)).replace("font-family:'Dialog'", "font-family:sans-serif");
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
