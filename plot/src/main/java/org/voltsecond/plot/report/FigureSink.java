package org.voltsecond.plot.report;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.figures.Figure;

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
    default void tell(Figure<?> figure) {}

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

    /**
     * A value at its place.
     *
     * @param path keys and numbers with a stroke between them, for example "transient/changes/0/droop"
     * @param value a number, a text, true or false; null for what does not exist
     * @param figure what it is; null where the key says it
     */
    record Entry(
            String path, @Nullable Object value, @Nullable Figure<?> figure) {}

    /** Keeps every value with its place. */
    final class Places implements FigureSink {
        private final List<Entry> entries = new ArrayList<>();
        private final Deque<Level> levels = new ArrayDeque<>();
        private @Nullable Figure<?> told;

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

        List<Entry> entries() {
            return entries;
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
            entries.add(new Entry(place(), value, told));
            told = null;
        }

        @Override
        public void tell(Figure<?> figure) {
            told = figure;
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
