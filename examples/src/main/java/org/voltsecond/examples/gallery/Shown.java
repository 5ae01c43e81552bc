package org.voltsecond.examples.gallery;

import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;

/**
 * Puts what a method draws into the gallery, together with the text of the method. It is static, takes nothing, and returns
 * a {@code Picture} or a {@code Consumer<Page>} that adds to a page.
 */
@Retention(RetentionPolicy.RUNTIME)
@Target(ElementType.METHOD)
@interface Shown {
    /**
     * What is shown.
     *
     * @return a heading
     */
    String value();

    /**
     * What there is to see, or when one draws this.
     *
     * @return a sentence or two
     */
    String about();
}
