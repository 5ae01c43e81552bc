package org.voltsecond.plot.live;

import java.io.File;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.teavm.backend.javascript.JSModuleType;
import org.teavm.tooling.ConsoleTeaVMToolLog;
import org.teavm.tooling.TeaVMProblemRenderer;
import org.teavm.tooling.TeaVMTargetType;
import org.teavm.tooling.TeaVMTool;
import org.teavm.vm.TeaVMOptimizationLevel;

/** Compiles the engine of the page to JavaScript, in the build: with the class path of this program, so that its order counts. */
public final class PageScript {
    private PageScript() {}

    /**
     * Writes the script.
     *
     * @param arguments the file to write
     * @throws Exception if it cannot be written, or a class that it needs is missing
     */
    public static void main(String[] arguments) throws Exception {
        Path target = Path.of(arguments[0]).toAbsolutePath();
        List<File> classPath = new ArrayList<>();
        List<URL> places = new ArrayList<>();
        for (String entry : System.getProperty("java.class.path").split(File.pathSeparator, -1)) {
            classPath.add(new File(entry));
            places.add(new File(entry).toURI().toURL());
        }
        TeaVMTool tool = new TeaVMTool();
        tool.setClassLoader(new URLClassLoader(places.toArray(new URL[0]), PageScript.class.getClassLoader()));
        tool.setClassPath(classPath);
        tool.setMainClass(PageEngine.class.getName());
        tool.setTargetType(TeaVMTargetType.JAVASCRIPT);
        tool.setJsModuleType(JSModuleType.UMD);
        tool.setObfuscated(true);
        tool.setAssertionsRemoved(true);
        // The level above copies methods into all their callers: a script of more than twice the size.
        tool.setOptimizationLevel(TeaVMOptimizationLevel.ADVANCED);
        // A name for each method; with fewer names methods are put into objects.
        tool.setMaxTopLevelNames(80_000);
        tool.setTargetDirectory(target.getParent().toFile());
        tool.setTargetFileName(target.getFileName().toString());
        ConsoleTeaVMToolLog log = new ConsoleTeaVMToolLog(false);
        tool.generate();
        TeaVMProblemRenderer.describeProblems(tool.getDependencyInfo().getCallGraph(), tool.getProblemProvider(), log);
        if (!tool.getProblemProvider().getSevereProblems().isEmpty()) {
            Files.deleteIfExists(target);
            throw new IllegalStateException("the script of the page needs what a page cannot have; see above");
        }
    }
}
