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
  /** What went into it and the criterion it is held to, to be printed beside the words; empty where not known. */
  values: string;
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
export function creekHolds(reach: CreekReach, units: Units): Holding {
  const { depth, width, crossWind, deficit } = reach;
  if (depth === null || width === null || !(width > 0))
    return {
      holds: 'unknown',
      froude: null,
      aspect: null,
      words: 'the depth of the bottom below its banks is not known here: tape it to say whether it holds',
      values: '',
    };
  const froude = valleyFroude(crossWind, deficit, depth);
  const aspect = depth / width;
  return {
    ...judged(depth, froude, aspect, formatLength(depth, units, 'height'), formatSpeed(crossWind, units)),
    froude,
    aspect,
    values: valuesOf(reach, depth, width, froude, units),
  };
}

function judged(
  depth: number,
  froude: number,
  aspect: number,
  low: string,
  wind: string,
): Pick<Holding, 'holds' | 'words'> {
  if (depth < SHALLOW)
    return {
      holds: 'does not hold',
      words: `bottom only ${low} deep with a ${wind} cross wind: does not hold`,
    };
  if (froude < SWEPT_ABOVE)
    return {
      holds: 'holds',
      words: `banks ${low} high keep the cold air in against a ${wind} cross wind (F ${froude.toFixed(1)}, swept above ${SWEPT_ABOVE})`,
    };
  if (aspect >= SKIMMING)
    return {
      holds: 'holds',
      words: `${low} deep and narrow (depth ${aspect.toFixed(2)} of width): a ${wind} cross wind skims over it`,
    };
  if (aspect >= WAKE)
    return {
      holds: 'in part',
      words: `${low} deep, ${aspect.toFixed(2)} of its width, with a ${wind} cross wind: eddies lift scent out in puffs`,
    };
  return {
    holds: 'does not hold',
    words: `${low} deep but wide (${aspect.toFixed(2)} of its width) with a ${wind} cross wind: does not hold`,
  };
}

function valuesOf(
  { crossWind, deficit }: CreekReach,
  depth: number,
  width: number,
  froude: number,
  units: Units,
): string {
  const height = (metres: number) => formatLength(metres, units, 'height');
  const cold =
    deficit > 0
      ? `air ${units === 'us' ? `${(1.8 * deficit).toFixed(1)} °F` : `${deficit.toFixed(1)} K`} colder, F ${froude.toFixed(1)} (cold air is swept out above ${SWEPT_ABOVE}, Bell & Thompson 1980)`
      : 'no colder air, so that its shape decides';
  return (
    `${height(depth)} deep, ${height(width)} from bank to bank, ${formatSpeed(crossWind, units)} across it; ${cold}; ` +
    `depth ${(depth / width).toFixed(2)} of width (wind skims over from ${SKIMMING}, eddies in from ${WAKE}, Oke 1988)` +
    (depth < SHALLOW ? `; below ${height(SHALLOW)} a nose is above the bank (our assumption)` : '')
  );
}
