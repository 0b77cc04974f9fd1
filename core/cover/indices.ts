import type { Imagery } from './types.ts';

/**
 * Indices of an aerial photo, cell by cell. Inputs are counts 0..255, not reflectances, so limits on them are
 * found in the scene itself wherever it allows. NaN where the imagery has no data or the index is not defined.
 */
export interface Indices {
  /** Normalized difference vegetation index, -1..1 (Rouse et al. 1974); null without near infrared. */
  ndvi: Float32Array | null;
  /** Normalized difference water index, -1..1 (McFeeters 1996); null without near infrared. */
  ndwi: Float32Array | null;
  /** Excess green of the colour shares, -1..2 (Woebbecke et al. 1995). */
  excessGreen: Float32Array;
  /** Mean of red, green and blue, 0..255. */
  brightness: Float32Array;
}

export function imageryIndices(imagery: Imagery): Indices {
  const { bands, valid } = imagery;
  const [red, green, blue, infrared] = bands as [Uint8Array, Uint8Array, Uint8Array, Uint8Array?];
  const count = valid.length;
  const ndvi = infrared ? new Float32Array(count).fill(Number.NaN) : null;
  const ndwi = infrared ? new Float32Array(count).fill(Number.NaN) : null;
  const excessGreen = new Float32Array(count).fill(Number.NaN);
  const brightness = new Float32Array(count).fill(Number.NaN);
  for (let i = 0; i < count; i++) {
    if (valid[i] === 0) continue;
    const r = red[i]!;
    const g = green[i]!;
    const b = blue[i]!;
    const total = r + g + b;
    brightness[i] = total / 3;
    if (total > 0) excessGreen[i] = (2 * g - r - b) / total;
    if (infrared) {
      const n = infrared[i]!;
      if (n + r > 0) ndvi![i] = (n - r) / (n + r);
      if (n + g > 0) ndwi![i] = (g - n) / (g + n);
    }
  }
  return { ndvi, ndwi, excessGreen, brightness };
}
