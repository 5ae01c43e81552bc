package org.voltsecond.plot.live;

import java.util.Collection;
import java.util.List;
import org.teavm.classlib.ReflectionContext;
import org.teavm.classlib.ReflectionSupplier;
import org.teavm.model.ClassReader;
import org.teavm.model.FieldReader;
import org.teavm.model.MethodDescriptor;
import org.teavm.model.MethodReader;

/** Names what is read by reflection: the parts of stages, which are records. */
@SuppressWarnings("deprecation") // the other interface for the same is not documented
public final class PageReflection implements ReflectionSupplier {
    @Override
    public Collection<String> getAccessibleFields(ReflectionContext context, String className) {
        ClassReader part = part(context, className);
        return part == null
                ? List.of()
                : part.getFields().stream().map(FieldReader::getName).toList();
    }

    @Override
    public Collection<MethodDescriptor> getAccessibleMethods(ReflectionContext context, String className) {
        ClassReader part = part(context, className);
        return part == null
                ? List.of()
                : part.getMethods().stream()
                        .filter(method -> method.getName().equals("<init>"))
                        .map(MethodReader::getDescriptor)
                        .toList();
    }

    private static ClassReader part(ReflectionContext context, String className) {
        ClassReader found = className.startsWith("org.voltsecond.stage.")
                ? context.getClassSource().get(className)
                : null;
        return found != null && "java.lang.Record".equals(found.getParent()) ? found : null;
    }
}
