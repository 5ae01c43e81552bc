package org.voltsecond.plot.page;

import java.awt.Shape;
import java.awt.geom.Arc2D;
import java.awt.geom.Ellipse2D;
import java.awt.geom.Path2D;
import java.awt.geom.Point2D;
import java.awt.geom.Rectangle2D;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A piece of a symbol as a shape for drawing outside a page, read from the markup that the page has for it, so that there is
 * one drawing of each symbol.
 *
 * @param shape where it is, in the coordinates of the symbol
 * @param kind how it is drawn
 */
record SymbolShape(Shape shape, Kind kind) {
    /** How a piece is drawn. */
    enum Kind {
        LINE,
        BOLD,
        FULL
    }

    private static final Pattern ELEMENT = Pattern.compile("<(path|circle|rect)([^>]*)/>");
    private static final Pattern TOKEN = Pattern.compile("[A-Za-z]|-?[0-9]+(?:[.][0-9]+)?");

    static List<SymbolShape> of(String markup) {
        List<SymbolShape> shapes = new ArrayList<>();
        Matcher element = ELEMENT.matcher(markup);
        while (element.find()) {
            String attributes = element.group(2);
            Kind kind = attributes.contains("class=\"full\"")
                    ? Kind.FULL
                    : attributes.contains("class=\"bold\"") ? Kind.BOLD : Kind.LINE;
            shapes.add(new SymbolShape(shape(element.group(1), attributes), kind));
        }
        return shapes;
    }

    private static Shape shape(String element, String attributes) {
        return switch (element) {
            case "circle" -> {
                double r = number(attributes, "r");
                yield new Ellipse2D.Double(number(attributes, "cx") - r, number(attributes, "cy") - r, 2 * r, 2 * r);
            }
            case "rect" ->
                new Rectangle2D.Double(
                        number(attributes, "x"),
                        number(attributes, "y"),
                        number(attributes, "width"),
                        number(attributes, "height"));
            default -> path(text(attributes, "d"));
        };
    }

    private static double number(String attributes, String name) {
        return Double.parseDouble(text(attributes, name));
    }

    private static String text(String attributes, String name) {
        String start = " " + name + "=\"";
        int from = attributes.indexOf(start) + start.length();
        return attributes.substring(from, attributes.indexOf('"', from));
    }

    /** The commands that symbols use: M, H, V, L and Z in absolute coordinates, and the half circle of a winding. */
    private static Path2D path(String data) {
        Path2D path = new Path2D.Double();
        Matcher token = TOKEN.matcher(data);
        while (token.find()) {
            char command = token.group().charAt(0);
            Point2D at = path.getCurrentPoint();
            switch (command) {
                case 'M' -> path.moveTo(next(token), next(token));
                case 'L' -> path.lineTo(next(token), next(token));
                case 'H' -> path.lineTo(next(token), at.getY());
                case 'V' -> path.lineTo(at.getX(), next(token));
                case 'Z' -> path.closePath();
                case 'a' -> {
                    double radius = next(token);
                    for (int k = 0; k < 6; k++) {
                        next(token);
                    }
                    path.append(
                            new Arc2D.Double(
                                    at.getX(), at.getY() - radius, 2 * radius, 2 * radius, 180, -180, Arc2D.OPEN),
                            true);
                }
                default -> throw new IllegalArgumentException("a symbol has the command " + command + ": " + data);
            }
        }
        return path;
    }

    private static double next(Matcher token) {
        if (!token.find()) {
            throw new IllegalArgumentException("a symbol ends within a command");
        }
        return Double.parseDouble(token.group());
    }
}
