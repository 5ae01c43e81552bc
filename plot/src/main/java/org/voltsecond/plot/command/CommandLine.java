package org.voltsecond.plot.command;

import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.voltsecond.plot.slides.Slides;
import org.voltsecond.units.Printable;

/**
 * What the user asked for.
 *
 * @param designs design files; none for the demo
 * @param beside the design file to lay beside the one that is given; null for none
 * @param into the folder to write into
 * @param pictures whether to draw pictures
 * @param binary whether to write the waveforms in binary as well
 * @param slides which slides to make; empty for the usual ones, null for none
 * @param view whether to open a window for each design
 * @param keys whether to print the reference of all keys and do nothing else
 * @param help whether to print the usage and do nothing else
 * @param version whether to print the version and do nothing else
 */
record CommandLine(
        List<Path> designs,
        @Nullable Path beside,
        Path into,
        boolean pictures,
        boolean binary,
        @Nullable List<String> slides,
        boolean view,
        boolean keys,
        boolean help,
        boolean version) {
    private static final String OPTIONS =
            "--into DIR, --beside OTHER.toml, --no-pictures, --slides [NAME,...], --binary, --view, --keys, --help, --version";

    private static final Pattern CHOICE = Pattern.compile("[A-Za-z0-9_,][A-Za-z0-9_,-]*");

    static CommandLine parse(String... arguments) throws CommandLineException {
        return new Parser(arguments).parse();
    }

    /** Reads the words one after the other and remembers every fault. */
    private static final class Parser {
        private final String[] words;
        private final List<String> faults = new ArrayList<>();
        private final List<Path> designs = new ArrayList<>();
        private @Nullable Path beside;
        private Path into = Path.of("voltsecond-out");
        private boolean pictures = true;
        private boolean binary;
        private @Nullable List<String> slides;
        private boolean view;
        private boolean keys;
        private boolean help;
        private boolean version;
        private boolean optionsEnded;
        private int next;

        Parser(String... words) {
            this.words = words;
        }

        CommandLine parse() throws CommandLineException {
            while (next < words.length) {
                String word = words[next++];
                if (word.startsWith("-") && !optionsEnded) {
                    option(word);
                } else {
                    designs.add(path(word, Path.of("")));
                }
            }
            if (beside != null && designs.size() != 1) {
                faults.add("--beside: lays one design beside another, but " + designs.size()
                        + " are given; valid: DESIGN.toml --beside OTHER.toml");
            }
            if (!faults.isEmpty()) {
                throw new CommandLineException(faults);
            }
            return new CommandLine(
                    List.copyOf(designs), beside, into, pictures, binary, slides, view, keys, help, version);
        }

        private void option(String word) {
            switch (word) {
                case "--" -> optionsEnded = true;
                case "--help", "-h" -> help = true;
                case "--keys" -> keys = true;
                case "--version" -> version = true;
                case "--no-pictures" -> pictures = false;
                case "--binary" -> binary = true;
                case "--view" -> view = true;
                case "--into" -> into = operand("--into: the folder is missing; valid: --into DIR", into);
                case "--beside" -> beside();
                case "--slides" -> slides(next < words.length && isChoice(words[next]) ? words[next++] : "");
                default -> {
                    if (word.startsWith("--slides=")) {
                        slides(word.substring("--slides=".length()));
                    } else {
                        unknown(word);
                    }
                }
            }
        }

        private void unknown(String word) {
            faults.add(Printable.of(word) + ": unknown option; valid: " + OPTIONS);
        }

        /** A design file has an ending, or is there. */
        private static boolean isChoice(String word) {
            return CHOICE.matcher(word).matches() && !Files.exists(Path.of(word));
        }

        private void slides(String choice) {
            slides = choice.isEmpty() ? List.of() : List.of(choice.split(",", -1));
            List<String> unknown = slides.stream()
                    .filter(name -> !Slides.names().contains(name))
                    .map(Printable::of)
                    .toList();
            if (!unknown.isEmpty()) {
                faults.add("--slides: there is no " + String.join(", ", unknown) + "; valid: "
                        + String.join(", ", Slides.names()) + ", or nothing for those that say most");
            }
        }

        private void beside() {
            if (beside != null) {
                faults.add("--beside: is given more than once; valid: one other design");
            }
            beside = operand("--beside: the design file is missing; valid: --beside OTHER.toml", Path.of(""));
        }

        private Path operand(String missing, Path otherwise) {
            if (next == words.length || words[next].isEmpty()) {
                faults.add(missing);
                next++;
                return otherwise;
            }
            return path(words[next++], otherwise);
        }

        private Path path(String word, Path otherwise) {
            if (word.isEmpty()) {
                faults.add("an empty argument is not a design file; valid: the path of a design file");
                return otherwise;
            }
            try {
                return Path.of(word);
            } catch (InvalidPathException e) {
                faults.add(Printable.of(word) + ": not a path on this system: " + e.getReason());
                return otherwise;
            }
        }
    }
}
