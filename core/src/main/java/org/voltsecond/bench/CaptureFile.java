package org.voltsecond.bench;

import de.siegmar.fastcsv.reader.CsvParseException;
import de.siegmar.fastcsv.reader.CsvReader;
import de.siegmar.fastcsv.reader.CsvRecord;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.Reader;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;

/**
 * Reads captures from text files with rows of numbers: columns separated by comma, semicolon, tab or spaces, fractions
 * after a point or (unless commas separate) a comma; with headings or without; any lines before them. The first column is
 * the time in s, or in the unit that its heading names in brackets, unless a sample interval is given.
 *
 * <pre>{@code
 * Path file = folder.resolve("scope.csv");
 * Files.writeString(file, "time (µs),node (V)\n0,12\n1.5,0\n3,12\n");
 * Capture capture = CaptureFile.read(file, CaptureChoice.first(Unit.VOLT));
 * String channel = capture.name(); // "node"
 * double end = capture.endTime(); // 3 µs
 * }</pre>
 */
public final class CaptureFile {
    /** Most samples that are read from one file. */
    public static final int MOST_SAMPLES = 5_000_000;

    private static final int BEGINNING = 1 << 16;

    private final Path file;
    private final CaptureChoice choice;

    private CaptureFile(Path file, CaptureChoice choice) {
        this.file = file;
        this.choice = choice;
    }

    /**
     * Reads one channel.
     *
     * @param file the file
     * @param choice which channel, and what tells the time
     * @return the capture, named after the heading of its column, or else "channel" and its number
     * @throws CaptureException if the file cannot be read or is no capture; the message names the line and what is valid
     */
    public static Capture read(Path file, CaptureChoice choice) throws CaptureException {
        CaptureFile reading = new CaptureFile(file, choice);
        if (!Files.isRegularFile(file)) {
            throw reading.fault(1, Files.exists(file) ? "is not a regular file" : "does not exist");
        }
        try {
            return reading.read();
        } catch (IOException e) {
            throw reading.fault(1, "cannot be read: " + e.getMessage());
        }
    }

    private Capture read() throws IOException, CaptureException {
        byte[] bytes;
        try (InputStream stream = Files.newInputStream(file)) {
            bytes = stream.readNBytes(BEGINNING);
        }
        Charset charset = charset(bytes);
        String beginning = withoutMark(new String(bytes, charset));
        if (beginning.isBlank()) {
            throw fault(1, "is empty; valid: rows of numbers, a time and one or more channels in each");
        }
        if (beginning.indexOf('\0') >= 0) {
            throw fault(lineOf(beginning, '\0'), "contains a zero byte, so it is not text; valid: rows of numbers");
        }
        Layout layout = Layout.of(bytes.length < BEGINNING ? beginning : wholeLines(beginning));
        CaptureColumns columns = new CaptureColumns(file, choice, layout);
        try (Reader reader = new BufferedReader(new InputStreamReader(Files.newInputStream(file), charset))) {
            return rows(reader, layout, columns);
        }
    }

    private Capture rows(Reader reader, Layout layout, CaptureColumns columns) throws IOException, CaptureException {
        skipMark(reader);
        long line = 0;
        try (CsvReader<CsvRecord> csv = layout.dialect().reader(reader)) {
            for (CsvRecord record : csv) {
                line = record.getStartingLineNumber();
                Row row = Row.of(record, layout.dialect());
                if (line >= columns.firstLine() && !row.isBlank()) {
                    columns.add(row);
                }
            }
        } catch (CsvParseException e) {
            throw fault(
                    line + 1,
                    "cannot be read as a row: a quotation mark is not closed, or the line is longer than "
                            + Dialect.LONGEST_LINE + " characters; valid: a row of numbers");
        }
        return columns.capture();
    }

    /** The last line may be cut. */
    private static String wholeLines(String beginning) {
        int end = Math.max(beginning.lastIndexOf('\n'), beginning.lastIndexOf('\r'));
        return end < 0 ? beginning : beginning.substring(0, end + 1);
    }

    private static Charset charset(byte[] bytes) {
        boolean wide = bytes.length > 1 && (bytes[0] & 0xff) + (bytes[1] & 0xff) == 0xfe + 0xff && bytes[0] < 0;
        if (wide && (bytes[0] & 0xff) >= 0xfe) {
            return StandardCharsets.UTF_16;
        }
        // The last character may be cut; no more than three bytes of it can be here.
        for (int cut = 0; cut <= (bytes.length == BEGINNING ? 3 : 0); cut++) {
            if (isUtf8(Arrays.copyOf(bytes, bytes.length - cut))) {
                return StandardCharsets.UTF_8;
            }
        }
        return StandardCharsets.ISO_8859_1;
    }

    private static boolean isUtf8(byte[] bytes) {
        try {
            StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(bytes));
            return true;
        } catch (CharacterCodingException e) {
            return false;
        }
    }

    private static String withoutMark(String text) {
        return text.startsWith("\ufeff") ? text.substring(1) : text;
    }

    private static void skipMark(Reader reader) throws IOException {
        reader.mark(1);
        if (reader.read() != '\ufeff') {
            reader.reset();
        }
    }

    private static long lineOf(String text, char character) {
        return 1
                + text.substring(0, text.indexOf(character))
                        .chars()
                        .filter(c -> c == '\n')
                        .count();
    }

    private CaptureException fault(long line, String message) {
        return new CaptureException(file, line, message);
    }
}
