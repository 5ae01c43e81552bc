package org.voltsecond.plot.report;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.voltsecond.figures.PlacedFigure;
import org.voltsecond.units.Unit;

/**
 * Takes figures as they are told, one after the other: a file of JSON does, and a page that shows each at its place. So both
 * hold the same figures under the same keys.
 */
interface FigureSink {
    void writeStartObject() throws IOException;

    void writeEndObject() throws IOException;

    void writeStartArray() throws IOException;

    void writeEndArray() throws IOException;

    void writeFieldName(String key) throws IOException;

    void writeNumber(double value) throws IOException;

    void writeNumber(int value) throws IOException;

    void writeString(String text) throws IOException;

    void writeBoolean(boolean value) throws IOException;

    void writeNull() throws IOException;

    /** What the value that comes next is; of no interest to a file. */
    default void tell(String words, Unit unit) {}

    /** Writes JSON. */
    record Json(JsonGenerator json) implements FigureSink {
        @Override
        public void writeStartObject() throws IOException {
            json.writeStartObject();
        }

        @Override
        public void writeEndObject() throws IOException {
            json.writeEndObject();
        }

        @Override
        public void writeStartArray() throws IOException {
            json.writeStartArray();
        }

        @Override
        public void writeEndArray() throws IOException {
            json.writeEndArray();
        }

        @Override
        public void writeFieldName(String key) throws IOException {
            json.writeFieldName(key);
        }

        @Override
        public void writeNumber(double value) throws IOException {
            json.writeNumber(value);
        }

        @Override
        public void writeNumber(int value) throws IOException {
            json.writeNumber(value);
        }

        @Override
        public void writeString(String text) throws IOException {
            json.writeString(text);
        }

        @Override
        public void writeBoolean(boolean value) throws IOException {
            json.writeBoolean(value);
        }

        @Override
        public void writeNull() throws IOException {
            json.writeNull();
        }
    }

    /** Keeps every value with its place. */
    final class Places implements FigureSink {
        /** The unit of what is in no catalogue, by the end of its place. */
        private static final Map<String, Unit> UNITS = Map.ofEntries(
                Map.entry("frequency", Unit.HERTZ),
                Map.entry("phase_margin", Unit.DEGREE),
                Map.entry("gain_margin", Unit.DECIBEL),
                Map.entry("gain_reduction_margin", Unit.DECIBEL),
                Map.entry("separation", Unit.DECIBEL),
                Map.entry("impedance/peak", Unit.OHM),
                Map.entry("resistance", Unit.OHM),
                Map.entry("inductance", Unit.HENRY),
                Map.entry("capacitance", Unit.FARAD),
                Map.entry("voltage", Unit.VOLT),
                Map.entry("current", Unit.AMPERE),
                Map.entry("energy", Unit.JOULE),
                Map.entry("power", Unit.WATT),
                Map.entry("heat", Unit.WATT),
                Map.entry("/loss", Unit.WATT),
                Map.entry("losses/total", Unit.WATT),
                Map.entry("_time", Unit.SECOND));

        private final List<PlacedFigure> figures = new ArrayList<>();
        private final Deque<Level> levels = new ArrayDeque<>();
        private @Nullable String words;
        private Unit unit = Unit.ONE;

        /** An object or array that is being written; of an array the key is the number of the next item. */
        private static final class Level {
            private final String path;
            private final boolean array;
            private String key = "";
            private int next;

            Level(String path, boolean array) {
                this.path = path;
                this.array = array;
            }
        }

        List<PlacedFigure> figures() {
            return figures;
        }

        private String place() {
            Level here = levels.peek();
            if (here == null) {
                return "";
            }
            String key = here.array ? String.valueOf(here.next++) : here.key;
            return here.path.isEmpty() ? key : here.path + "/" + key;
        }

        private void add(@Nullable Object value) {
            String place = place();
            String key = place.substring(place.lastIndexOf('/') + 1);
            figures.add(
                    words == null
                            ? new PlacedFigure(place, value, key.replace('_', ' '), unitOf(place))
                            : new PlacedFigure(place, value, words, unit));
            words = null;
            unit = Unit.ONE;
        }

        private static Unit unitOf(String place) {
            return UNITS.entrySet().stream()
                    .filter(ending -> place.endsWith(ending.getKey()))
                    .findFirst()
                    .map(Map.Entry::getValue)
                    .orElse(Unit.ONE);
        }

        @Override
        public void tell(String told, Unit of) {
            words = told;
            unit = of;
        }

        @Override
        public void writeStartObject() {
            levels.push(new Level(place(), false));
        }

        @Override
        public void writeEndObject() {
            levels.pop();
        }

        @Override
        public void writeStartArray() {
            levels.push(new Level(place(), true));
        }

        @Override
        public void writeEndArray() {
            levels.pop();
        }

        @Override
        public void writeFieldName(String key) {
            levels.element().key = key;
        }

        @Override
        public void writeNumber(double value) {
            add(value);
        }

        @Override
        public void writeNumber(int value) {
            add((double) value);
        }

        @Override
        public void writeString(String text) {
            add(text);
        }

        @Override
        public void writeBoolean(boolean value) {
            add(value);
        }

        @Override
        public void writeNull() {
            add(null);
        }
    }
}
