package org.voltsecond.examples.gallery;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import java.lang.reflect.Method;
import java.lang.reflect.Modifier;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.Deque;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.voltsecond.examples.Gallery;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.page.Page;

/** The gallery shows all there is, with the code that drew it, on a page without faults. */
class GalleryTest {
    private static final Set<String> VOID = Set.of("meta", "br", "img", "link", "input", "hr");
    private static final Path SOURCES = Path.of("src/main/java/org/voltsecond/examples/gallery");

    private static List<Exhibit> exhibits = List.of();
    private static String html = "";

    @BeforeAll
    static void draw() {
        exhibits = GalleryPage.exhibits();
        html = GalleryPage.html();
    }

    /** Fails when plot learns to draw something that the gallery does not show. */
    @Test
    void everyPublicMethodThatMakesAPictureIsShown() {
        List<String> wanted = Stream.concat(factories(), pageParts()).toList();
        assertThat(wanted)
                .contains(
                        "Pictures.overlay(", "LossPictures.losses(", "ResponsePictures.bifurcation(", "page.schematic(")
                .allSatisfy(call -> assertThat(exhibits)
                        .as(call)
                        .anyMatch(exhibit -> exhibit.code().contains(call)));
    }

    /** Static methods that return a picture, or a builder of one. */
    private static Stream<String> factories() {
        return new ClassFileImporter()
                        .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
                        .importPackages("org.voltsecond.plot")
                        .stream()
                        .filter(type -> type.getPackageName().equals("org.voltsecond.plot"))
                        .map(JavaClass::reflect)
                        .filter(type -> Modifier.isPublic(type.getModifiers()))
                        .flatMap(type -> Arrays.stream(type.getDeclaredMethods()))
                        .filter(method -> Modifier.isPublic(method.getModifiers()))
                        .filter(method -> Modifier.isStatic(method.getModifiers()))
                        .filter(method -> makesPictures(method.getReturnType()))
                        .map(method -> method.getDeclaringClass().getSimpleName() + "." + method.getName() + "(")
                        .distinct();
    }

    private static boolean makesPictures(Class<?> type) {
        return type == Picture.class
                || Arrays.stream(type.getMethods())
                        .anyMatch(
                                method -> method.getName().equals("build") && method.getReturnType() == Picture.class);
    }

    /** What can be put on a page beside text and pictures; controls do nothing on a page without the engine's script. */
    private static Stream<String> pageParts() {
        return Arrays.stream(Page.class.getDeclaredMethods())
                .filter(method -> Modifier.isPublic(method.getModifiers()))
                .filter(GalleryTest::takesMoreThanText)
                .filter(method -> !method.getName().equals("controls"))
                .map(method -> "page." + method.getName() + "(");
    }

    private static boolean takesMoreThanText(Method method) {
        return Arrays.stream(method.getParameterTypes())
                .anyMatch(type -> type != Picture.class && type.getName().startsWith("org.voltsecond."));
    }

    @Test
    void everySubjectIsOnThePage() throws Exception {
        List<String> missing;
        try (Stream<Path> files = Files.list(SOURCES)) {
            missing = files.filter(file -> contains(file, "    @Shown("))
                    .map(file -> String.valueOf(file.getFileName()).replace(".java", ""))
                    .filter(name -> GalleryPage.SUBJECTS.stream()
                            .noneMatch(type -> type.getSimpleName().equals(name)))
                    .toList();
        }
        assertThat(missing).isEmpty();
    }

    private static boolean contains(Path file, String text) {
        try {
            return Files.readString(file).contains(text);
        } catch (java.io.IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }

    @Test
    void everyPictureHasANameAndTheCodeThatRan() throws Exception {
        assertThat(exhibits).hasSizeGreaterThan(15);
        assertThat(exhibits.stream().map(Exhibit::title)).doesNotHaveDuplicates();
        for (Exhibit exhibit : exhibits) {
            String name = exhibit.method().getName();
            String source = Files.readString(
                    SOURCES.resolve(exhibit.method().getDeclaringClass().getSimpleName() + ".java"));
            assertThat(exhibit.title()).isNotBlank();
            assertThat(exhibit.about()).endsWith(".");
            assertThat(exhibit.code())
                    .as(name)
                    .startsWith("static ")
                    .contains(" " + name + "(")
                    .contains("return ")
                    .endsWith("\n}");
            assertThat(source).contains(exhibit.code().indent(4).stripTrailing());
            assertThat(html).contains("<h2><bdi>" + exhibit.title().replace("'", "&#39;") + "</bdi></h2>");
        }
        assertThatThrownBy(() -> SourceText.of(Waveforms.class).method("none"))
                .hasMessageContaining("no static method none");
    }

    @Test
    void everyElementIsClosedAndEveryNameIsGivenOnce() {
        Matcher tag = Pattern.compile("<(/?)([a-zA-Z][a-zA-Z0-9]*)((?:\"[^\"]*\"|[^\">])*?)(/?)>")
                .matcher(withoutScripts());
        Deque<String> open = new ArrayDeque<>();
        while (tag.find()) {
            String name = tag.group(2);
            if (!tag.group(1).isEmpty()) {
                assertThat(open.poll()).as("closed at %s", tag.start()).isEqualTo(name);
            } else if (tag.group(4).isEmpty() && !VOID.contains(name)) {
                open.push(name);
            }
        }
        assertThat(open).isEmpty();
        List<String> names = all("\\bid=\"([^\"]*)\"");
        assertThat(names).doesNotHaveDuplicates();
        Set<String> used = new TreeSet<>(all("url\\(#([^)]*)\\)"));
        used.addAll(all("href=\"#([^\"]*)\""));
        assertThat(used).hasSizeGreaterThan(exhibits.size());
        assertThat(names).containsAll(used);
    }

    @Test
    void nothingComesFromElsewhere() {
        assertThat(withoutScripts()).doesNotContain("<link", "<img", "<iframe", "@import");
        assertThat(all("(?:src|href)=\"(?!#)([^\"]*)\"")).isEmpty();
        assertThat(all("url\\((?!#)([^)]*)\\)")).isEmpty();
    }

    /** Scripts and their data are text to a reader of markup. */
    private static String withoutScripts() {
        return html.replaceAll("(?s)(<script[^>]*>).*?(</script>)", "$1$2")
                .replaceAll("(?s)(<style[^>]*>).*?(</style>)", "$1$2")
                .replaceFirst("<!DOCTYPE html>", "");
    }

    private static List<String> all(String pattern) {
        return Pattern.compile(pattern)
                .matcher(withoutScripts())
                .results()
                .map(found -> found.group(1))
                .toList();
    }

    @Test
    void theProgramWritesThePage(@TempDir Path folder) throws Exception {
        Gallery.main(new String[] {folder.toString()});
        assertThat(Files.readString(folder.resolve("gallery.html"))).isEqualTo(html);
    }
}
