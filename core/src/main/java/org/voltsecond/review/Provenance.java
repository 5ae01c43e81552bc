package org.voltsecond.review;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.HexFormat;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.voltsecond.units.Result;

/**
 * Of what a report was made, and what it rests on: version of the library, day, hash of the design, assumptions of the model. Immutable.
 *
 * <pre>{@code
 * Provenance made = Provenance.of("name = \"rail\"\n");
 * int digits = made.designHash().get().length(); // 64
 * String first = Provenance.ASSUMPTIONS.get(0);
 * }</pre>
 *
 * @param version of the library; "(development)" for classes that run out of a folder
 * @param date the day, universal time; none where the environment gives one that is no day
 * @param designHash SHA-256 of the text of the design file in UTF-8, as hexadecimal digits; none of a converter without a file
 */
public record Provenance(String version, Result<LocalDate> date, Result<String> designHash) {
    /** What the model holds and what it does not, in sentences. */
    public static final List<String> ASSUMPTIONS = List.of(
            "Between two switching instants the circuit is linear, or linear in segments, and is solved exactly; nothing is averaged"
                    + " or sampled.",
            "Switches open and close in no time; a closed one is its on-resistance and forward drop, an open one carries nothing.",
            "A rectifier conducts with its forward drop and slope, or the curve that is given, and blocks without a current; it stores"
                    + " charge only where [rectifier.recovery] says so.",
            "Inductors and capacitors have the values of the file at any current, voltage, frequency and temperature, except where"
                    + " saturation, bias or [heat] is given.",
            "Losses of switching, gates and cores are counted with [losses] alone, as estimates from data-sheet values; skin effect"
                    + " and stray capacitances of windings are not.",
            "Parasitics of layout and parts are those that the file gives; what they would ring with is not known otherwise.",
            "The control circuit is ideal but for the limits, delays and quantisation that the file gives.");

    /**
     * Tells of a design that is reported now. The day is that of the run; where the environment has SOURCE_DATE_EPOCH (seconds since 1970
     * in universal time, as in reproducible builds), that day.
     *
     * @param designText the text of the design file; empty for a converter without one
     * @return of what the report is made
     */
    public static Provenance of(String designText) {
        return of(designText, System.getenv("SOURCE_DATE_EPOCH"), Instant.now());
    }

    static Provenance of(String designText, @Nullable String epoch, Instant now) {
        @Nullable String version = Provenance.class.getPackage().getImplementationVersion();
        return new Provenance(
                version == null ? "(development)" : version,
                epoch == null ? Result.of(LocalDate.ofInstant(now, ZoneOffset.UTC)) : date(epoch),
                designText.isEmpty() ? Result.missing("there is no design file") : Result.of(hash(designText)));
    }

    private static Result<LocalDate> date(String epoch) {
        try {
            return Result.of(LocalDate.ofInstant(Instant.ofEpochSecond(Long.parseLong(epoch.strip())), ZoneOffset.UTC));
        } catch (NumberFormatException | DateTimeException e) {
            return Result.missing("SOURCE_DATE_EPOCH is not a number of seconds");
        }
    }

    private static String hash(String text) {
        try {
            return HexFormat.of()
                    .formatHex(MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8)));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java machine has SHA-256", e);
        }
    }
}
