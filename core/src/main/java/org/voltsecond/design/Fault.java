package org.voltsecond.design;

/**
 * One thing that is wrong with a design file.
 *
 * @param file the file as the user named it
 * @param line the line, from 1
 * @param field what it is about: the path of a key such as {@code inductor.inductance}, {@code TOML} for the text as
 *     such, {@code file} for the file as a whole
 * @param message what is wrong, the value given, what is valid
 */
public record Fault(String file, int line, String field, String message) {
    /**
     * Returns the line to show the user; nothing in it can disturb a terminal.
     *
     * @return {@code file:line: field: message}
     */
    @Override
    public String toString() {
        return Printable.all(file) + ":" + line + ": " + Printable.of(field) + ": " + Printable.all(message);
    }
}
