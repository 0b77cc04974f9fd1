import { distanceToEdge } from '../cover/blocks.ts';
import { drawFeatures } from '../cover/drawn.ts';
import { type Feature, ofKind } from '../features/feature.ts';
import type { Grid } from '../grid/frame.ts';
import { weightsOf } from './assumptions.ts';
import { type ResistanceInputs, resistanceOf } from './resistance.ts';
import type { Assumption } from './types.ts';

/**
 * Features as they stand when everything proposed is built. A proposed feature with the attribute `removes` (the id of
 * another) takes that one away.
 */
export function asBuilt(features: readonly Feature[]): Feature[] {
  const gone = new Set(
    features.flatMap(({ status, attributes: { removes } }) =>
      status === 'proposed' && typeof removes === 'string' ? [removes] : [],
    ),
  );
  return features
    .filter(({ id, attributes }) => !gone.has(id) && attributes.removes === undefined)
    .map((feature) => (feature.status === 'proposed' ? { ...feature, status: 'existing' } : feature));
}

/** Kinds that change what grows or stands on the ground. */
const CHANGES = ['cut', 'opening', 'screen', 'crop', 'pond', 'building', 'creek', 'road', 'bedding'] as const;

/**
 * Resistance with other features than it was made with: itself where they change nothing on the ground, weighed anew
 * where they change how it is walked, on cover drawn anew where they stand elsewhere.
 *
 * @param inputs what the resistance was made from, with the features it was made with
 */
export function groundWith(
  inputs: ResistanceInputs & { resistance: Grid; assumptions: readonly Assumption[] },
  features: readonly Feature[],
): Grid {
  const { resistance, assumptions } = inputs;
  const weights = weightsOf(assumptions);
  const text = ({ id, geometry, attributes }: Feature): string => JSON.stringify([id, geometry, attributes]);
  const place = ({ id, geometry }: Feature): string => JSON.stringify([id, geometry]);
  const differs = (by: (feature: Feature) => string) => {
    const was = new Set(ofKind(inputs.features, ...CHANGES).map(by));
    const now = ofKind(features, ...CHANGES).map(by);
    return now.length !== was.size || now.some((one) => !was.has(one));
  };
  if (!differs(text)) return resistance;
  if (!differs(place)) return resistanceOf({ ...inputs, features }, weights);
  const copy = <G extends { frame: Grid['frame']; cells: { slice(): unknown } }>(grid: G): G => ({
    ...grid,
    cells: grid.cells.slice(),
  });
  const layers: Omit<ResistanceInputs, 'slope' | 'edgeDistance' | 'features'> = {
    cover: copy(inputs.cover),
    canopy: copy(inputs.canopy),
    screening: copy(inputs.screening),
    footing: copy(inputs.footing),
  };
  drawFeatures(layers.cover.frame, features, {
    cover: layers.cover.cells,
    canopy: layers.canopy.cells,
    screening: layers.screening.cells,
    footing: layers.footing.cells,
  });
  const edgeDistance = distanceToEdge(layers.cover);
  return resistanceOf({ ...inputs, ...layers, edgeDistance, features }, weights);
}
