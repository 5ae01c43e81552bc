package org.voltsecond.plot.report;

import com.fasterxml.jackson.core.JsonGenerator;
import java.io.IOException;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.voltsecond.figures.Figure;
import org.voltsecond.figures.FigureSheet;
import org.voltsecond.units.Result;

/**
 * One object of the JSON file while it is being written. A number that does not exist is written as null, and the object
 * then ends with a "reason".
 */
final class JsonObject implements AutoCloseable {
    private final JsonGenerator json;
    /** Keys by the reason why they are null, so that each is told once. */
    private final Map<String, String> reasons = new LinkedHashMap<>();

    private JsonObject(JsonGenerator json) throws IOException {
        this.json = json;
        json.writeStartObject();
    }

    /** Starts an object as an entry of an array, or the outermost one. */
    static JsonObject in(JsonGenerator json) throws IOException {
        return new JsonObject(json);
    }

    /** Starts an object within this one. */
    JsonObject object(String key) throws IOException {
        json.writeFieldName(key);
        return new JsonObject(json);
    }

    JsonObject text(String key, String value) throws IOException {
        json.writeStringField(key, value);
        return this;
    }

    JsonObject flag(String key, boolean value) throws IOException {
        json.writeBooleanField(key, value);
        return this;
    }

    JsonObject count(String key, int value) throws IOException {
        json.writeNumberField(key, value);
        return this;
    }

    JsonObject number(String key, double value) throws IOException {
        return number(key, value, "not a finite number");
    }

    JsonObject number(String key, double value, String reasonIfNotFinite) throws IOException {
        if (Double.isFinite(value)) {
            json.writeNumberField(key, value);
            return this;
        }
        return missing(key, reasonIfNotFinite);
    }

    JsonObject number(String key, Result<Double> value) throws IOException {
        return value.exists() ? number(key, value.get()) : missing(key, value.reason());
    }

    /** Writes all figures of a sheet at their places; those of one place follow each other. */
    <S> JsonObject sheet(FigureSheet<S> sheet) throws IOException {
        Deque<JsonObject> open = new ArrayDeque<>(List.of(this));
        List<String> within = new ArrayList<>();
        for (Figure<? super S> figure : sheet.figures()) {
            List<String> path = List.of(figure.path().split("/"));
            List<String> folder = path.subList(0, path.size() - 1);
            while (!within.equals(folder.subList(0, Math.min(within.size(), folder.size())))) {
                within.remove(within.size() - 1);
                open.pop().close();
            }
            while (within.size() < folder.size()) {
                String key = folder.get(within.size());
                open.push(open.element().object(key));
                within.add(key);
            }
            open.element().number(figure.key(), sheet.get(figure));
        }
        while (open.size() > 1) {
            open.pop().close();
        }
        return this;
    }

    JsonObject missing(String key, String reason) throws IOException {
        json.writeNullField(key);
        reasons.merge(reason, key, (first, next) -> first + ", " + next);
        return this;
    }

    JsonObject array(String key, ArrayContent content) throws IOException {
        json.writeArrayFieldStart(key);
        content.writeTo(json);
        json.writeEndArray();
        return this;
    }

    @Override
    public void close() throws IOException {
        if (!reasons.isEmpty()) {
            json.writeStringField(
                    "reason",
                    reasons.entrySet().stream()
                            .map(each -> each.getValue() + ": " + each.getKey())
                            .collect(Collectors.joining("; ")));
        }
        json.writeEndObject();
    }

    /** Writes the entries of an array. */
    @FunctionalInterface
    interface ArrayContent {
        void writeTo(JsonGenerator json) throws IOException;
    }
}
