package org.voltsecond.examples.gallery;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.regex.Pattern;

/** The source of a class, which the build puts into the jar, so that what is shown is what runs. */
final class SourceText {
    private static final String END_OF_METHOD = "    }";

    private final String name;
    private final List<String> lines;

    private SourceText(String name, List<String> lines) {
        this.name = name;
        this.lines = lines;
    }

    static SourceText of(Class<?> type) {
        String file = "/gallery-source/" + type.getSimpleName() + ".java";
        try (InputStream stream = SourceText.class.getResourceAsStream(file)) {
            if (stream == null) {
                throw new IllegalStateException(
                        "the class path lacks " + file + "; build the examples with Maven, which " + "puts it there");
            }
            return new SourceText(
                    type.getSimpleName(),
                    new String(stream.readAllBytes(), StandardCharsets.UTF_8)
                            .lines()
                            .toList());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** The line at which a method begins. */
    int position(String method) {
        Pattern begin = Pattern.compile("    static \\S.* " + Pattern.quote(method) + "\\(.*");
        for (int i = 0; i < lines.size(); i++) {
            if (begin.matcher(lines.get(i)).matches()) {
                return i;
            }
        }
        throw new IllegalStateException("the source of " + name + " has no static method " + method
                + "; it may be older than the class, build again");
    }

    /** The text of a method, from its name to its closing brace. */
    String method(String method) {
        int first = position(method);
        int last = first;
        while (!lines.get(last).equals(END_OF_METHOD)) {
            last++;
        }
        return String.join("\n", lines.subList(first, last + 1)).stripIndent();
    }
}
