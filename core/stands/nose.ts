/** Deer take note above this much scent, s/m3 of what a hunter gives off a second, with its band: our assumption. */
export const NOSE_THRESHOLD = { usual: 3e-4, low: 1e-4, high: 1e-3 };
