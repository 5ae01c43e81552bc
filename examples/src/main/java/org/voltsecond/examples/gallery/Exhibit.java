package org.voltsecond.examples.gallery;

import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Method;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.function.Consumer;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.page.Page;

/**
 * A picture with the code that draws it.
 *
 * @param title what is shown
 * @param about what there is to see
 * @param code the text of the method
 * @param method what draws it
 */
record Exhibit(String title, String about, String code, Method method) {
    /** All exhibits of a subject, in the order in which they stand in its source. */
    static List<Exhibit> of(Class<?> subject) {
        SourceText source = SourceText.of(subject);
        return Arrays.stream(subject.getDeclaredMethods())
                .filter(method -> method.isAnnotationPresent(Shown.class))
                .sorted(Comparator.comparingInt(method -> source.position(method.getName())))
                .map(method -> of(method, source))
                .toList();
    }

    private static Exhibit of(Method method, SourceText source) {
        Shown shown = method.getAnnotation(Shown.class);
        return new Exhibit(shown.value(), shown.about(), source.method(method.getName()), method);
    }

    /** Draws, and adds what was drawn to a page, its code below it. */
    void addTo(Page page) {
        page.heading(title).paragraph(about);
        Object drawn = draw();
        if (drawn instanceof Picture picture) {
            page.picture(picture, title);
        } else if (drawn instanceof Consumer<?>) {
            @SuppressWarnings("unchecked") // Shown says so, and applying it to another type fails at once
            Consumer<Page> addition = (Consumer<Page>) drawn;
            addition.accept(page);
        } else {
            throw new IllegalStateException(method + " returns " + drawn + "; valid: a picture or what adds to a page");
        }
        page.verbatim(code);
    }

    private Object draw() {
        try {
            return method.invoke(null);
        } catch (InvocationTargetException e) {
            throw new IllegalStateException(method + " fails: " + e.getCause(), e.getCause());
        } catch (IllegalAccessException e) {
            throw new IllegalStateException(method + " must be static, without parameters and not private", e);
        }
    }
}
