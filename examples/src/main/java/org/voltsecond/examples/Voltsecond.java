package org.voltsecond.examples;

/** The command: reads design files, writes figures and pictures. */
public final class Voltsecond {

    private Voltsecond() {}

    /**
     * Runs the command.
     *
     * @param arguments design files and options
     */
    public static void main(String[] arguments) {
        System.out.println("voltsecond: no design can be read yet");
    }
}
