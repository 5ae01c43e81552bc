/** What a design does, worked out and written: figures as JSON, waveforms as CSV, pictures, a table for the terminal. */
@NullMarked
package org.voltsecond.examples.report;

import org.jspecify.annotations.NullMarked;
