/**
 * Milliseconds that tests wait for what must come. Only what hangs takes so long: a machine that others use at the same time is slow, and
 * that is no fault of what is tested.
 */
export const PATIENCE = 300_000;
