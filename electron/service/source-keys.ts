import { createHash } from 'node:crypto';
import type { Sources } from '../../core/analysis/artifacts.ts';
import { canonical } from '../../core/analysis/canonical.ts';
import type { SourceKeys } from '../../core/analysis/plan-run.ts';
import { existing, withoutLog } from '../../core/features/feature.ts';
import type { Frame, TypedArray } from '../../core/grid/frame.ts';

export const digest = (text: string): string => createHash('sha256').update(text).digest('hex').slice(0, 40);

/** Digests of arrays by the array itself: sources do not change while they are held, and every edit asks again. */
const known = new WeakMap<TypedArray, string>();

function digestOf(array: TypedArray): string {
  let found = known.get(array);
  if (found === undefined) {
    const bytes = new Uint8Array(array.buffer, array.byteOffset, array.byteLength);
    found = createHash('sha256').update(bytes).digest('hex');
    known.set(array, found);
  }
  return found;
}

const digestArrays = (label: string, arrays: readonly TypedArray[]): string =>
  digest([label, ...arrays.map(digestOf)].join());

/**
 * Content keys of what the readers brought in, on this frame. Taken from the cells themselves, so a property
 * that is copied, mailed and reopened finds the same results.
 */
export function sourceKeys(frame: Frame, sources: Sources): SourceKeys {
  const place = canonical(frame);
  const { elevation, imagery, landcover, vegetation, holes, surroundings, features, wind } = sources;
  return {
    elevation: digestArrays(place, [elevation.cells]),
    imagery: imagery ? digestArrays(canonical(imagery.frame), [...imagery.bands, imagery.valid]) : 'none',
    landcover: landcover ? digestArrays(place, [landcover.cells]) : 'none',
    vegetation: vegetation ? digestArrays(place, [vegetation.cells]) : 'none',
    holes: holes ? digestArrays(place, [holes.cells]) : 'none',
    surroundings: surroundings
      ? digestArrays(canonical(surroundings.elevation.frame), [
          surroundings.elevation.cells,
          ...(surroundings.imagery ? [...surroundings.imagery.bands, surroundings.imagery.valid] : []),
          ...[surroundings.landcover, surroundings.vegetation, surroundings.holes].flatMap((grid) =>
            grid ? [grid.cells] : [],
          ),
        ])
      : 'none',
    features: digest(canonical([place, withoutLog(features)])),
    today: digest(canonical([place, existing(features)])),
    wind: wind
      ? digestArrays(wind.station, [
          wind.hours,
          wind.direction,
          wind.speed,
          wind.temperature,
          wind.sky,
          ...(wind.gust ? [wind.gust] : []),
          ...(wind.ceiling ? [wind.ceiling] : []),
        ])
      : 'none',
  };
}
