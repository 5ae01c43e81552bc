package org.voltsecond.plot.slides;

import java.util.ArrayList;
import java.util.List;
import org.voltsecond.plot.Picture;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;

/**
 * One slide. Immutable.
 *
 * <pre>{@code
 * Slide boundary = Slides.of(Findings.of(rail), List.of("boundary")).slides().get(1);
 * String message = boundary.message(); // "The current runs dry above 22.22 Ω"
 * double load = boundary.values().get(0).value(); // 22.22 Ω
 * boundary.picture().writePng(folder.resolve("boundary.png")); // 1920 by 1080 pixels
 * }</pre>
 *
 * @param name of its files
 * @param message what it says, a sentence with a number
 * @param definition what the number is, for the notes
 * @param values the numbers, for the notes
 * @param below a line below the message; empty for none
 * @param drawing the picture as it is elsewhere
 */
public record Slide(String name, String message, String definition, List<Value> values, String below, Picture drawing) {
    private static final int DIGITS = 6;

    /**
     * A number.
     *
     * @param words what it is
     * @param value in the unit without prefix
     * @param unit its unit
     */
    public record Value(String words, double value, Unit unit) {}

    /**
     * Makes the list unmodifiable.
     *
     * @param name of its files
     * @param message what it says
     * @param definition what the number is
     * @param values the numbers
     * @param below a line below the message
     * @param drawing the picture as it is elsewhere
     */
    public Slide {
        values = List.copyOf(values);
    }

    /**
     * Returns the slide as a picture.
     *
     * @return 1920 by 1080 pixels as PNG, with the message at the top
     */
    public Picture picture() {
        return drawing.slide(message, below);
    }

    /**
     * Returns what who speaks has at hand.
     *
     * @return the definition, then each number with its name, unit and six digits
     */
    public List<String> notes() {
        List<String> notes = new ArrayList<>(List.of(definition));
        for (Value value : values) {
            notes.add(value.words + ": " + Quantity.format(value.value, value.unit, DIGITS));
        }
        return List.copyOf(notes);
    }

    /** Collects a slide. */
    static final class Draft {
        private static final int BRIEF = 3;

        private final String name;
        private final List<Value> values = new ArrayList<>();
        private String definition = "";
        private String below = "";

        Draft(String name) {
            this.name = name;
        }

        Draft definition(String text) {
            definition = text;
            return this;
        }

        Draft below(String text) {
            below = text;
            return this;
        }

        /** Notes a number, and returns it as the message tells it. */
        String tell(String words, double value, Unit unit) {
            return tell(words, value, unit, BRIEF);
        }

        String tell(String words, double value, Unit unit, int digits) {
            values.add(new Value(words, value, unit));
            return Quantity.format(value, unit, digits);
        }

        void note(String words, double value, Unit unit) {
            values.add(new Value(words, value, unit));
        }

        Slide of(String message, Picture picture) {
            return new Slide(name, message, definition, values, below, picture);
        }
    }
}
