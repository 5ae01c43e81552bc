package org.voltsecond.plot;

import java.util.List;
import org.voltsecond.analysis.Bifurcation;
import org.voltsecond.analysis.FrequencyResponse;

/**
 * Pictures of how a converter answers to small signals, and of what becomes of its steady state over a parameter.
 *
 * <pre>{@code
 * FrequencyResponse loop =
 *         regulated.steadyState().smallSignal().loopGain(FrequencyResponse.decades(100, kilo(100), 20));
 * ResponsePictures.loopGain("Logic rail", "voltage mode, 2 A", loop).writePng(folder.resolve("loop.png"));
 * }</pre>
 */
public final class ResponsePictures {
    private static final int WIDTH = 940;
    private static final int HEIGHT = 680;

    private ResponsePictures() {}

    /**
     * Returns magnitude in decibels and phase in degrees over the logarithm of frequency (Bode diagram).
     *
     * @param title in bold at the top
     * @param subtitle below it; may be empty
     * @param responses at least one, each at two frequencies at least, all in one unit
     * @return the picture
     * @throws IllegalArgumentException if there is no response, one is too short, or the units differ
     */
    public static Picture bode(String title, String subtitle, FrequencyResponse... responses) {
        return bode(title, subtitle, false, List.of(responses));
    }

    /**
     * Returns magnitude and phase of a loop gain, with crossover, phase margin and gain margin marked.
     *
     * @param title in bold at the top
     * @param subtitle below it; may be empty
     * @param loopGain the loop gain, at two frequencies at least
     * @return the picture
     * @throws IllegalArgumentException if the response is too short
     */
    public static Picture loopGain(String title, String subtitle, FrequencyResponse loopGain) {
        return bode(title, subtitle, true, List.of(loopGain));
    }

    private static Picture bode(String title, String subtitle, boolean margins, List<FrequencyResponse> responses) {
        if (responses.isEmpty()) {
            throw new IllegalArgumentException("picture " + title + ": it needs at least one response but got none");
        }
        for (FrequencyResponse response : responses) {
            requireTwoPoints(title, response);
            if (!response.unit().equals(responses.get(0).unit())) {
                throw new IllegalArgumentException("picture " + title + ": all responses must have one unit but "
                        + responses.get(0).name() + " is in '"
                        + responses.get(0).unit() + "' and " + response.name()
                        + " in '" + response.unit() + "'; draw a picture for each");
            }
        }
        Sheet sheet = new Sheet(title, subtitle, Sheet.CAUTION);
        return new Picture(new BodeDrawing(sheet, responses, margins), WIDTH, HEIGHT, 1);
    }

    private static void requireTwoPoints(String title, FrequencyResponse response) {
        if (response.size() < 2) {
            throw new IllegalArgumentException("picture " + title + ": " + response.name()
                    + " must be known at 2 frequencies at least but is known at " + response.size());
        }
    }

    /**
     * Returns a loop gain in the complex plane about the point -1, with unit circle and margins (Nyquist diagram).
     *
     * @param title in bold at the top
     * @param subtitle below it; may be empty
     * @param loopGain the loop gain, at two frequencies at least
     * @return the picture
     * @throws IllegalArgumentException if the response is too short
     */
    public static Picture nyquist(String title, String subtitle, FrequencyResponse loopGain) {
        requireTwoPoints(title, loopGain);
        Sheet sheet = new Sheet(title, subtitle, Sheet.CAUTION);
        return new Picture(new NyquistDrawing(sheet, loopGain), WIDTH, HEIGHT, 1);
    }

    /**
     * Returns what a circuit settles to over a swept parameter: a dot for each sample.
     *
     * @param title in bold at the top
     * @param subtitle below it; may be empty
     * @param parameter what is swept, with its unit, for example "Input voltage (V)"
     * @param bifurcation the sweep; at least two different values of the parameter, and a sample
     * @return the picture
     * @throws IllegalArgumentException if there is too little to draw
     */
    public static Picture bifurcation(String title, String subtitle, String parameter, Bifurcation bifurcation) {
        long values = bifurcation.points().stream()
                .mapToDouble(Bifurcation.Point::parameter)
                .distinct()
                .count();
        boolean seen =
                bifurcation.points().stream().anyMatch(point -> !point.samples().isEmpty());
        if (values < 2 || !seen) {
            throw new IllegalArgumentException("picture " + title
                    + ": it needs two values of the parameter and one sample " + "at least, but the sweep has " + values
                    + " values and " + (seen ? "samples" : "no sample"));
        }
        Sheet sheet = new Sheet(title, subtitle, Sheet.CAUTION);
        return new Picture(new BifurcationDrawing(sheet, bifurcation, parameter), WIDTH, HEIGHT, 1);
    }
}
