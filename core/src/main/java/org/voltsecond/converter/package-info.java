/**
 * Ready-made power stages, put together from circuit and control, and the linear regulator to compare them with.
 *
 * <p>{@link org.voltsecond.converter.PowerStage} collects the parts and gives a
 * {@link org.voltsecond.converter.Converter}, which runs its start-up, its steps of line, load and duty cycle, and its
 * periodic steady state.
 */
@NullMarked
package org.voltsecond.converter;

import org.jspecify.annotations.NullMarked;
