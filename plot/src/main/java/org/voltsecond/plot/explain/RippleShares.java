package org.voltsecond.plot.explain;

import org.voltsecond.circuit.Part;
import org.voltsecond.converter.Converter;
import org.voltsecond.converter.ConverterSteadyState;
import org.voltsecond.plot.Panel;
import org.voltsecond.plot.Picture;
import org.voltsecond.plot.Pictures;
import org.voltsecond.units.Quantity;
import org.voltsecond.units.Unit;
import org.voltsecond.waveform.Waveform;

/**
 * The ripple across the output capacitor, parted into what its charge makes and what its series resistance makes. Their sum at any
 * instant is the whole; their peaks come at different instants, so that the whole is less than the sum of both. Immutable.
 *
 * <pre>{@code
 * RippleShares shares = RippleShares.of(steady);
 * double byCharge = shares.capacitive().peakToPeak(); // 4.075 mV
 * double byResistance = shares.resistive().peakToPeak(); // 2.298 mV
 * shares.picture("Logic rail: ripple").writePng(folder.resolve("ripple-shares.png"));
 * }</pre>
 *
 * @param whole ripple of the voltage across the capacitor, V
 * @param capacitive what its charge makes of it, V
 * @param resistive what its series resistance makes of it, V
 */
public record RippleShares(Waveform whole, Waveform capacitive, Waveform resistive) {
    private static final int DIGITS = 3;

    /**
     * Parts the ripple.
     *
     * @param steady the steady state
     * @return the shares
     * @throws IllegalArgumentException if the converter has no output capacitor
     */
    public static RippleShares of(ConverterSteadyState steady) {
        Converter converter = steady.converter();
        String name = converter
                .roles()
                .outputCapacitor()
                .orElseThrow(() -> new IllegalArgumentException("the converter has no output capacitor: " + converter));
        Part.Capacitor capacitor = (Part.Capacitor) converter.circuit().part(name);
        Waveform whole = steady.of(converter.driven().voltageAcross(name)).ripple();
        Waveform resistive = steady.of(converter.driven().current(name))
                .times(capacitor.seriesResistance())
                .as("by the resistance", Unit.VOLT);
        return new RippleShares(whole.named("the whole"), whole.minus(resistive).named("by the charge"), resistive);
    }

    /**
     * Draws the ripple and its shares.
     *
     * @param title in bold at the top
     * @return the picture
     */
    public Picture picture(String title) {
        return Pictures.stack()
                .title(title)
                .subtitle("from peak to peak: by the charge " + size(capacitive) + ", by the series resistance "
                        + size(resistive) + ", together " + size(whole))
                .panel(Panel.of(whole, capacitive, resistive).titled("ripple").weighted(2))
                .build();
    }

    private static String size(Waveform waveform) {
        return Quantity.format(waveform.peakToPeak(), Unit.VOLT, DIGITS);
    }
}
