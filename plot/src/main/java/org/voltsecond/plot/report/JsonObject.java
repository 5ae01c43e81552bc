package org.voltsecond.plot.report;

import java.io.IOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.voltsecond.figures.Figure;
import org.voltsecond.figures.FigureSheet;
import org.voltsecond.units.Result;

/**
 * One object of the figures while it is being written. A number that does not exist is written as null, and the object
 * then ends with a "reason".
 */
final class JsonObject implements AutoCloseable {
    /** Figures of several signals of a kind stand in an array. */
    private static final String SIGNALS = "signals";

    private final FigureSink json;
    /** Keys by the reason why they are null, so that each is told once. */
    private final Map<String, String> reasons = new LinkedHashMap<>();

    private JsonObject(FigureSink json) throws IOException {
        this.json = json;
        json.writeStartObject();
    }

    /** Starts an object as an entry of an array, or the outermost one. */
    static JsonObject in(FigureSink json) throws IOException {
        return new JsonObject(json);
    }

    /** Starts an object within this one. */
    JsonObject object(String key) throws IOException {
        json.writeFieldName(key);
        return new JsonObject(json);
    }

    JsonObject text(String key, String value) throws IOException {
        json.writeFieldName(key);
        json.writeString(value);
        return this;
    }

    JsonObject flag(String key, boolean value) throws IOException {
        json.writeFieldName(key);
        json.writeBoolean(value);
        return this;
    }

    JsonObject count(String key, int value) throws IOException {
        json.writeFieldName(key);
        json.writeNumber(value);
        return this;
    }

    JsonObject number(String key, double value) throws IOException {
        return number(key, value, "not a finite number");
    }

    JsonObject number(String key, double value, String reasonIfNotFinite) throws IOException {
        if (Double.isFinite(value)) {
            json.writeFieldName(key);
            json.writeNumber(value);
            return this;
        }
        return missing(key, reasonIfNotFinite);
    }

    JsonObject number(String key, Result<Double> value) throws IOException {
        return value.exists() ? number(key, value.get()) : missing(key, value.reason());
    }

    /** Writes all figures of a sheet at their places; those of one place follow each other. */
    <S> JsonObject sheet(FigureSheet<S> sheet) throws IOException {
        List<Place> open = new ArrayList<>(List.of(new Place("", this)));
        for (Figure<? super S> figure : sheet.figures()) {
            List<String> path = List.of(figure.path().split("/"));
            int shared = 1;
            while (shared < open.size()
                    && shared < path.size()
                    && open.get(shared).name().equals(path.get(shared - 1))) {
                shared++;
            }
            closeFrom(shared, open);
            while (open.size() < path.size()) {
                int depth = open.size() - 1;
                String name = path.get(depth);
                boolean array = path.get(0).equals(SIGNALS) && isNumber(path.get(depth + 1));
                open.add(new Place(name, array ? null : within(open.get(depth), name)));
                if (array) {
                    json.writeFieldName(name);
                    json.writeStartArray();
                }
            }
            json.tell(figure.words(), figure.unit());
            Objects.requireNonNull(open.get(open.size() - 1).object()).number(figure.key(), sheet.get(figure));
        }
        closeFrom(1, open);
        return this;
    }

    /** A place on the way to a figure; no object is an array. */
    private record Place(String name, @Nullable JsonObject object) {}

    private static boolean isNumber(String name) {
        return name.chars().allMatch(Character::isDigit);
    }

    private JsonObject within(Place place, String name) throws IOException {
        return place.object() == null ? in(json) : place.object().object(name);
    }

    private void closeFrom(int depth, List<Place> open) throws IOException {
        while (open.size() > depth) {
            JsonObject object = open.remove(open.size() - 1).object();
            if (object == null) {
                json.writeEndArray();
            } else {
                object.close();
            }
        }
    }

    JsonObject missing(String key, String reason) throws IOException {
        json.writeFieldName(key);
        json.writeNull();
        reasons.merge(reason, key, (first, next) -> first + ", " + next);
        return this;
    }

    JsonObject array(String key, ArrayContent content) throws IOException {
        json.writeFieldName(key);
        json.writeStartArray();
        content.writeTo(json);
        json.writeEndArray();
        return this;
    }

    @Override
    public void close() throws IOException {
        if (!reasons.isEmpty()) {
            json.writeFieldName("reason");
            json.writeString(reasons.entrySet().stream()
                    .map(each -> each.getValue() + ": " + each.getKey())
                    .collect(Collectors.joining("; ")));
        }
        json.writeEndObject();
    }

    /** Writes the entries of an array. */
    @FunctionalInterface
    interface ArrayContent {
        void writeTo(FigureSink json) throws IOException;
    }
}
