import type { Feature } from '../features/feature.ts';
import type { Point } from '../grid/frame.ts';
import { tidy } from './brought.ts';
import type { WalkSpot } from './types.ts';

/** A note or a point brought back answers the nearest stop of its kind within this, m: our assumption. A phone under canopy is some 10 m off, and one stands beside what one looks at. */
export const AT_STOP = 60;

type Stop = Pick<WalkSpot, 'id' | 'title' | 'at'>;

/**
 * What a stop is, whatever its rank: necks and beds found from above are known by their kind alone, crossings by what is
 * crossed, and what belongs to a feature by its own id.
 */
function kindOfStop(id: string, title: string): string {
  const [, kind] = /^walk-(neck|area|crossing)-/.exec(id) ?? [];
  if (kind === 'crossing') return tidy(title);
  return kind ?? id;
}

/** The same of a name as it went out, with or without its number. */
const nameOfStop = (name: string): string => tidy(name).replace(/^\d+\. /, '');

export const placeOf = ({ geometry }: Feature): Point =>
  (geometry as GeoJSON.Point).coordinates.slice(0, 2) as Point;

const apart = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** The stop a brought-back name means at a place; null where none of its kind is near. */
export function stopMeant<S extends Stop>(spots: readonly S[], name: string, at: Point): S | null {
  const said = nameOfStop(name);
  const isNeck = /^neck \d+$/.test(said);
  const near = spots
    .filter(({ id, title }) => (isNeck ? kindOfStop(id, title) === 'neck' : nameOfStop(title) === said))
    .map((spot) => ({ spot, distance: apart(spot.at, at) }))
    .filter(({ distance }) => distance <= AT_STOP)
    .sort((a, b) => a.distance - b.distance);
  return near[0]?.spot ?? null;
}

/**
 * What was found at each stop, by the stop's id, as it was last answered: each note answers the nearest stop of its
 * kind, whatever rank or id that had when it was written, and each stop has one. Of two notes as near the later counts.
 */
export function foundAtStops(
  features: readonly Feature[],
  spots: readonly Stop[],
): Map<string, NonNullable<WalkSpot['found']>> {
  const notes = features.filter(
    ({ kind, geometry, attributes }) =>
      kind === 'note' && geometry.type === 'Point' && typeof attributes.stop === 'string',
  );
  const near = notes
    .flatMap((note) => {
      const kind = kindOfStop(String(note.attributes.stop), note.name ?? '');
      return spots
        .filter(({ id, title }) => kindOfStop(id, title) === kind)
        .map((spot) => ({ note, spot, distance: apart(placeOf(note), spot.at) }));
    })
    .filter(({ distance }) => distance <= AT_STOP)
    .sort((a, b) => a.distance - b.distance || dateOf(b.note).localeCompare(dateOf(a.note)));
  const found = new Map<string, NonNullable<WalkSpot['found']>>();
  const taken = new Set<string>();
  for (const { note, spot } of near) {
    if (found.has(spot.id) || taken.has(note.id)) continue;
    taken.add(note.id);
    const { answer, text } = note.attributes;
    found.set(spot.id, {
      answer: typeof answer === 'string' ? answer : null,
      text: typeof text === 'string' ? text : '',
      date: dateOf(note) || null,
      note: note.id,
    });
  }
  return found;
}

const dateOf = ({ attributes: { date } }: Feature): string => (typeof date === 'string' ? date : '');
