/** Ready-made power stages, put together from circuit and control. */
@NullMarked
package org.voltsecond.converter;

import org.jspecify.annotations.NullMarked;
