/**
 * The ready-made stages, one file each, and what a stage is written with: the {@linkplain org.voltsecond.stage.StageParts values} of
 * its parts, the {@linkplain org.voltsecond.stage.StageWiring wiring} that puts them into a circuit, and the
 * {@linkplain org.voltsecond.stage.Roles roles} that say what each does. Everything above this floor asks roles, never a stage.
 *
 * <p>Who writes a stage implements {@link org.voltsecond.stage.Topology} with nothing but that.
 */
@NullMarked
package org.voltsecond.stage;

import org.jspecify.annotations.NullMarked;
