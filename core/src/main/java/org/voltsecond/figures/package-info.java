/**
 * What is told about a run: each figure with its key, its words, its unit and its definition, in one place.
 *
 * <p>A {@link org.voltsecond.figures.Figure} is a number that describes something: a steady state, a change of load, a
 * loop. {@link org.voltsecond.figures.Figures} is the catalogue of those that the library tells. A {@link
 * org.voltsecond.figures.FigureSheet} holds the figures of one subject; each is a value, or the reason why there is none.
 * Tables, files and pages show sheets and define nothing themselves.
 *
 * <p>What {@code rail} and other names stand for in the examples is told in {@link org.voltsecond.converter}.
 */
@NullMarked
package org.voltsecond.figures;

import org.jspecify.annotations.NullMarked;
