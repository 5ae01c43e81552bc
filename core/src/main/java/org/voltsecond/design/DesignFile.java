package org.voltsecond.design;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.nio.file.AccessDeniedException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;
import org.tomlj.Toml;
import org.tomlj.TomlArray;
import org.tomlj.TomlParseError;
import org.tomlj.TomlParseResult;
import org.tomlj.TomlPosition;
import org.tomlj.TomlTable;
import org.tomlj.TomlVersion;
import org.voltsecond.analysis.NoSteadyStateException;
import org.voltsecond.design.DesignException.Fault;
import org.voltsecond.design.DesignException.Faults;
import org.voltsecond.design.RailLoop.NoLoopException;
import org.voltsecond.design.RailReader.RailPlan;
import org.voltsecond.sizing.SizingException;

/**
 * Reads design files: TOML 1.0, checked key by key, every fault told at once with its line.
 *
 * <pre>{@code
 * Path file = folder.resolve("lamp-rail.toml");
 * Files.writeString(file, """
 *         stage = { topology = "buck" }
 *         input = { voltage = "12 V" }
 *         inductor = { inductance = "22 µH" }
 *         output_capacitor = { capacitance = "47 µF" }
 *         load = { current = "2 A" }
 *         drive = { kind = "fixed-duty", duty_cycle = 0.45, switching_frequency = "300 kHz" }
 *         """);
 * Design read = DesignFile.read(file);
 * String name = read.name(); // "lamp-rail"
 * }</pre>
 */
public final class DesignFile {
    /** More than any design needs; a larger file is something else. */
    static final int LARGEST_BYTES = 1 << 20;

    static final String NONE_PROPOSED = "no design can be proposed: ";

    private DesignFile() {}

    /**
     * Reads a file.
     *
     * @param file the file
     * @return the design
     * @throws DesignException if the file cannot be read or the design is wrong; carries every fault
     */
    public static Design read(Path file) throws DesignException {
        return parse(file.toString(), baseName(file), text(file), folderOf(file));
    }

    /**
     * Returns the name of a file without its ending {@code .toml}.
     *
     * @param file a path
     * @return the name; empty for a path without a name
     */
    public static String baseName(Path file) {
        Path last = file.getFileName();
        String name = last == null ? "" : last.toString();
        return name.endsWith(".toml") ? name.substring(0, name.length() - ".toml".length()) : name;
    }

    /**
     * Reads a design from a text. Files that it names are sought from the working directory on.
     *
     * @param file what to call the text in faults
     * @param defaultName the name of the design if the text does not give one
     * @param text the text, TOML
     * @return the design
     * @throws DesignException if the design is wrong; carries every fault
     */
    public static Design parse(String file, String defaultName, String text) throws DesignException {
        return parse(file, defaultName, text, Path.of(""));
    }

    /**
     * Returns the folder from which on the files are sought that a design names.
     *
     * @param file the design file
     * @return its folder
     */
    public static Path folderOf(Path file) {
        Path parent = file.getParent();
        return parent == null ? Path.of("") : parent;
    }

    /**
     * Reads a design from a text.
     *
     * @param file what to call the text in faults
     * @param defaultName the name of the design if the text does not give one
     * @param text the text, TOML
     * @param folder where files that the design names are sought
     * @return the design
     * @throws DesignException if the design is wrong; carries every fault
     */
    public static Design parse(String file, String defaultName, String text, Path folder) throws DesignException {
        Faults faults = new Faults(file);
        if (text.isBlank()) {
            faults.add(
                    1,
                    "file",
                    "is empty; a design has the tables [stage], [input], [inductor], [output_capacitor], "
                            + "[load] and [drive]");
            throw faults.toException();
        }
        Section root = Section.root(tree(toml(text, faults)), faults);
        Design design = new DesignReader(root, defaultName, new StudyPlans.Reader(folder)).read();
        if (design == null || !faults.isEmpty()) {
            throw faults.toException();
        }
        return design;
    }

    /**
     * Completes a text that says what a rail is to do, in a table {@code [rail]}, to the design that is proposed for it.
     *
     * @param file what to call the text in faults
     * @param defaultName the name of the design if the text does not give one
     * @param text the text, TOML
     * @return the text of a design; the same if it has no such table
     * @throws DesignException if no design can be proposed; carries every fault
     */
    public static String completed(String file, String defaultName, String text) throws DesignException {
        Faults faults = new Faults(file);
        TomlParseResult toml = toml(text, faults);
        if (!toml.contains(List.of(RailReader.TABLE))) {
            return text;
        }
        Section root = Section.root(tree(toml), faults);
        RailPlan plan = new RailReader(root, defaultName).read();
        if (plan == null || !faults.isEmpty()) {
            throw faults.toException();
        }
        try {
            return RailDesign.of(plan).text();
        } catch (NoLoopException e) {
            RailReader.tellOfLoop(root, e);
        } catch (SizingException e) {
            root.fault(RailReader.TABLE, NONE_PROPOSED + String.join("; ", e.faults()));
        } catch (NoSteadyStateException e) {
            root.fault(RailReader.TABLE, NONE_PROPOSED + e.getMessage());
        }
        throw faults.toException();
    }

    /**
     * Returns the fault of a design that is well written but cannot be run.
     *
     * @param file what to call the text in the fault
     * @param text the text of the design
     * @param table the table that it is about
     * @param message what is wrong, and what is valid
     * @return the exception, with one fault at the line of the table
     */
    public static DesignException wrong(String file, String text, String table, String message) {
        TomlPosition position = Toml.parse(text, TomlVersion.V1_0_0).inputPositionOf(List.of(table));
        return new DesignException(List.of(new Fault(file, position == null ? 1 : position.line(), table, message)));
    }

    /**
     * Reads a text as a tree of values that can be changed.
     *
     * @param file what to call the text in faults
     * @param text the text, TOML
     * @return the tree, whether or not it is a design
     * @throws DesignException if the text is no TOML; carries every fault
     */
    public static DesignTree tree(String file, String text) throws DesignException {
        Faults faults = new Faults(file);
        DesignTree.Table root = tree(toml(text, faults));
        if (!faults.isEmpty()) {
            throw faults.toException();
        }
        return DesignTree.of(root);
    }

    private static DesignTree.Table tree(TomlTable toml) {
        Map<String, Object> values = new LinkedHashMap<>();
        Map<String, Integer> lines = new HashMap<>();
        for (Map.Entry<String, Object> entry : toml.entrySet()) {
            values.put(entry.getKey(), value(entry.getValue()));
            TomlPosition position = toml.inputPositionOf(List.of(entry.getKey()));
            if (position != null) {
                lines.put(entry.getKey(), position.line());
            }
        }
        return new DesignTree.Table(values, lines);
    }

    private static Object value(Object value) {
        if (value instanceof TomlTable table) {
            return tree(table);
        }
        if (value instanceof TomlArray array) {
            return new DesignTree.Items(
                    array.toList().stream().map(DesignFile::value).toList(),
                    IntStream.range(0, array.size())
                            .mapToObj(i -> array.inputPositionOf(i).line())
                            .toList());
        }
        return value;
    }

    private static TomlParseResult toml(String text, Faults faults) throws DesignException {
        TomlParseResult toml;
        try {
            toml = Toml.parse(text, TomlVersion.V1_0_0);
        } catch (StackOverflowError e) {
            faults.add(1, "TOML", "is nested too deeply to be read; a design nests its tables three deep at most");
            throw faults.toException();
        }
        boolean readable = true;
        for (TomlParseError error : toml.errors()) {
            faults.add(
                    error.position().line(),
                    "TOML",
                    error.getMessage() + " (column " + error.position().column()
                            + "); valid: TOML 1.0, in which a quantity" + " is a text in quotes: voltage = \"12 V\"");
            readable &= isRepeatedKey(error, text);
        }
        if (!readable) {
            throw faults.toException();
        }
        return toml;
    }

    /** After a key that comes twice the rest was read as it should be; after a table that does, keys are misplaced. */
    private static boolean isRepeatedKey(TomlParseError error, String text) {
        String line =
                text.lines().skip(error.position().line() - 1L).findFirst().orElse("");
        return String.valueOf(error.getMessage()).contains("previously defined")
                && !line.stripLeading().startsWith("[");
    }

    /**
     * Reads the text of a file.
     *
     * @param file the file
     * @return its text, which may be no design
     * @throws DesignException if the file cannot be read or is no text
     */
    public static String text(Path file) throws DesignException {
        String text = decode(file, bytes(file));
        int nul = text.indexOf('\0');
        if (nul >= 0) {
            throw unreadable(file, lineOf(text, nul), "is a binary file (it holds a zero byte); valid: TOML, a text");
        }
        return text.startsWith("\ufeff") ? text.substring(1) : text;
    }

    private static byte[] bytes(Path file) throws DesignException {
        try {
            if (Files.isDirectory(file)) {
                throw unreadable(file, 1, "is a directory; valid: a design file");
            }
            if (Files.exists(file) && !Files.isRegularFile(file)) {
                throw unreadable(file, 1, "is not a regular file; valid: a design file");
            }
            if (Files.exists(file) && Files.size(file) > LARGEST_BYTES) {
                throw unreadable(
                        file, 1, "is too large: " + Files.size(file) + " bytes; valid: at most " + LARGEST_BYTES);
            }
            return Files.readAllBytes(file);
        } catch (AccessDeniedException e) {
            throw unreadable(file, 1, "may not be read: access denied; valid: a file that you may read");
        } catch (IOException e) {
            throw Files.exists(file)
                    ? unreadable(file, 1, "cannot be read: " + e.getMessage())
                    : unreadable(file, 1, "does not exist; valid: the path of a design file");
        }
    }

    private static String decode(Path file, byte[] bytes) throws DesignException {
        ByteBuffer input = ByteBuffer.wrap(bytes);
        try {
            return StandardCharsets.UTF_8.newDecoder().decode(input).toString();
        } catch (CharacterCodingException e) {
            // The decoder has moved on to the byte that it could not read.
            String before = new String(bytes, 0, input.position(), StandardCharsets.UTF_8);
            throw unreadable(
                    file, lineOf(before, before.length()), "is not text in UTF-8; valid: TOML, a text in UTF-8");
        }
    }

    private static int lineOf(String text, int end) {
        return 1 + (int) text.substring(0, end).chars().filter(c -> c == '\n').count();
    }

    private static DesignException unreadable(Path file, int line, String message) {
        Faults faults = new Faults(file.toString());
        faults.add(line, "file", message);
        return faults.toException();
    }
}
