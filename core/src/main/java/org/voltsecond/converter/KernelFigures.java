package org.voltsecond.converter;

/** The signals of an orbit of the {@link StageKernel}: a named numeric kernel. One instance serves one thread. */
final class KernelFigures implements OrbitCurves {
    /** Which equations. */
    enum Kind {
        BUCK,
        BOOST,
        INVERTING
    }

    private final StageKernel kernel;
    private final int sign;
    private double first;
    private double second;
    private double constant;

    KernelFigures(StageKernel kernel) {
        this.kernel = kernel;
        sign = kernel.kind == Kind.INVERTING ? -1 : 1;
    }

    /** Minus one of a stage whose output is negative. */
    int sign() {
        return sign;
    }

    @Override
    public int intervals() {
        return kernel.intervals;
    }

    @Override
    public int pulse() {
        return 1;
    }

    @Override
    public double duration(int interval) {
        return kernel.duration[interval];
    }

    @Override
    public Share share(int interval) {
        return switch (interval) {
            case StageKernel.ON -> Share.ON;
            case StageKernel.OFF -> Share.OFF;
            default -> Share.IDLE;
        };
    }

    @Override
    public double efficiency(CurveFigures figures) {
        double taken = kernel.input * figures.mean(StageSignal.INPUT_CURRENT);
        double given = kernel.constantCurrent
                ? sign * figures.mean(StageSignal.OUTPUT_VOLTAGE) * kernel.loadCurrent
                : figures.meanSquare(StageSignal.OUTPUT_VOLTAGE) * kernel.loadConductance;
        return taken > 0 ? given / taken : Double.NaN;
    }

    @Override
    public int read(StageSignal signal, int interval, double[] into) {
        combine(signal, interval);
        int degree = kernel.degree[interval];
        double[] i = kernel.current[interval];
        double[] w = kernel.voltage[interval];
        for (int k = 0; k <= degree; k++) {
            into[k] = first * i[k] + second * w[k];
        }
        into[0] += constant;
        return degree;
    }

    @Override
    public int readSensed(int interval, double[] into) {
        return read(StageSignal.INDUCTOR_CURRENT, interval, into);
    }

    /** The signal as first i + second w + constant. */
    private void combine(StageSignal signal, int interval) {
        boolean on = interval == StageKernel.ON;
        boolean off = interval == StageKernel.OFF;
        boolean buck = kernel.kind == Kind.BUCK;
        boolean feeds = off || (on && buck);
        switch (signal) {
            case INDUCTOR_CURRENT -> form(1, 0, 0);
            case OUTPUT_VOLTAGE -> output(sign, feeds);
            case SWITCH_NODE -> switchNode(on, off, feeds);
            case TRANSISTOR_CURRENT -> form(on ? 1 : 0, 0, 0);
            case RECTIFIER_CURRENT -> form(off ? 1 : 0, 0, 0);
            case INPUT_CURRENT -> form(on || kernel.kind == Kind.BOOST ? 1 : 0, 0, 0);
            case LOAD_CURRENT -> load(sign, feeds);
            case CAPACITOR_CURRENT -> {
                load(-sign, feeds);
                first += feeds ? sign : 0;
            }
        }
    }

    private void form(double ofCurrent, double ofVoltage, double rest) {
        first = ofCurrent;
        second = ofVoltage;
        constant = rest;
    }

    private void output(double factor, boolean feeds) {
        form(feeds ? factor * kernel.rho : 0, factor * kernel.alpha, -factor * kernel.rho0);
    }

    private void load(double factor, boolean feeds) {
        if (kernel.constantCurrent) {
            form(0, 0, factor * kernel.loadCurrent);
        } else {
            output(factor * kernel.loadConductance, feeds);
        }
    }

    private void switchNode(boolean on, boolean off, boolean feeds) {
        switch (kernel.kind) {
            case BUCK -> {
                if (on) {
                    form(-kernel.onOhm, 0, kernel.input);
                } else if (off) {
                    form(-kernel.slopeOhm, 0, -kernel.forwardDrop);
                } else {
                    output(1, feeds);
                }
            }
            case BOOST -> {
                if (on) {
                    form(kernel.onOhm, 0, 0);
                } else if (off) {
                    output(1, true);
                    first += kernel.slopeOhm;
                    constant += kernel.forwardDrop;
                } else {
                    form(0, 0, kernel.input);
                }
            }
            case INVERTING -> {
                if (on) {
                    form(-kernel.onOhm, 0, kernel.input);
                } else if (off) {
                    output(-1, true);
                    first -= kernel.slopeOhm;
                    constant -= kernel.forwardDrop;
                } else {
                    form(0, 0, 0);
                }
            }
        }
    }
}
