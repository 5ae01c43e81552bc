package org.voltsecond.measure;

/** The designs that the command is measured with. */
final class Designs {
    private static final String FIXED = """
            kind = "fixed-duty"
            duty_cycle = 0.45
            switching_frequency = "300 kHz"
            """;
    private static final String LOOP = """
            kind = "voltage-mode"
            switching_frequency = "300 kHz"
            reference = "1 V"
            divider = 0.2
            ramp = { valley = "0 V", peak = "1 V" }
            maximum_duty_cycle = 0.95
            """;
    private static final String TYPE_2 = LOOP + """
            soft_start = "2 ms"
            [drive.compensator]
            kind = "type-2"
            integrator_gain = 1500
            zero = "4557 Hz"
            pole = "100 kHz"
            """;
    private static final String PARTS = LOOP + """
            [drive.compensator]
            kind = "parts"
            gain = 1e7
            bandwidth = "200 MHz"
            output_limits = { low = "0 V", high = "1 V" }
            input_resistor = "20 kΩ"
            feedback_resistor = "1.0977 kΩ"
            feedback_capacitor = "31.8143 nF"
            bypass_capacitor = "1.51904 nF"
            """;
    private static final String RESPONSE = """
            [frequency_response]
            from = "100 Hz"
            to = "50 kHz"
            points_per_decade = 50
            """;

    private Designs() {}

    /** A design file by its name. */
    static String of(String name) {
        return switch (name) {
            case "fixed-duty" -> design("", FIXED);
            case "voltage-mode" -> design("", TYPE_2);
            case "amplifier" -> design("", PARTS);
            case "ripple-and-response" ->
                design("ripple = { amplitude = \"0.5 V\", frequency = \"100 Hz\" }\n", TYPE_2) + RESPONSE;
            default -> throw new IllegalArgumentException("no design is called " + name);
        };
    }

    private static String design(String input, String drive) {
        return """
                name = "measured rail"
                [stage]
                topology = "buck"
                [input]
                voltage = "12 V"
                %s
                [inductor]
                inductance = "22 µH"
                resistance = "30 mΩ"
                [output_capacitor]
                capacitance = "47 µF"
                resistance = "5 mΩ"
                [transistor]
                on_resistance = "80 mΩ"
                body_diode_drop = "0.8 V"
                [rectifier]
                forward_drop = "0.4 V"
                resistance = "20 mΩ"
                [load]
                resistance = "2.5 Ω"
                [drive]
                %s
                [transient]
                duration = "15 ms"
                start = "rest"
                [[transient.change]]
                time = "5 ms"
                load = { resistance = "25 Ω" }
                [[transient.change]]
                time = "10 ms"
                load = { resistance = "2.5 Ω" }
                """.formatted(input, drive);
    }
}
