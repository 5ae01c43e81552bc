/** Measures the library beside a hand-written program and general-purpose integrators, and writes the page of the measurements. */
package org.voltsecond.measure;
