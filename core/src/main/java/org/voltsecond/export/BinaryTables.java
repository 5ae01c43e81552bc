package org.voltsecond.export;

import io.jhdf.HdfFile;
import io.jhdf.WritableHdfFile;
import io.jhdf.api.WritableDataset;
import io.jhdf.api.WritableGroup;
import io.jhdf.exceptions.HdfException;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Stream;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.SampleTable;

/**
 * Tables of samples in one HDF5 file: a group for each table, in it a data set of 64-bit floating point numbers for the time
 * and for each waveform, all of one length. Every number has the very bits of the table. Each data set has the attributes
 * {@code unit} and {@code meaning}. As in the table there are two rows at one time where a value jumps. The same tables give
 * the same bytes. To be filled by one thread.
 *
 * <pre>{@code
 * SampleTable table = SampleTable.of(1e-7, List.of(steady.of(rail.outputVoltage()), steady.of(rail.inductorCurrent())));
 * BinaryTables.titled("logic rail")
 *         .group("steady_state", "one period", table)
 *         .writeTo(folder.resolve("rail.h5"));
 * }</pre>
 */
public final class BinaryTables {
    private static final String TIME = "time";

    private static final String TIME_MEANING =
            "time; where a value jumps two rows have the same time, the first with the values before, the second after";

    /** What the library writes about itself and the machine; without it the file depends on the tables alone. */
    private static final String LIBRARY_NOTE = "_jHDF";

    private final String title;
    private final List<Group> groups = new ArrayList<>();

    /** One table, or several that follow each other. */
    private record Group(String name, String meaning, List<String> names, List<SampleTable> parts) {}

    private BinaryTables(String title) {
        this.title = title;
    }

    /**
     * Begins a file.
     *
     * @param title what it is about, the attribute {@code title} of the file
     * @return a file without tables
     */
    public static BinaryTables titled(String title) {
        return new BinaryTables(title);
    }

    /**
     * Adds a table. Its data sets are named after the waveforms, with an underscore for each sign that is no letter or digit.
     *
     * @param name name of its group; letters, digits and underscores, not used before
     * @param meaning what it is, the attribute {@code meaning} of the group
     * @param table the table
     * @return this file
     * @throws IllegalArgumentException if the name does not fit
     */
    public BinaryTables group(String name, String meaning, SampleTable table) {
        Set<String> taken = new HashSet<>(Set.of(TIME));
        List<String> names = table.names().stream()
                .map(column -> distinct(column.replaceAll("[^A-Za-z0-9_]", "_"), taken))
                .toList();
        return group(name, meaning, names, List.of(table));
    }

    private static String distinct(String name, Set<String> taken) {
        String free = name;
        for (int k = 2; !taken.add(free); k++) {
            free = name + "_" + k;
        }
        return free;
    }

    /**
     * Adds a table that is given in parts.
     *
     * @param name name of its group; letters, digits and underscores, not used before
     * @param meaning what it is, the attribute {@code meaning} of the group
     * @param columns names of the data sets, one for each waveform; of letters, digits and underscores, each once, not "time"
     * @param parts at least one table; several, with the same waveforms, are put one after the other
     * @return this file
     * @throws IllegalArgumentException if a name does not fit, there is no table, or the tables differ in their waveforms
     */
    public BinaryTables group(String name, String meaning, List<String> columns, List<SampleTable> parts) {
        requireNames(
                "groups",
                Stream.concat(groups.stream().map(Group::name), Stream.of(name)).toList());
        requireNames(
                "data sets of " + name,
                Stream.concat(Stream.of(TIME), columns.stream()).toList());
        boolean alike = parts.stream()
                        .map(part -> List.of(part.names(), part.units()))
                        .distinct()
                        .count()
                == 1;
        if (!alike || parts.get(0).names().size() != columns.size()) {
            throw new IllegalArgumentException("group " + name + ": needs at least one table, each with the same "
                    + columns.size() + " waveforms for the data sets " + columns + ", but got " + parts);
        }
        groups.add(new Group(name, meaning, List.copyOf(columns), List.copyOf(parts)));
        return this;
    }

    /** A slash in a name would begin another group. */
    private static void requireNames(String what, List<String> names) {
        boolean sound = names.stream().allMatch(name -> name.matches("[A-Za-z0-9_]+"))
                && names.stream().distinct().count() == names.size();
        if (!sound) {
            throw new IllegalArgumentException(
                    what + " " + names + ": names must be of letters, digits and underscores, each once");
        }
    }

    /**
     * Writes the file. It appears whole or not at all.
     *
     * @param file where to; an existing file is replaced
     * @throws IOException if it cannot be written; what was there before is then untouched
     */
    public void writeTo(Path file) throws IOException {
        Path room = Files.createTempDirectory(file.toAbsolutePath().getParent(), ".voltsecond-");
        Path fresh = room.resolve("fresh.h5");
        try {
            write(fresh);
            Files.move(fresh, file, StandardCopyOption.REPLACE_EXISTING);
        } finally {
            Files.deleteIfExists(fresh);
            Files.deleteIfExists(room);
        }
    }

    private void write(Path file) throws IOException {
        try (WritableHdfFile hdf = HdfFile.write(file)) {
            hdf.removeAttribute(LIBRARY_NOTE);
            hdf.putAttribute("title", title);
            groups.forEach(group -> put(hdf.putGroup(group.name), group));
        } catch (HdfException e) {
            throw new IOException(file + ": " + e.getMessage(), e);
        }
    }

    private static void put(WritableGroup target, Group group) {
        target.putAttribute("meaning", group.meaning);
        SampleTable first = group.parts.get(0);
        put(target, TIME, column(group.parts, -1), Unit.SECOND, TIME_MEANING);
        for (int column = 0; column < group.names.size(); column++) {
            double[] values = column(group.parts, column);
            put(
                    target,
                    group.names.get(column),
                    values,
                    first.units().get(column),
                    first.names().get(column));
        }
    }

    private static void put(WritableGroup target, String name, double[] values, Unit unit, String meaning) {
        WritableDataset dataset = target.putDataset(name, values);
        dataset.putAttribute("unit", unit.symbol().isEmpty() ? "1" : unit.symbol());
        dataset.putAttribute("meaning", meaning);
    }

    /** The values of one column of all parts; those of time for -1. */
    private static double[] column(List<SampleTable> parts, int column) {
        double[] values = new double[parts.stream().mapToInt(SampleTable::size).sum()];
        int next = 0;
        for (SampleTable part : parts) {
            for (int row = 0; row < part.size(); row++) {
                values[next++] = column < 0 ? part.time(row) : part.value(row, column);
            }
        }
        return values;
    }
}
