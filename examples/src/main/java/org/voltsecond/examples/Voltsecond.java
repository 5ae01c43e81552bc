package org.voltsecond.examples;

import java.io.Console;
import java.io.FileDescriptor;
import java.io.FileOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.OptionalInt;
import org.voltsecond.plot.command.Command;

/** The command: reads design files, writes figures, waveforms and pictures. */
public final class Voltsecond {

    private Voltsecond() {}

    /**
     * Runs the command and ends the Java machine with its exit code: 0 done, 2 the command line or a design is wrong, 1
     * anything else.
     *
     * @param arguments design files and options; {@code --help} lists them
     */
    public static void main(String[] arguments) {
        OptionalInt exitCode = QuickStart.run(arguments);
        if (exitCode.isPresent()) {
            System.exit(exitCode.getAsInt());
        }
        runHere(arguments);
    }

    private static void runHere(String... arguments) {
        if (List.of(arguments).contains("--view")) {
            // Smooth text in the window, also where no desktop asks for it.
            System.setProperty("awt.useSystemAAFontSettings", "on");
        } else {
            // Pictures need no display, and must not wait for one.
            System.setProperty("java.awt.headless", "true");
        }
        PrintStream out = utf8(FileDescriptor.out);
        PrintStream err = utf8(FileDescriptor.err);
        Command command = new Command(out, err).tellingProgress(isTerminal()).withDemo(BuoyRails.demo());
        Runtime.getRuntime().addShutdownHook(new Thread(command::hush));
        int exitCode = command.run(arguments);
        out.flush();
        err.flush();
        System.exit(exitCode);
    }

    /** Whether a line can be written over: from JDK 22 on there may be a console that is none. */
    @SuppressWarnings("SystemConsoleNull")
    private static boolean isTerminal() {
        Console console = System.console();
        if (console == null) {
            return false;
        }
        try {
            return Boolean.TRUE.equals(Console.class.getMethod("isTerminal").invoke(console));
        } catch (ReflectiveOperationException before22) {
            return true;
        }
    }

    /** Units need µ and Ω, whatever the locale of the terminal says. */
    private static PrintStream utf8(FileDescriptor stream) {
        return new PrintStream(new FileOutputStream(stream), true, StandardCharsets.UTF_8);
    }
}
