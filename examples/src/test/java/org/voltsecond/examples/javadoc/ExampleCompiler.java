package org.voltsecond.examples.javadoc;

import java.io.IOException;
import java.net.URI;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.stream.Collectors;
import javax.tools.Diagnostic;
import javax.tools.DiagnosticCollector;
import javax.tools.JavaCompiler;
import javax.tools.JavaFileObject;
import javax.tools.SimpleJavaFileObject;
import javax.tools.StandardJavaFileManager;
import javax.tools.ToolProvider;

/** Compiles all examples in one go, and runs them. */
final class ExampleCompiler {
    private final Path folder;
    private final String imports;

    /** With the packages whose public types an example can name. */
    ExampleCompiler(Path folder, Set<String> packages) {
        this.folder = folder;
        this.imports = "import java.awt.image.*; import java.io.*; import java.nio.file.*;"
                + " import java.util.*; import java.util.function.*; import javax.swing.*;"
                + " import org.voltsecond.examples.javadoc.Said; import static org.voltsecond.units.Si.*;"
                + " import static org.voltsecond.examples.javadoc.Ready.*;"
                + packages.stream()
                        .sorted()
                        .map(each -> " import " + each + ".*;")
                        .collect(Collectors.joining());
    }

    /** {@return what the compiler has against them, warnings as well, each with file and line} */
    List<String> compile(List<JavadocExample> examples) throws IOException {
        JavaCompiler compiler = ToolProvider.getSystemJavaCompiler();
        DiagnosticCollector<JavaFileObject> found = new DiagnosticCollector<>();
        try (StandardJavaFileManager files = compiler.getStandardFileManager(found, Locale.ROOT, null)) {
            List<String> options = List.of(
                    "-Xlint:all",
                    "-proc:none",
                    "-d",
                    folder.toString(),
                    "-cp",
                    System.getProperty("java.class.path"),
                    "-Xmaxerrs",
                    "1000");
            compiler.getTask(
                            null,
                            files,
                            found,
                            options,
                            null,
                            examples.stream().map(this::source).toList())
                    .call();
        }
        return found.getDiagnostics().stream()
                .filter(each -> each.getSource() != null || each.getKind() == Diagnostic.Kind.ERROR)
                .map(ExampleCompiler::told)
                .toList();
    }

    private static String told(Diagnostic<? extends JavaFileObject> each) {
        String where = each.getSource() == null ? "" : each.getSource().getName() + ":" + each.getLineNumber() + ": ";
        return where + each.getMessage(Locale.ROOT);
    }

    private JavaFileObject source(JavadocExample example) {
        URI place = URI.create("string:///example/" + example.className() + ".java");
        return new SimpleJavaFileObject(place, JavaFileObject.Kind.SOURCE) {
            @Override
            public CharSequence getCharContent(boolean ignoreEncodingErrors) {
                return example.asClass(imports);
            }

            @Override
            public String getName() {
                return example.file();
            }
        };
    }

    /** {@return what is wrong with a run, with file and line; empty if nothing is} */
    String run(JavadocExample example) throws IOException {
        String where = example.file() + ":" + example.line() + ": ";
        URL[] urls = {folder.toUri().toURL()};
        try (URLClassLoader loader = new URLClassLoader(urls, ExampleCompiler.class.getClassLoader())) {
            var method = loader.loadClass("example." + example.className()).getDeclaredMethod("run");
            method.setAccessible(true);
            List<?> said = (List<?>) method.invoke(null);
            String faults = said.stream()
                    .map(String::valueOf)
                    .filter(fault -> !fault.isEmpty())
                    .collect(Collectors.joining("; "));
            return said.size() != example.values()
                    ? where + "only " + said.size() + " of " + example.values() + " values were come to"
                    : faults.isEmpty() ? "" : where + faults;
        } catch (ReflectiveOperationException failed) {
            Throwable cause = failed.getCause() == null ? failed : failed.getCause();
            return where + cause;
        }
    }
}
