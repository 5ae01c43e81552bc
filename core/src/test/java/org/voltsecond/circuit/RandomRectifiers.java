package org.voltsecond.circuit;

import java.util.Random;

/** Random networks of rectifiers, inductors and capacitors behind sources that step and ramp, from a seed. */
public final class RandomRectifiers {
    private RandomRectifiers() {}

    /**
     * Returns a circuit in which no inductor can be interrupted, as it has no switches, and no source meets an ideal path.
     *
     * @param seed the seed
     * @param duration time within which the sources change, s
     * @return the circuit
     */
    public static Circuit of(long seed, double duration) {
        Random random = new Random(seed);
        int nodes = 2 + random.nextInt(4);
        Circuit.Builder builder = Circuit.builder();
        Profile profile = Profile.constant(10 * random.nextGaussian())
                .stepTo(0.2 * duration, 10 * random.nextGaussian())
                .rampTo(0.3 * duration, 0.6 * duration, 10 * random.nextGaussian())
                .stepTo(0.8 * duration, 10 * random.nextGaussian());
        builder.voltageSource("V1", "n0", Circuit.GROUND, profile);
        for (int k = 1; k < nodes; k++) {
            String below = random.nextInt(3) == 0 ? Circuit.GROUND : "n" + random.nextInt(k);
            addPart(builder, random, "n" + k, below, 10 + k);
        }
        for (int k = 0; k < 2 + random.nextInt(4); k++) {
            int from = random.nextInt(nodes);
            int to = random.nextInt(nodes);
            if (from != to) {
                addPart(builder, random, "n" + from, to == 0 ? Circuit.GROUND : "n" + to, 20 + k);
            }
        }
        return builder.build();
    }

    private static void addPart(Circuit.Builder builder, Random random, String a, String b, int number) {
        switch (random.nextInt(5)) {
            case 0 -> builder.resistor("R" + number, a, b, spread(random, 0.1, 1000));
            case 1 -> builder.inductor("L" + number, a, b, spread(random, 1e-5, 1e-3), 0.05);
            case 2 -> builder.capacitor("C" + number, a, b, spread(random, 1e-6, 1e-4), 0.01);
            case 3 -> builder.rectifier("D" + number, a, b, random.nextBoolean() ? 0 : 0.5, 0.02);
            default -> builder.rectifier("D" + number, b, a, random.nextBoolean() ? 0 : 0.5, 0.02);
        }
    }

    private static double spread(Random random, double low, double high) {
        return low * Math.pow(high / low, random.nextDouble());
    }
}
