package org.voltsecond.plot.live;

import java.util.List;
import java.util.Set;
import org.teavm.extension.spi.substitution.SubstitutionPolicy;
import org.teavm.extension.spi.substitution.SubstitutionSink;

/**
 * Names what stands in a page in place of what a page cannot have, or has better: of this library, of Hipparchus and of the compiler's own numbers the class with
 * {@code OfPage} after its name, of the Java library the one below {@code org.voltsecond.page} with {@code T} before its name.
 */
public final class PageSubstitutes implements SubstitutionPolicy {
    private static final Set<String> OF_JAVA = Set.of(
            "java.util.Formatter",
            "java.util.concurrent.atomic.AtomicReferenceArray",
            "java.util.regex.Pattern",
            "java.util.regex.Matcher",
            "java.math.BigDecimal",
            "java.text.NumberFormat");

    private static final List<String> OURS =
            List.of("org.voltsecond.", "org.hipparchus.", "org.teavm.classlib.impl.text.");

    @Override
    public void contribute(SubstitutionSink sink) {
        sink.selectClasses(name -> OURS.stream().anyMatch(name::startsWith)).simpleNameSuffix("OfPage");
        sink.selectClasses(OF_JAVA::contains)
                .packagePrefix("org.voltsecond.page.")
                .simpleNamePrefix("T");
    }
}
