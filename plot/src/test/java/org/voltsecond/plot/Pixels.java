package org.voltsecond.plot;

import java.awt.Color;
import java.awt.image.BufferedImage;

/** Looks at a rendered picture. */
record Pixels(BufferedImage image) {
    private static final int NEAR = 40;

    /** Whether a pixel is close to a colour, antialiasing allowed for. */
    boolean is(int x, int y, Color color) {
        Color found = new Color(image.getRGB(x, y));
        return Math.abs(found.getRed() - color.getRed()) < NEAR
                && Math.abs(found.getGreen() - color.getGreen()) < NEAR
                && Math.abs(found.getBlue() - color.getBlue()) < NEAR;
    }

    int count(Color color, int left, int top, int right, int bottom) {
        int count = 0;
        for (int y = top; y < bottom; y++) {
            for (int x = left; x < right; x++) {
                count += is(x, y, color) ? 1 : 0;
            }
        }
        return count;
    }

    int count(Color color) {
        return count(color, 0, 0, image.getWidth(), image.getHeight());
    }

    /** The longest run of a colour in one column between two rows. */
    int tallest(Color color, int x, int top, int bottom) {
        int longest = 0;
        int run = 0;
        for (int y = top; y < bottom; y++) {
            run = is(x, y, color) ? run + 1 : 0;
            longest = Math.max(longest, run);
        }
        return longest;
    }

    /** The highest row that holds the colour within a rectangle; -1 if none does. */
    int highest(Color color, int left, int top, int right, int bottom) {
        for (int y = top; y < bottom; y++) {
            for (int x = left; x < right; x++) {
                if (is(x, y, color)) {
                    return y;
                }
            }
        }
        return -1;
    }

    boolean paperAround(int margin) {
        int width = image.getWidth();
        int height = image.getHeight();
        int white = 0xff_ff_ff;
        for (int x = 0; x < width; x++) {
            for (int y = 0; y < height; y++) {
                boolean border = x < margin || y < margin || x >= width - margin || y >= height - margin;
                if (border && (image.getRGB(x, y) & white) != white) {
                    return false;
                }
            }
        }
        return true;
    }
}
