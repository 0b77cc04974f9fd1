import { formatLength, formatSpeed, type Units } from '../features/units.ts';
import { SWEPT_ABOVE, valleyFroude } from './decoupling.ts';

/** A reach of creek as a trench in the air, and the wind over it. */
export interface CreekReach {
  /** Bed below the lower bank, m; null where nobody measured it and the ground does not show it. */
  depth: number | null;
  /** From bank to bank, m; null likewise. */
  width: number | null;
  /** Wind across it at the height of the banks, m/s. */
  crossWind: number;
  /** How much colder the air between the banks is than above, K; 0 by day. */
  deficit: number;
}

export interface Holding {
  holds: 'holds' | 'in part' | 'does not hold' | 'unknown';
  /** U / sqrt(g' depth); null where the reach is not known. */
  froude: number | null;
  /** Depth over width; null where the reach is not known. */
  aspect: number | null;
  words: string;
}

/** Depth over width from which wind skims over a trench, and from which it still meets its own wake in it (Oke 1988). */
const SKIMMING = 0.65;
const WAKE = 0.35;
/** Shallower trenches hide no scent from a nose held above the bank, m: our assumption. */
const SHALLOW = 1;

/**
 * Whether a reach of creek holds the air between its banks. By cold: Bell & Thompson's (1980) criterion for valleys,
 * F below 1.3. Without enough cold: by shape, the flow regimes over streets of Oke (Energy and Buildings 11, 1988):
 * skimming from a depth of 0.65 of the width, wake interference from 0.35. Both were found on other things than
 * creeks; they are the nearest published ones. Running water is not taken to drag the air along.
 */
export function creekHolds({ depth, width, crossWind, deficit }: CreekReach, units: Units): Holding {
  if (depth === null || width === null || !(width > 0))
    return {
      holds: 'unknown',
      froude: null,
      aspect: null,
      words: 'the depth of the bottom below its banks is not known here: tape it to say whether it holds',
    };
  const froude = valleyFroude(crossWind, deficit, depth);
  const aspect = depth / width;
  const low = formatLength(depth, units, 'height');
  const wind = formatSpeed(crossWind, units);
  if (depth < SHALLOW)
    return {
      holds: 'does not hold',
      froude,
      aspect,
      words: `bottom only ${low} deep with a ${wind} cross wind: does not hold`,
    };
  if (froude < SWEPT_ABOVE)
    return {
      holds: 'holds',
      froude,
      aspect,
      words: `banks ${low} high keep the cold air in against a ${wind} cross wind (F ${froude.toFixed(1)}, swept above ${SWEPT_ABOVE})`,
    };
  if (aspect >= SKIMMING)
    return {
      holds: 'holds',
      froude,
      aspect,
      words: `${low} deep and narrow (depth ${aspect.toFixed(2)} of width): a ${wind} cross wind skims over it`,
    };
  if (aspect >= WAKE)
    return {
      holds: 'in part',
      froude,
      aspect,
      words: `${low} deep, ${aspect.toFixed(2)} of its width, with a ${wind} cross wind: eddies lift scent out in puffs`,
    };
  return {
    holds: 'does not hold',
    froude,
    aspect,
    words: `${low} deep but wide (${aspect.toFixed(2)} of its width) with a ${wind} cross wind: does not hold`,
  };
}
