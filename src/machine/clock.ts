/** The processor's clock, in T-states a second (common practice). */
export const CLOCK_HZ = 3_250_000;
