import { COVER } from '../../../core/cover/types.ts';
import type { Frame, Grid } from '../../../core/grid/frame.ts';
import type { SightGround } from '../../../core/stands/sight-window.ts';
import type { StandSpot } from '../../../core/stands/types.ts';
import { gridOf } from '../travel/scene.ts';

export { box, feature, frameOf, gridOf, line, point } from '../travel/scene.ts';

/** Ground of a given height under a given cover, screening unknown. */
export function sightGround(
  frame: Frame,
  height: (x: number, y: number) => number,
  cover: (x: number, y: number) => number = () => COVER.open,
): SightGround {
  const codes: Grid<Uint8Array> = { frame, cells: Uint8Array.from(gridOf(frame, cover).cells) };
  return {
    elevation: gridOf(frame, height),
    cover: codes,
    screening: gridOf(frame, () => Number.NaN),
    vegetation: null,
  };
}

/** A stand with what a test does not care about filled in. */
export const standAt = (x: number, y: number, more: Partial<StandSpot> = {}): StandSpot => ({
  id: 'here',
  name: 'Here',
  at: [x, y],
  seatHeight: 5,
  seatKnown: true,
  weapon: 'bow',
  range: 30,
  proposed: false,
  ...more,
});
