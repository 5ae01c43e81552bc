/** Every picture that the library can draw, each with the code that drew it; {@code Gallery} puts them on one page. */
@NullMarked
package org.voltsecond.examples.gallery;

import org.jspecify.annotations.NullMarked;
