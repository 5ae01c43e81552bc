package org.voltsecond.plot;

import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.jspecify.annotations.Nullable;
import org.voltsecond.study.MapLine;
import org.voltsecond.study.OperatingMap;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * Pictures of operating maps: figures as contours over two quantities, with the boundary of conduction.
 *
 * <pre>{@code
 * OperatingMap map = OperatingMap.of(
 *         rail,
 *         Axis.loadCurrent(milli(20), 2, 20),
 *         Axis.inputVoltage(9, 15, 13),
 *         Figures.usual(),
 *         Execution.standard());
 * MapPictures.conduction("Logic rail", map).writePng(folder.resolve("map.png"));
 * }</pre>
 */
public final class MapPictures {
    private static final int WIDTH = 940;
    private static final int HEIGHT = 620;
    private static final int DIGITS = 4;

    private MapPictures() {}

    /**
     * Draws where conduction is continuous and where discontinuous, the latter hatched, with the exact boundary between.
     *
     * @param title in bold at the top
     * @param map the map; two values or more on each axis
     * @return the picture
     * @throws IllegalArgumentException if an axis has a single value
     */
    public static Picture conduction(String title, OperatingMap map) {
        return picture(title, map, OptionalInt.empty(), null);
    }

    /**
     * Draws the same with a dot where the design itself lies.
     *
     * @param title in bold at the top
     * @param map the map; two values or more on each axis
     * @param design the place; not shown if it is null or beyond the map
     * @return the picture
     * @throws IllegalArgumentException if an axis has a single value
     */
    public static Picture conduction(String title, OperatingMap map, MapLine.@Nullable Spot design) {
        return picture(title, map, OptionalInt.empty(), design);
    }

    /**
     * Draws the contours of a figure at round values, darker where it is larger; discontinuous conduction is hatched, and
     * points without a steady state are left out.
     *
     * @param title in bold at the top; if it does not hold the name of the figure, that stands above the map
     * @param map the map; two values or more on each axis
     * @param figure one of the map's figures, by its place there
     * @return the picture
     * @throws IllegalArgumentException if an axis has a single value, or the figure exists at no point
     */
    public static Picture contours(String title, OperatingMap map, int figure) {
        return checked(title, map, figure, null);
    }

    /**
     * Draws the same with a dot where the design itself lies.
     *
     * @param title in bold at the top; if it does not hold the name of the figure, that stands above the map
     * @param map the map; two values or more on each axis
     * @param figure one of the map's figures, by its place there
     * @param design the place; not shown if it is null or beyond the map
     * @return the picture
     * @throws IllegalArgumentException if an axis has a single value, or the figure exists at no point
     */
    public static Picture contours(String title, OperatingMap map, int figure, MapLine.@Nullable Spot design) {
        return checked(title, map, figure, design);
    }

    private static Picture checked(String title, OperatingMap map, int figure, MapLine.@Nullable Spot design) {
        if (!(figure >= 0 && figure < map.figures().size())) {
            throw new IllegalArgumentException("picture " + title + ": the map has "
                    + map.figures().size() + " figures, counted from 0, but number " + figure + " was asked for");
        }
        if (Double.isNaN(map.least(figure))) {
            throw new IllegalArgumentException(
                    "picture " + title + ": " + map.figures().get(figure).words()
                            + " exists at no point of the map; see the reasons in its table");
        }
        return picture(title, map, OptionalInt.of(figure), design);
    }

    private static Picture picture(String title, OperatingMap map, OptionalInt figure, MapLine.@Nullable Spot design) {
        if (map.across().size() < 2 || map.up().size() < 2) {
            throw new IllegalArgumentException("picture " + title
                    + ": a map needs 2 values or more on each axis but has "
                    + map.across().size() + " across and " + map.up().size() + " up");
        }
        Sheet sheet = new Sheet(title, subtitle(map), Sheet.CAUTION);
        return new Picture(new MapDrawing(sheet, map, figure, design), WIDTH, HEIGHT, 1);
    }

    private static String subtitle(OperatingMap map) {
        OptionalDouble held = map.heldOutput();
        String text = map.topology()
                + (held.isPresent() ? ", output held at " + Quantity.format(held.getAsDouble(), Unit.VOLT, DIGITS) : "")
                + ", " + map.across().size() + " × " + map.up().size() + " steady states";
        return map.failures() == 0 ? text : text + ", " + map.failures() + " points without one left out";
    }
}
