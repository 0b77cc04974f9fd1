import { YARD } from '../features/units.ts';
import type { Leaves, Weapon } from './types.ts';

/** What a person may set about stands. Lengths in m. */
export interface StandSettings {
  /** How far is shot with each weapon, where a stand does not say. */
  range: Record<Weapon, number>;
  /** How far a shot that misses is followed. */
  danger: Record<Weapon, number>;
  /** Ground must stop the line this close behind a deer to count as a backstop. */
  backstop: number;
  /** The local rule's least distance from the stand; null until it is entered. */
  setback: { building: number | null; road: number | null };
  leaves: Leaves;
  laneWidth: number;
  /** Whether a way to a stand may cross ground that is not the client's. */
  allowNeighbour: boolean;
  /** Dry leaves underfoot, the loudest case. */
  dryLeaves: boolean;
}

/** Effective ranges: common practice, no source. Everything else: our assumption; local rules are left to be entered. */
export const DEFAULT_STANDS: StandSettings = {
  range: {
    bow: 30 * YARD,
    crossbow: 50 * YARD,
    shotgun: 100 * YARD,
    muzzleloader: 150 * YARD,
    rifle: 200 * YARD,
  },
  danger: { bow: 300, crossbow: 450, shotgun: 1200, muzzleloader: 1600, rifle: 4000 },
  backstop: 30,
  setback: { building: null, road: null },
  leaves: 'off',
  laneWidth: 2,
  allowNeighbour: false,
  dryLeaves: true,
};
