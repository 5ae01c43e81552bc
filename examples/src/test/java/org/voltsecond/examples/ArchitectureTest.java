package org.voltsecond.examples;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

/** The examples use only what a stranger can use. */
@AnalyzeClasses(packages = "org.voltsecond.examples", importOptions = ImportOption.DoNotIncludeTests.class)
class ArchitectureTest {

    /** Guards against rules that pass because nothing was scanned. Raise it as the examples grow. */
    private static final int FEWEST_CLASSES = 1;

    @ArchTest
    static final ArchRule ONLY_EXPORTED_PACKAGES =
            noClasses().should().dependOnClassesThat().resideInAPackage("org.voltsecond..internal..");

    @ArchTest
    static void enoughWasScanned(JavaClasses examples) {
        assertThat(examples.stream().filter(type -> !"package-info".equals(type.getSimpleName())))
                .hasSizeGreaterThanOrEqualTo(FEWEST_CLASSES);
    }
}
