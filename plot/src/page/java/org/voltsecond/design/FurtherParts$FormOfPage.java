package org.voltsecond.design;

import java.lang.reflect.Field;
import java.lang.reflect.Modifier;
import java.util.Arrays;
import java.util.Locale;

/** The components of a record by its fields, which a page has in their order. */
final class FurtherParts$FormOfPage {
    private final String[] names;
    private final Class<?>[] types;

    private FurtherParts$FormOfPage(String[] names, Class<?>[] types) {
        this.names = names;
        this.types = types;
    }

    static FurtherParts$FormOfPage of(Class<?> kind) {
        Field[] fields = Arrays.stream(kind.getDeclaredFields())
                .filter(field -> !Modifier.isStatic(field.getModifiers()))
                .toArray(Field[]::new);
        return new FurtherParts$FormOfPage(
                Arrays.stream(fields).map(Field::getName).toArray(String[]::new),
                Arrays.stream(fields).map(Field::getType).toArray(Class<?>[]::new));
    }

    static String key(String name) {
        return name.replaceAll("(?=[A-Z])", "_").toLowerCase(Locale.ROOT);
    }

    String[] names() {
        return names;
    }

    Class<?>[] types() {
        return types;
    }
}
