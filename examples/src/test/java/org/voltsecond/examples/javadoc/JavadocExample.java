package org.voltsecond.examples.javadoc;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * One example in the Javadoc of a source file: the lines of a preformatted code block. A block that begins on the line of
 * its opening tags is a formula and no example.
 *
 * @param file the source file, as seen from the root of the project
 * @param line number of its first line of code in the file
 * @param code its lines
 */
record JavadocExample(String file, int line, List<String> code) {
    private static final Pattern BLOCK = Pattern.compile("<pre>\\{@code\n(.*?)\n[ *]*\\}</pre>", Pattern.DOTALL);
    private static final Pattern PUBLIC_TYPE =
            Pattern.compile("^public (?:[a-z-]+ )*(?:class|interface|record|enum|@interface) \\w+", Pattern.MULTILINE);
    private static final Pattern DECLARATION = Pattern.compile("([\\w.<>\\[\\], ]+) (\\w+) = .*");
    private static final Pattern LAST_LINE = Pattern.compile("(.*;) +// (.*)");

    /** A source file with what its examples are. */
    record Source(String file, boolean isPublic, boolean isExplained, List<JavadocExample> examples) {}

    static Source in(Path root, Path path) throws IOException {
        String text = Files.readString(path);
        String file = root.relativize(path).toString().replace('\\', '/');
        List<JavadocExample> examples = new ArrayList<>();
        Matcher block = BLOCK.matcher(text);
        while (block.find()) {
            int line = (int) text.substring(0, block.start(1)).lines().count() + 1;
            examples.add(new JavadocExample(
                    file,
                    line,
                    block.group(1).lines().map(JavadocExample::withoutMargin).toList()));
        }
        Matcher type = PUBLIC_TYPE.matcher(text);
        boolean isPublic = type.find();
        boolean isExplained =
                isPublic && BLOCK.matcher(text.substring(0, type.start())).find();
        return new Source(file, isPublic, isExplained, List.copyOf(examples));
    }

    private static String withoutMargin(String line) {
        return line.replaceFirst("^ *\\* ?", "");
    }

    /** Name of the class that it becomes. */
    String className() {
        return file.replaceAll(".*/org/voltsecond/|\\.java", "").replace('/', '_') + "_" + line;
    }

    /**
     * A class with a method that runs the example and returns what it found at each value that a comment tells: a fault, or
     * an empty text. Its lines bear the numbers that they have in the file, so that what the compiler says points there.
     */
    String asClass(String imports) {
        StringBuilder text = new StringBuilder("package example; ").append(imports);
        text.append(" class ")
                .append(className())
                .append(" { static java.util.List<String> run() throws Exception {")
                .append(" java.util.List<String> said_ = new java.util.ArrayList<>();");
        text.append("\n".repeat(line - 1));
        int number = line;
        String type = "";
        String name = "";
        boolean begins = true;
        for (String each : code) {
            Matcher declaration = DECLARATION.matcher(each.strip());
            if (begins) {
                type = declaration.matches() ? declaration.group(1) : "";
                name = declaration.matches() ? declaration.group(2) : "";
            }
            Matcher last = LAST_LINE.matcher(each);
            boolean checked = last.matches() && Said.isValue(type, last.group(2));
            text.append(checked ? last.group(1) + checked(name, last.group(2), number) : each)
                    .append('\n');
            number++;
            begins = each.replaceFirst(" +// .*", "").matches(".*[;{}]|\\s*(//.*)?");
        }
        return text.append("return said_; } }\n").toString();
    }

    private static String checked(String name, String comment, int number) {
        String text = comment.replace("\"", "\\\"");
        return " said_.add(Said.fault(" + name + ", \"" + text + "\", " + number + "));";
    }

    /** How many values its comments tell. */
    long values() {
        return asClass("").lines().filter(each -> each.contains(" said_.add(")).count();
    }
}
