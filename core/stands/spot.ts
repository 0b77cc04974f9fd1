import { type AttributeValue, type Feature, ofKind } from '../features/feature.ts';
import { middleOf } from '../features/shapes.ts';
import { cellAt, type Frame, type Point } from '../grid/frame.ts';
import type { StandSettings } from './settings.ts';
import { type StandSpot, WEAPONS, type Weapon } from './types.ts';

/** Seat height where none is known, m: our assumption, the usual height of a tree stand. */
export const TREE_SEAT = 5;
/** Weapon where none is stated and the brief names none, the one with the least reach. */
const WEAPON: Weapon = 'bow';

/** Height of the eye over the seat, m: sitting eye height of men, median (ANSUR 1988; value from memory). */
const EYE_OVER_SEAT = 0.79;
/** Middle of a standing deer's chest, and its eye, m over the ground: our assumption. */
export const CHEST = 0.75;
export const DEER_EYE = 1.1;

export const eyeHeight = ({ seatHeight }: StandSpot): number => seatHeight + EYE_OVER_SEAT;

const isWeapon = (value: AttributeValue | undefined): value is Weapon =>
  (WEAPONS as readonly unknown[]).includes(value);

/**
 * One stand of the map as a place to hunt from; null where it has no place.
 *
 * @param usual what the client hunts with, for a stand that does not say; null where nobody said
 */
export function spotOf(
  stand: Feature,
  name: string,
  settings: Pick<StandSettings, 'range'>,
  usual: Weapon | null,
): StandSpot | null {
  const at = middleOf(stand.geometry);
  if (!at) return null;
  const { seatHeight, weapon: stated, range } = stand.attributes;
  const weapon = isWeapon(stated) ? stated : (usual ?? WEAPON);
  const seatKnown = typeof seatHeight === 'number';
  return {
    id: stand.id,
    name,
    at,
    seatHeight: seatKnown ? seatHeight : TREE_SEAT,
    seatKnown,
    weapon,
    range: typeof range === 'number' && range > 0 ? range : settings.range[weapon],
    proposed: stand.status === 'proposed',
  };
}

/** Every stand of the map that lies on the frame, existing and proposed, named as everywhere else. */
export const standSpots = (
  frame: Frame,
  features: readonly Feature[],
  settings: Pick<StandSettings, 'range'>,
  usual: Weapon | null,
): StandSpot[] =>
  ofKind(features, 'stand').flatMap((stand, k) => {
    const spot = spotOf(stand, stand.name ?? `Stand ${k + 1}`, settings, usual);
    return spot && cellAt(frame, ...spot.at) >= 0 ? [spot] : [];
  });

/** A bare spot tried out. */
export const trialSpot = (
  at: Point,
  settings: Pick<StandSettings, 'range'>,
  usual: Weapon | null,
): StandSpot => ({
  id: 'trial',
  name: 'This spot',
  at,
  seatHeight: TREE_SEAT,
  seatKnown: false,
  weapon: usual ?? WEAPON,
  range: settings.range[usual ?? WEAPON],
  proposed: true,
});
