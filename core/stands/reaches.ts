import type { Units } from '../features/units.ts';
import { cellAt } from '../grid/frame.ts';
import { lookFrom, type StandGround } from './look.ts';
import type { StandSettings } from './settings.ts';
import { standSpots } from './spot.ts';
import type { StandReach, Weapon } from './types.ts';

/**
 * What every stand of the map reaches, sees and has behind it, in the order they are drawn. A stand whose ground is not
 * known is left out.
 *
 * @param usual what is hunted with where a stand does not say; null where nobody said
 */
export function standReaches(
  ground: StandGround,
  settings: StandSettings,
  usual: Weapon | null,
  units: Units,
): StandReach[] {
  const { frame, cells } = ground.elevation;
  return standSpots(frame, ground.features, settings, usual)
    .filter(({ at }) => Number.isFinite(cells[cellAt(frame, ...at)]))
    .map((spot) => lookFrom(spot, ground, settings, units).reach);
}
