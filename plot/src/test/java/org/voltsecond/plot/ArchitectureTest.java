package org.voltsecond.plot;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.GeneralCodingRules.NO_CLASSES_SHOULD_ACCESS_STANDARD_STREAMS;
import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

/** What plot may know: the exported packages of core, never the other way round and nothing of the examples. */
@AnalyzeClasses(packages = "org.voltsecond.plot", importOptions = ImportOption.DoNotIncludeTests.class)
class ArchitectureTest {

    /** Guards against rules that pass because nothing was scanned. Raise it as plot grows. */
    private static final int FEWEST_CLASSES = 1;

    @ArchTest
    static final ArchRule NOTHING_INTERNAL_OF_CORE = noClasses()
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("org.voltsecond..internal..", "org.voltsecond.examples..");

    @ArchTest
    static final ArchRule NO_STANDARD_STREAMS = NO_CLASSES_SHOULD_ACCESS_STANDARD_STREAMS;

    @ArchTest
    static final ArchRule NO_WINDOWS = noClasses()
            .that()
            .resideOutsideOfPackages("org.voltsecond.plot.viewer", "org.voltsecond.plot.command")
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("javax.swing..", "org.voltsecond.plot.viewer")
            .because("pictures are drawn on machines without a screen");

    @ArchTest
    static void enoughWasScanned(JavaClasses plot) {
        assertThat(plot.stream().filter(type -> !"package-info".equals(type.getSimpleName())))
                .hasSizeGreaterThanOrEqualTo(FEWEST_CLASSES);
    }
}
