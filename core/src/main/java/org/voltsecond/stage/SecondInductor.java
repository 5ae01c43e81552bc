package org.voltsecond.stage;

import java.util.ArrayList;
import java.util.List;

/**
 * The inductor at the output of a stage that has two, such as a SEPIC.
 *
 * <pre>{@code
 * SecondInductor apart = new SecondInductor(micro(90), milli(30), 0);
 * SecondInductor onOneCore = new SecondInductor(micro(90), milli(30), 0.98);
 * }</pre>
 *
 * @param inductance H; more than 0
 * @param resistance series resistance, Ω; 0 or more
 * @param coupling with the first inductor, 0 or more, below 1; both windings are driven alike in the on interval
 */
public record SecondInductor(double inductance, double resistance, double coupling) implements StagePart {
    @Override
    public List<String> faults() {
        List<String> faults = new ArrayList<>();
        StagePart.positive(faults, "second inductor: inductance", inductance, "H");
        StagePart.notNegative(faults, "second inductor: series resistance", resistance, "Ω");
        if (!(coupling >= 0 && coupling < 1)) {
            faults.add("second inductor: coupling must be from 0 up to, but not including, 1 but was " + coupling);
        }
        return faults;
    }
}
