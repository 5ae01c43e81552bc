package org.voltsecond.design;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/** Collects what is wrong with one file while it is being read. */
final class Faults {
    private final String file;
    private final List<Fault> faults = new ArrayList<>();

    Faults(String file) {
        this.file = file;
    }

    void add(int line, String field, String message) {
        faults.add(new Fault(file, line, field, message));
    }

    int count() {
        return faults.size();
    }

    boolean isEmpty() {
        return faults.isEmpty();
    }

    DesignException toException() {
        return new DesignException(
                faults.stream().sorted(Comparator.comparingInt(Fault::line)).toList());
    }
}
