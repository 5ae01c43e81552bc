/**
 * A converter is a circuit, the roles of its parts, and what drives it; with the ready-made stages, and the linear regulator to
 * compare them with.
 *
 * <p>{@link org.voltsecond.converter.PowerStage} collects the parts of a ready-made stage,
 * {@link org.voltsecond.converter.Converter#of} takes a custom circuit and finds the
 * {@linkplain org.voltsecond.stage.Roles roles} of its parts; both give a {@link org.voltsecond.converter.Converter}, which runs
 * its start-up, its steps of line, load and duty cycle, and its periodic steady state. Who writes a stage implements
 * {@link org.voltsecond.stage.Topology}.
 *
 * <p>A steady state has {@linkplain org.voltsecond.converter.StageMeasurement measurements}, with their
 * {@linkplain org.voltsecond.converter.StageSensitivities derivatives} by every
 * {@linkplain org.voltsecond.converter.StageValue value} of the stage, a
 * {@linkplain org.voltsecond.converter.ConverterSmallSignal small-signal response}, and exact conduction
 * {@linkplain org.voltsecond.converter.StageLosses losses}. {@link org.voltsecond.converter.StageSampler} measures very many
 * designs of one stage.
 *
 * <p>Names that the examples of the library do not declare: {@code stage} is the {@link
 * org.voltsecond.converter.PowerStage} shown there with its load, but without a drive; {@code rail} the converter made of it,
 * {@code steady} its steady state and {@code start} its start-up of 2 ms; {@code regulated} the same stage in voltage mode;
 * {@code proposal} the parts that {@link org.voltsecond.sizing.SpecificationBuilder} proposes for it; {@code samples} some periods of
 * the voltage of its switch node, in V, every 10 ns; {@code folder} a folder for files. The functions {@code micro},
 * {@code kilo} and the like are those of {@link org.voltsecond.units.Si}. A comment behind a declaration tells its value.
 */
@NullMarked
package org.voltsecond.converter;

import org.jspecify.annotations.NullMarked;
