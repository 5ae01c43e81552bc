package org.voltsecond.circuit;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;

/** Random passive circuits whose every node has a path to ground, from a seed. */
final class RandomCircuits {
    private final Random random;
    private final boolean lossless;
    private final boolean cuts;
    private final Circuit.Builder builder = Circuit.builder();
    private final List<String> nodes = new ArrayList<>(List.of(Circuit.GROUND));
    private int counter;

    private RandomCircuits(long seed, boolean lossless, boolean cuts) {
        this.random = new Random(seed);
        this.lossless = lossless;
        this.cuts = cuts;
    }

    /** Parts of all kinds; a tree of resistors and capacitors keeps every node tied whatever the devices do. */
    static Circuit lossy(long seed) {
        return new RandomCircuits(seed, false, false).build();
    }

    /** Parts of all kinds, many without resistance, with nodes that only inductors, switches and rectifiers tie. */
    static Circuit singular(long seed) {
        return new RandomCircuits(seed, false, true).build();
    }

    /** Capacitors, inductors, coupled inductors, sources and ideal switches only. */
    static Circuit lossless(long seed) {
        return new RandomCircuits(seed, true, false).build();
    }

    private Circuit build() {
        int count = 2 + random.nextInt(5);
        builder.voltageSource("V1", "n0", Circuit.GROUND, uniform(1, 50));
        nodes.add("n0");
        for (int k = 1; k < count; k++) {
            String node = "n" + k;
            addBone(node);
            nodes.add(node);
        }
        int extra = 1 + random.nextInt(6);
        for (int k = 0; k < extra; k++) {
            addExtra();
        }
        return builder.build();
    }

    private void addBone(String node) {
        String other = nodes.get(random.nextInt(nodes.size()));
        if (cuts && random.nextInt(3) > 0) {
            switch (random.nextInt(3)) {
                case 0 -> builder.inductor(name("L"), node, other, spread(1e-6, 1e-2));
                case 1 -> builder.switchPart(name("Q"), node, other, resistance());
                default -> builder.rectifier(name("D"), node, other, 0, resistance());
            }
            return;
        }
        if (lossless || random.nextBoolean()) {
            double series = lossless || random.nextBoolean() ? 0 : spread(1e-3, 1);
            builder.capacitor(name("C"), node, other, spread(1e-7, 1e-3), series);
        } else {
            builder.resistor(name("R"), node, other, random.nextInt(8) == 0 ? 0 : spread(1e-2, 1e4));
        }
    }

    private void addExtra() {
        String a = nodes.get(random.nextInt(nodes.size()));
        String b = nodes.get(random.nextInt(nodes.size()));
        if (a.equals(b)) {
            return;
        }
        switch (random.nextInt(lossless ? 3 : 7)) {
            case 0 -> builder.inductor(name("L"), a, b, spread(1e-6, 1e-2));
            case 1 -> addCoupled(a, b);
            case 2 -> builder.currentSource(name("I"), a, b, uniform(-2, 2));
            case 3 -> builder.capacitor(name("C"), a, b, spread(1e-7, 1e-3), resistance());
            case 4 -> builder.switchPart(name("Q"), a, b, cuts ? resistance() : spread(1e-3, 1));
            case 5 -> builder.inductor(name("L"), a, b, spread(1e-6, 1e-2), spread(1e-3, 1));
            default ->
                builder.rectifier(
                        name("D"), a, b, random.nextBoolean() ? 0 : 0.7, cuts ? resistance() : spread(1e-3, 1));
        }
    }

    private void addCoupled(String a, String b) {
        String c = nodes.get(random.nextInt(nodes.size()));
        String d = nodes.get(random.nextInt(nodes.size()));
        if (c.equals(d)) {
            return;
        }
        double coupling = uniform(-0.99, 0.99);
        builder.coupledInductors(
                name("T"),
                Part.Winding.of("a", a, b),
                spread(1e-6, 1e-2),
                Part.Winding.of("b", c, d),
                spread(1e-6, 1e-2),
                coupling);
    }

    private double resistance() {
        return random.nextBoolean() ? 0 : spread(1e-3, 1);
    }

    private String name(String letter) {
        return letter + ++counter;
    }

    private double uniform(double low, double high) {
        return low + (high - low) * random.nextDouble();
    }

    private double spread(double low, double high) {
        return low * Math.pow(high / low, random.nextDouble());
    }
}
