package org.voltsecond.examples;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.voltsecond.examples.gallery.GalleryPage;

/** Example: every picture that the library draws, with the code that drew it, on one page for a browser. */
public final class Gallery {
    private Gallery() {}

    /**
     * Writes {@code gallery.html}.
     *
     * @param arguments the folder to write into; the working directory if there is none
     * @throws IOException if the file cannot be written
     */
    public static void main(String[] arguments) throws IOException {
        Path file = Path.of(arguments.length > 0 ? arguments[0] : "").resolve("gallery.html");
        Files.writeString(file, GalleryPage.html());
        System.out.println("written to " + file + "; open it in a browser");
    }
}
