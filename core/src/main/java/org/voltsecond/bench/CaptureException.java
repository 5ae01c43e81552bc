package org.voltsecond.bench;

import java.nio.file.Path;

/**
 * A capture file cannot be used; the message names file and line.
 *
 * <pre>{@code
 * try {
 *     CaptureFile.read(folder.resolve("no-such-capture.csv"), CaptureChoice.first(Unit.VOLT));
 * } catch (CaptureException wrong) {
 *     System.out.println(wrong.getMessage()); // file:line: what is wrong
 * }
 * }</pre>
 */
public final class CaptureException extends Exception {
    private static final long serialVersionUID = 1L;

    /**
     * Creates the exception.
     *
     * @param file the file
     * @param line the line at fault, from 1
     * @param message what is wrong, the value given, what is valid
     */
    public CaptureException(Path file, long line, String message) {
        super(file + ":" + line + ": " + message);
    }
}
