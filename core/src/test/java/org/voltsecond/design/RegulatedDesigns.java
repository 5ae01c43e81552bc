package org.voltsecond.design;

/** Tables of regulated drives for tests; each is put behind {@link #STAGE}. */
public final class RegulatedDesigns {
    /** The lossy buck stage without a drive; 19 lines. */
    public static final String STAGE =
            DesignFileTest.LOGIC_RAIL.substring(0, DesignFileTest.LOGIC_RAIL.indexOf("[drive]"));

    /** Reference 1 V, divider 0.2: 5 V; the drive begins on line 20. */
    public static final String VOLTAGE_MODE = STAGE + """
            [drive]
            kind = "voltage-mode"
            switching_frequency = "300 kHz"
            reference = "1 V"
            divider = 0.2
            ramp = { valley = "0 V", peak = "1 V" }
            maximum_duty_cycle = 0.95
            [drive.compensator]
            kind = "type-2"
            integrator_gain = 1500
            zero = "4557 Hz"
            pole = "100 kHz"
            """;

    private RegulatedDesigns() {}
}
