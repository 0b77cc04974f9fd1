import { type Feature, ofKind } from '../features/feature.ts';
import { middleOf } from '../features/shapes.ts';
import { cellAt, type Frame, type Point } from '../grid/frame.ts';
import type { Neck } from '../travel/types.ts';

/** What risks are computed for. */
export interface Subject {
  type: 'stand' | 'neck';
  id: string;
  name: string;
  at: Point;
  /** Height of the seat above ground, m; null where it is not known. */
  seatHeight: number | null;
  proposed: boolean;
}

/** The best necks that stand in for stands where a property has none. */
const BEST_NECKS = 5;

/** Every stand on the map, existing and proposed; the best necks where there are none. */
export function standSubjects(frame: Frame, features: readonly Feature[], necks: readonly Neck[]): Subject[] {
  const stands = ofKind(features, 'stand').flatMap((stand, k): Subject[] => {
    const at = middleOf(stand.geometry);
    if (!at || cellAt(frame, at[0], at[1]) < 0) return [];
    const height = stand.attributes.seatHeight;
    return [
      {
        type: 'stand',
        id: stand.id,
        name: stand.name ?? `Stand ${k + 1}`,
        at,
        seatHeight: typeof height === 'number' ? height : null,
        proposed: stand.status === 'proposed',
      },
    ];
  });
  if (stands.length > 0) return stands;
  return [...necks]
    .sort((a, b) => a.rank - b.rank)
    .filter((neck) => cellAt(frame, neck.at[0], neck.at[1]) >= 0)
    .slice(0, BEST_NECKS)
    .map((neck) => ({
      type: 'neck',
      id: neck.id,
      name: `Neck ${neck.rank}`,
      at: neck.at,
      seatHeight: null,
      proposed: false,
    }));
}
