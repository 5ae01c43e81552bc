package org.voltsecond.examples;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import java.io.IOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;

/** Reads JSON strictly into maps, lists, texts, numbers and booleans. */
public final class Json {
    private Json() {}

    /** The outermost object. */
    @SuppressWarnings("unchecked")
    public static Map<String, Object> read(String text) throws IOException {
        try (JsonParser parser = new JsonFactory().createParser(text)) {
            parser.enable(JsonParser.Feature.STRICT_DUPLICATE_DETECTION);
            parser.nextToken();
            Object root = value(parser);
            if (parser.nextToken() != null) {
                throw new IOException("text after the end");
            }
            return (Map<String, Object>) Objects.requireNonNull(root);
        }
    }

    /** What stands at a path such as {@code transient.final_state.inductor_current}. */
    @SuppressWarnings("unchecked")
    public static @Nullable Object valueAt(Map<String, Object> root, String path) {
        Object here = root;
        for (String key : path.split("\\.", -1)) {
            Map<String, Object> object = (Map<String, Object>) here;
            if (!object.containsKey(key)) {
                throw new AssertionError(path + ": no key " + key + " among " + object.keySet());
            }
            here = object.get(key);
        }
        return here;
    }

    /** What stands at a path, which must not be null. */
    public static Object at(Map<String, Object> root, String path) {
        return Objects.requireNonNull(valueAt(root, path), path);
    }

    /** The number at a path. */
    public static double number(Map<String, Object> root, String path) {
        if (valueAt(root, path) instanceof Double number) {
            return number;
        }
        throw new AssertionError(path + " is no number but " + valueAt(root, path));
    }

    private static @Nullable Object value(JsonParser parser) throws IOException {
        return switch (parser.currentToken()) {
            case START_OBJECT -> object(parser);
            case START_ARRAY -> array(parser);
            case VALUE_STRING -> parser.getText();
            case VALUE_NUMBER_INT, VALUE_NUMBER_FLOAT -> parser.getDoubleValue();
            case VALUE_TRUE -> true;
            case VALUE_FALSE -> false;
            case VALUE_NULL -> null;
            default -> throw new IOException("unexpected " + parser.currentToken());
        };
    }

    private static Map<String, @Nullable Object> object(JsonParser parser) throws IOException {
        Map<String, @Nullable Object> object = new LinkedHashMap<>();
        while (parser.nextToken() != JsonToken.END_OBJECT) {
            String key = parser.currentName();
            parser.nextToken();
            object.put(key, value(parser));
        }
        return object;
    }

    private static List<@Nullable Object> array(JsonParser parser) throws IOException {
        List<@Nullable Object> array = new ArrayList<>();
        while (parser.nextToken() != JsonToken.END_ARRAY) {
            array.add(value(parser));
        }
        return array;
    }
}
