/** Tables of samples as an HDF5 file, a binary format that numeric programs of all kinds read. */
@NullMarked
package org.voltsecond.export;

import org.jspecify.annotations.NullMarked;
