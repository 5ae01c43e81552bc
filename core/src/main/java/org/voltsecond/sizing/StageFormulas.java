package org.voltsecond.sizing;

import org.voltsecond.stage.Topology;

/**
 * The small-ripple formulas that size a power stage in continuous conduction. Output voltages are magnitudes, for the
 * inverting stage as well.
 *
 * <p>Sources: D. W. Hart, Power Electronics, McGraw-Hill 2011, ch. 6; M. H. Rashid, Power Electronics: Devices, Circuits
 * and Applications, Pearson, ch. 5; S. Franco, Design with Operational Amplifiers and Analog Integrated Circuits, 3rd ed.,
 * McGraw-Hill, ch. 11 (duty cycle with drops, capacitor and ESR each with a share of the ripple).
 *
 * <p>They are a first guess: the ripple of the output, resistances and discontinuous conduction are not in them.
 * {@link PartsProposal#check()} puts the exact steady state beside them.
 *
 * <pre>{@code
 * double dutyCycle = StageFormulas.dutyCycle(Topology.BUCK, 12, 5, 0.16, 0.4); // 0.4412
 * double inductance = StageFormulas.inductance(12 - 5, dutyCycle, kilo(300), 0.46); // 22.38 µH
 * }</pre>
 */
public final class StageFormulas {
    private StageFormulas() {}

    /**
     * Returns the duty cycle from volt-second balance, with constant drops.
     *
     * <p>Buck: (V_o + V_F) / (V_i - V_S + V_F). Boost: (V_o + V_F - V_i) / (V_o + V_F - V_S). Inverting:
     * (V_o + V_F) / (V_i - V_S + V_o + V_F). Source for the buck stage: Franco, ex. 11.17; the others from the same balance.
     *
     * @param topology the stage
     * @param inputVoltage V_i, V
     * @param outputVoltage V_o, V
     * @param transistorDrop V_S, V
     * @param rectifierDrop V_F, V
     * @return the duty cycle; not from 0 to 1 if the stage cannot give that output
     */
    public static double dutyCycle(
            Topology topology, double inputVoltage, double outputVoltage, double transistorDrop, double rectifierDrop) {
        return topology.dutyCycle(inputVoltage, outputVoltage, transistorDrop, rectifierDrop);
    }

    /**
     * Returns the mean inductor current from charge balance: I_o for a buck stage, I_o / (1 - D) for the others.
     *
     * @param topology the stage
     * @param loadCurrent I_o, A
     * @param dutyCycle D, less than 1
     * @return the current, A
     */
    public static double inductorCurrent(Topology topology, double loadCurrent, double dutyCycle) {
        return loadCurrent / topology.outputShare(dutyCycle);
    }

    /**
     * Returns the inductance for a ripple current: voltage across the inductor in the on interval times D / (f di).
     *
     * @param onVoltage voltage across the inductor in the on interval, V: V_i - V_S - V_o for a buck stage, V_i - V_S for the
     *     others
     * @param dutyCycle D
     * @param switchingFrequency f, Hz
     * @param ripple di, peak to peak, A
     * @return the inductance, H
     */
    public static double inductance(double onVoltage, double dutyCycle, double switchingFrequency, double ripple) {
        return onVoltage * dutyCycle / (switchingFrequency * ripple);
    }

    /**
     * Returns the ripple of the inductor current: voltage across the inductor in the on interval times D / (f L).
     *
     * @param onVoltage voltage across the inductor in the on interval, V
     * @param dutyCycle D
     * @param switchingFrequency f, Hz
     * @param inductance L, H
     * @return the ripple, peak to peak, A
     */
    public static double inductorRipple(
            double onVoltage, double dutyCycle, double switchingFrequency, double inductance) {
        return onVoltage * dutyCycle / (switchingFrequency * inductance);
    }

    /**
     * Returns the frequency of the zero in the right half-plane that the response of the output to the duty cycle has in
     * continuous conduction: R (1-D)^2 / (2 pi L) for a boost stage, R (1-D)^2 / (2 pi D L) for an inverting one. A loop
     * cannot be made faster than this: the output first goes the wrong way. Source: R. W. Erickson, D. Maksimovic,
     * Fundamentals of Power Electronics, ch. 8 (salient features of the small-signal transfer functions).
     *
     * @param topology the stage
     * @param dutyCycle D, more than 0 and less than 1
     * @param loadResistance R, Ω
     * @param inductance L, H
     * @return the frequency, Hz; infinite for a buck stage, which has no such zero
     */
    public static double rightHalfPlaneZero(
            Topology topology, double dutyCycle, double loadResistance, double inductance) {
        return topology.rightHalfPlaneZero(dutyCycle, loadResistance, inductance);
    }

    /**
     * Returns the inductance at the boundary of continuous conduction, for ideal parts. Buck: (1-D) R / (2f). Boost:
     * D (1-D)^2 R / (2f). Inverting: (1-D)^2 R / (2f). Source: Hart, ch. 6.
     *
     * @param topology the stage
     * @param dutyCycle D
     * @param loadResistance R, Ω
     * @param switchingFrequency f, Hz
     * @return the inductance, H
     */
    public static double boundaryInductance(
            Topology topology, double dutyCycle, double loadResistance, double switchingFrequency) {
        return topology.criticalK(dutyCycle) * (loadResistance / (2 * switchingFrequency));
    }

    /**
     * Returns the load current at the boundary of continuous conduction: di/2 for a buck stage, (1-D) di/2 for boost and inverting
     * ones, (1-D)/2 times the ripple of both inductors together where there are two.
     *
     * @param topology the stage
     * @param dutyCycle D
     * @param inductorRipple di, peak to peak, A
     * @return the load current, A
     */
    public static double boundaryLoad(Topology topology, double dutyCycle, double inductorRipple) {
        return topology.boundaryLoad(dutyCycle, inductorRipple);
    }

    /**
     * Returns the capacitance for the capacitive share of the output ripple: di / (8 f dv) where an inductor feeds the output
     * throughout, with di its ripple, else I_o D / (f dv).
     *
     * @param topology the stage
     * @param loadCurrent I_o, A
     * @param dutyCycle D
     * @param inductorRipple di, peak to peak, A; only used where an inductor feeds the output throughout
     * @param switchingFrequency f, Hz
     * @param outputRipple dv, peak to peak, V
     * @return the capacitance, F
     */
    public static double capacitance(
            Topology topology,
            double loadCurrent,
            double dutyCycle,
            double inductorRipple,
            double switchingFrequency,
            double outputRipple) {
        double charge = topology.capacitorSwing(loadCurrent, dutyCycle, inductorRipple);
        return charge / (switchingFrequency * outputRipple);
    }

    /**
     * Returns the ESR that gives a share of the output ripple: the share over the step of the capacitor current, which is the ripple
     * of the inductor current where an inductor feeds the output throughout, and else the peak of what the rectifier carries
     * (Franco, ex. 11.19).
     *
     * @param topology the stage
     * @param loadCurrent I_o, A; not used where an inductor feeds the output throughout
     * @param dutyCycle D
     * @param inductorRipple di, peak to peak, A
     * @param outputRipple the share, peak to peak, V
     * @return the resistance, Ω
     */
    public static double seriesResistance(
            Topology topology, double loadCurrent, double dutyCycle, double inductorRipple, double outputRipple) {
        return outputRipple / topology.capacitorStep(loadCurrent, dutyCycle, inductorRipple);
    }
}
