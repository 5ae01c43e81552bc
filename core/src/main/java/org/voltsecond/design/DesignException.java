package org.voltsecond.design;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Collectors;
import org.voltsecond.units.Printable;

/**
 * A design file is wrong; carries every fault that was found in it.
 *
 * <pre>{@code
 * try {
 *     DesignFile.parse("rail.toml", "rail", "[inductor]\ninductance = \"22 mF\"\n");
 * } catch (DesignException wrong) {
 *     // what is missing, and: rail.toml:2: inductor.inductance: ...
 *     wrong.faults().forEach(System.out::println);
 * }
 * }</pre>
 */
public final class DesignException extends Exception {
    private static final long serialVersionUID = 1L;

    /** Transient because it is for the program that catches it, which runs in the same machine. */
    private final transient List<Fault> faults;

    /**
     * Creates the exception.
     *
     * @param faults all faults in the order of their lines, at least one
     */
    public DesignException(List<Fault> faults) {
        super(faults.stream().map(Fault::toString).collect(Collectors.joining("\n")));
        this.faults = List.copyOf(faults);
    }

    /**
     * Returns what is wrong.
     *
     * @return all faults, at least one
     */
    public List<Fault> faults() {
        return faults;
    }

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

    /** Collects what is wrong with one file while it is being read. */
    static final class Faults {
        /** Who has mended so many sees the rest; more would fill a screen many times over. */
        private static final int MOST_TOLD = 100;

        private final String file;
        private final List<Fault> faults = new ArrayList<>();
        private final List<String> notes = new ArrayList<>();
        private int count;

        Faults(String file) {
            this.file = file;
        }

        void add(int line, String field, String message) {
            if (count++ < MOST_TOLD) {
                faults.add(new Fault(file, line, field, message));
            }
        }

        /** What is right, but is to be known. */
        void note(String words) {
            notes.add(words);
        }

        List<String> notes() {
            return List.copyOf(notes);
        }

        int count() {
            return count;
        }

        boolean isEmpty() {
            return count == 0;
        }

        DesignException toException() {
            List<Fault> told = new ArrayList<>(faults);
            told.sort(Comparator.comparingInt(Fault::line));
            if (count > MOST_TOLD) {
                int last = told.get(MOST_TOLD - 1).line();
                String left = (count - MOST_TOLD) + " further faults are not listed; correct these first";
                told.add(new Fault(file, last, "file", left));
            }
            return new DesignException(told);
        }
    }
}
