import type { AttributeValue, FeatureKind } from '../../core/features/feature.ts';

export type Shape = 'Point' | 'LineString' | 'Polygon';

/** Something the window offers to draw. */
export interface Drawable {
  title: string;
  kind: FeatureKind;
  shape: Shape;
  status: 'existing' | 'proposed';
  /** What tells it from others of its kind. */
  attributes?: Record<string, AttributeValue>;
}

const there = (title: string, kind: FeatureKind, shape: Shape): Drawable => ({
  title,
  kind,
  shape,
  status: 'existing',
});
const planned = (
  title: string,
  kind: FeatureKind,
  shape: Shape,
  attributes?: Record<string, AttributeValue>,
): Drawable => ({ title, kind, shape, status: 'proposed', ...(attributes ? { attributes } : {}) });

/** In the order a consultant meets them: the place, what deer use, the hunt, the walk, and the work. */
export const DRAWABLE: readonly { group: string; kinds: readonly Drawable[] }[] = [
  {
    group: 'The place',
    kinds: [
      there('Boundary', 'boundary', 'Polygon'),
      there('Fence', 'fence', 'LineString'),
      there('Gap, gate, low span', 'gap', 'Point'),
      there('Road', 'road', 'LineString'),
      there('Railroad', 'railroad', 'LineString'),
      there('Power line', 'powerline', 'LineString'),
      there('Creek', 'creek', 'LineString'),
      there('Pond', 'pond', 'Polygon'),
      there('Building', 'building', 'Polygon'),
    ],
  },
  {
    group: 'What deer use',
    kinds: [
      there('Trail', 'trail', 'LineString'),
      there('Bedding', 'bedding', 'Polygon'),
      there('Food', 'food', 'Polygon'),
      there('Crop', 'crop', 'Polygon'),
    ],
  },
  {
    group: 'The hunt',
    kinds: [
      there('Stand', 'stand', 'Point'),
      there('Way in', 'access', 'LineString'),
      there('Quiet ground', 'quiet', 'Polygon'),
      there('Visit', 'visit', 'Point'),
      there('Feeder', 'feeder', 'Point'),
    ],
  },
  {
    group: 'From the walk',
    kinds: [
      there('Sighting', 'sighting', 'Point'),
      there('Note', 'note', 'Point'),
      there('Cover as seen', 'truth', 'Polygon'),
    ],
  },
  {
    group: 'Work you propose',
    kinds: [
      planned('Barricade', 'barricade', 'LineString'),
      planned('Cleared trail', 'trail', 'LineString'),
      planned('Cut for bedding', 'cut', 'Polygon'),
      planned('Opening', 'opening', 'Polygon'),
      planned('Screen', 'screen', 'LineString'),
      planned('Conifers', 'conifers', 'Polygon'),
      planned('Food plot', 'food', 'Polygon'),
      planned('Lowered span', 'gap', 'Point', { type: 'lowered' }),
      planned('New stand', 'stand', 'Point'),
      planned('New way in', 'access', 'LineString'),
    ],
  },
];
