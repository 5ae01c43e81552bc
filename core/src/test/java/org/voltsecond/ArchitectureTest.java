package org.voltsecond;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.GeneralCodingRules.NO_CLASSES_SHOULD_ACCESS_STANDARD_STREAMS;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.domain.JavaMember;
import com.tngtech.archunit.core.domain.JavaModifier;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;
import java.util.List;
import java.util.stream.Stream;
import org.jspecify.annotations.NullMarked;

/** The arrows between the packages of core, and what core may know of the world. */
@AnalyzeClasses(packages = "org.voltsecond", importOptions = ImportOption.DoNotIncludeTests.class)
class ArchitectureTest {

    /** Ground floor first: a package may use those before it, never those after it. */
    private static final List<String> FLOORS = List.of(
            "units",
            "numeric",
            "engine",
            "waveform",
            "characteristic",
            "circuit",
            "control",
            "analysis",
            "stage",
            "converter",
            "losses",
            "emission",
            "figures",
            "study",
            "sizing",
            "review",
            "bench",
            "design",
            "revision",
            "export");

    /** Guards against rules that pass because nothing was scanned. Raise it as core grows. */
    private static final int FEWEST_CLASSES = 8;

    @ArchTest
    static final ArchRule EVERY_CLASS_LIVES_ON_A_FLOOR =
            classes().should().resideInAnyPackage(packagesOf(FLOORS)).because("the list of floors must stay complete");

    @ArchTest
    static final ArchRule NO_CYCLES =
            slices().matching("org.voltsecond.(*)..").should().beFreeOfCycles();

    @ArchTest
    static final ArchRule NOTHING_BUT_HIPPARCHUS = classes()
            .that()
            .resideOutsideOfPackages(packagesOf(List.of("bench", "design", "export")))
            .should()
            .onlyDependOnClassesThat()
            .resideInAnyPackage("java..", "org.hipparchus..", "org.jspecify.annotations..", "org.voltsecond..");

    @ArchTest
    static final ArchRule CAPTURES_NEED_THE_CSV_READER_ALONE = mayUse("bench", "de.siegmar.fastcsv..");

    @ArchTest
    static final ArchRule DESIGN_FILES_NEED_THE_TOML_PARSER_ALONE = mayUse("design", "org.tomlj..");

    @ArchTest
    static final ArchRule EXPORT_NEEDS_THE_HDF5_WRITER_ALONE = mayUse("export", "io.jhdf..");

    @ArchTest
    static final ArchRule NO_PICTURES = noClasses()
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("java.awt..", "javax.swing..", "org.voltsecond.plot..", "org.voltsecond.examples..");

    @ArchTest
    static final ArchRule NO_STANDARD_STREAMS = NO_CLASSES_SHOULD_ACCESS_STANDARD_STREAMS;

    @ArchTest
    static void noFloorLooksUp(JavaClasses core) {
        for (int floor = 0; floor < FLOORS.size() - 1; floor++) {
            noClasses()
                    .that()
                    .resideInAPackage(packageOf(FLOORS.get(floor)))
                    .should()
                    .dependOnClassesThat()
                    .resideInAnyPackage(packagesOf(FLOORS.subList(floor + 1, FLOORS.size())))
                    .check(core);
        }
    }

    @ArchTest
    static void everyPackageIsNullMarked(JavaClasses core) {
        for (String floor : FLOORS) {
            assertThat(core.getPackage("org.voltsecond." + floor).isAnnotatedWith(NullMarked.class))
                    .as("@NullMarked on org.voltsecond.%s", floor)
                    .isTrue();
        }
    }

    /** Who uses the library needs the types of no other one. */
    @ArchTest
    static void whatIsPublicNamesTypesOfJavaAndOurs(JavaClasses core) {
        Stream<JavaClass> open =
                core.stream().filter(type -> type.getModifiers().contains(JavaModifier.PUBLIC));
        assertThat(open.flatMap(type -> type.getMembers().stream())
                        .filter(ArchitectureTest::isOpen)
                        .flatMap(member -> member.getAllInvolvedRawTypes().stream()
                                .map(JavaClass::getBaseComponentType)
                                .filter(type -> !type.isPrimitive() && !isKnown(type.getPackageName()))
                                .map(type -> member.getFullName() + " names " + type.getName())))
                .isEmpty();
    }

    private static boolean isOpen(JavaMember member) {
        return member.getModifiers().contains(JavaModifier.PUBLIC)
                || member.getModifiers().contains(JavaModifier.PROTECTED);
    }

    private static boolean isKnown(String packageName) {
        return packageName.startsWith("java.") || packageName.startsWith("org.voltsecond.");
    }

    @ArchTest
    static void enoughWasScanned(JavaClasses core) {
        assertThat(core.stream().filter(type -> !"package-info".equals(type.getSimpleName())))
                .hasSizeGreaterThanOrEqualTo(FEWEST_CLASSES);
    }

    private static ArchRule mayUse(String floor, String library) {
        return classes()
                .that()
                .resideInAPackage(packageOf(floor))
                .should()
                .onlyDependOnClassesThat()
                .resideInAnyPackage("java..", "org.jspecify.annotations..", "org.voltsecond..", library);
    }

    private static String packageOf(String floor) {
        return "org.voltsecond." + floor + "..";
    }

    private static String[] packagesOf(List<String> floors) {
        return floors.stream().map(ArchitectureTest::packageOf).toArray(String[]::new);
    }
}
