package org.voltsecond.plot.command;

import java.io.PrintStream;
import org.jspecify.annotations.Nullable;

/**
 * Tells on standard error that work goes on: on a terminal one line that is written over, from {@link #SILENT} on; elsewhere
 * a line of its own every {@link #PLAIN}, so that a file does not fill. To be told of by one thread.
 */
final class Progress implements AutoCloseable {
    /** So long nobody wonders, ms; common practice, no source. */
    private static final long SILENT = 2000;

    private static final long REWRITTEN = 500;
    private static final long PLAIN = 10_000;
    private static final int WIDTH = 79;

    private final PrintStream err;
    private final boolean terminal;
    private @Nullable Thread watch;
    private String label = "";
    private String step = "";
    private long began;
    private boolean shown;

    private Progress(PrintStream err, boolean terminal) {
        this.err = err;
        this.terminal = terminal;
    }

    /** Of nothing yet. */
    static Progress on(PrintStream err, boolean terminal) {
        return new Progress(err, terminal);
    }

    /** Begins with a piece of work. */
    synchronized Progress begin(String work) {
        label = work;
        step = "";
        began = System.nanoTime();
        Thread thread = new Thread(this::tell, "progress");
        thread.setDaemon(true);
        watch = thread;
        thread.start();
        return this;
    }

    /** Says what is being done now. */
    synchronized void step(String doing) {
        step = doing;
    }

    private void tell() {
        try {
            Thread.sleep(terminal ? SILENT : PLAIN);
            while (write()) {
                Thread.sleep(terminal ? REWRITTEN : PLAIN);
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }

    private synchronized boolean write() {
        if (watch != Thread.currentThread()) {
            return false;
        }
        long seconds = (System.nanoTime() - began) / 1_000_000_000;
        String line = label + ": " + step + ", " + seconds + " s";
        if (terminal) {
            err.print("\r" + padded(line));
            shown = true;
        } else {
            err.println("voltsecond: " + line);
        }
        err.flush();
        return true;
    }

    private static String padded(String line) {
        String cut = line.length() > WIDTH ? line.substring(0, WIDTH) : line;
        return cut + " ".repeat(WIDTH - cut.length());
    }

    @Override
    public void close() {
        end();
    }

    /** Ends the work, and takes the line away, so that something else can be printed; once is enough. */
    synchronized void end() {
        Thread thread = watch;
        watch = null;
        if (thread != null) {
            thread.interrupt();
        }
        if (shown) {
            err.print("\r" + " ".repeat(WIDTH) + "\r");
            err.flush();
            shown = false;
        }
    }
}
