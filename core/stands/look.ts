import { formatArea, formatLength, formatShare, type Units, YARD } from '../features/units.ts';
import type { Corridor, Junction, Neck, Route } from '../travel/types.ts';
import { BACKDROP, concealmentOf } from './concealment.ts';
import { clearDirections, lanesToCut } from './lanes.ts';
import { type FireGround, lineOfFire } from './line-of-fire.ts';
import { type Passable, passingsOf, REACH, type ReachGrid, reachGrid, shareOf } from './reach.ts';
import type { StandSettings } from './settings.ts';
import { type SightGround, type SightWindow, sightWindow } from './sight-window.ts';
import type { Leaves, Passing, StandReach, StandSpot } from './types.ts';

/** Deer this near are asked what they see of the stand, whatever its range, m: our choice. */
const LOOKED_FROM = 60;
/** Within this a usual gun set-up reaches a junction of trails, m: common practice, no source. */
const GUN_SETUP = 100 * YARD;

/** Cells larger than this part of the range miss what decides a shot: our assumption. */
export const FINE = 5;

/** Everything a stand is looked at on, over the whole map. */
export interface StandGround extends SightGround, FireGround {
  corridors: readonly Corridor[];
  necks: readonly Neck[];
  junctions: readonly Junction[];
  routes: readonly Route[];
}

export interface Look {
  reach: StandReach;
  /** What the reach was read off, on a window of the map. */
  grid: ReachGrid;
  window: SightWindow;
}

/** Routes of travel as lines to be looked at. */
const passableRoutes = (routes: readonly Route[]): Passable[] =>
  routes.map(({ id, share, path }) => ({ kind: 'route', id, share, path }));

const passables = ({ corridors, necks, junctions, routes }: StandGround): Passable[] => [
  ...corridors.map(({ id, share, path }): Passable => ({ kind: 'corridor', id, share, path })),
  ...necks.map(({ id, share, line }): Passable => ({ kind: 'neck', id, share, path: line })),
  ...junctions.map(({ id, share, at }): Passable => ({ kind: 'junction', id, share, path: [at] })),
  ...passableRoutes(routes),
];

/** Range and view alone of a stand, on a window of the map. */
export function reachOf(
  spot: StandSpot,
  ground: SightGround,
  leaves: Leaves,
): { grid: ReachGrid; window: SightWindow } {
  const window = sightWindow(ground, spot.at, Math.max(spot.range, LOOKED_FROM) + BACKDROP, leaves);
  return { grid: reachGrid(window, spot), window };
}

/**
 * All that can be said of a stand without the air and the way to it: reach, view, lanes, line of fire, concealment.
 *
 * @throws Problem where the ground under the stand is not known
 */
export function lookFrom(
  spot: StandSpot,
  ground: StandGround,
  settings: StandSettings,
  units: Units,
  leaves: Leaves = settings.leaves,
): Look {
  const { grid, window } = reachOf(spot, ground, leaves);
  const { cellSize } = grid.codes.frame;
  let area = 0;
  let clearArea = 0;
  for (const code of grid.codes.cells) {
    if (code !== 0) area += cellSize ** 2;
    if (code === REACH.clear) clearArea += cellSize ** 2;
  }
  const passings = passingsOf(grid, passables(ground));
  const ofRoutes = new Map(passings.flatMap((p) => (p.kind === 'route' ? [[p.id, p] as const] : [])));
  const shareInReach = shareOf(ground.routes, ({ id }) => ofRoutes.has(id));
  const shareInView = shareOf(ground.routes, ({ id }) => ofRoutes.get(id)?.seen ?? false);
  const routes = passableRoutes(ground.routes);
  const reach: StandReach = {
    id: `reach-${spot.id}`,
    spot,
    leaves,
    area,
    clearArea,
    steepest: passings.length > 0 ? Math.max(...passings.map(({ nearest }) => nearest.down)) : null,
    passings,
    shareInReach: Number.isNaN(shareInReach) ? null : shareInReach,
    shareInView: Number.isNaN(shareInView) ? null : shareInView,
    directions: clearDirections(grid),
    lanes: lanesToCut(grid, window, routes, settings.laneWidth, units),
    fire: lineOfFire(ground, spot, grid.eye, settings, units),
    concealment: concealmentOf(window, spot, routes, Math.max(spot.range, LOOKED_FROM)),
    sentences: [],
    doubts: doubtsOf(spot, window, units),
  };
  reach.sentences = sentencesOf(reach, ground, units);
  return { reach, grid, window };
}

function sentencesOf(reach: StandReach, { necks, junctions }: StandGround, units: Units): string[] {
  const { spot, area, clearArea, leaves, passings, shareInReach, shareInView, lanes, fire } = reach;
  const away = (metres: number): string => formatLength(metres, units);
  const sentences = [
    area === 0
      ? `No whole cell of the map lies within ${away(spot.range)}: it is too coarse to say what is in range and in view.`
      : `${formatArea(area, units)} within ${away(spot.range)} with the ${spot.weapon}, ${formatArea(clearArea, units)} of it in clear view with the leaves ${leaves === 'on' ? 'on' : 'down'}.`,
  ];
  if (area > 0 && shareInReach !== null && shareInView !== null)
    sentences.push(
      shareInReach === 0
        ? 'No drawn route of travel comes in range.'
        : `${formatShare(shareInReach)} of all travel passes in range, ${formatShare(shareInView)} in clear view.`,
    );
  const shown = (['neck', 'junction'] as const).flatMap((kind) => {
    const best = passings.filter((passing) => passing.kind === kind).sort((a, b) => b.share - a.share)[0];
    return best ? [best] : [];
  });
  for (const { kind, id, nearest, seen } of shown) {
    const rank = (kind === 'neck' ? necks : junctions).find((each) => each.id === id)?.rank;
    sentences.push(
      `${kind === 'neck' ? 'Neck' : 'Junction'} ${rank} comes within ${away(nearest.slant)} on the slant, ${away(nearest.level)} level, ${angle(nearest)}${seen ? '' : ', behind cover or ground'}.`,
    );
  }
  const gun = spot.weapon === 'shotgun' || spot.weapon === 'muzzleloader' || spot.weapon === 'rifle';
  const distances = junctions.map(({ at }) => Math.hypot(at[0] - spot.at[0], at[1] - spot.at[1]));
  if (gun && distances.length > 0 && Math.min(...distances) > GUN_SETUP)
    sentences.push(
      `The nearest junction of travel is ${away(Math.min(...distances))} off; a usual gun set-up reaches one at under ${away(GUN_SETUP)} (common practice, no source).`,
    );
  if (lanes.length > 0) sentences.push(lanes[0]!.sentence);
  const { degrees } = fire;
  sentences.push(
    `Line of fire: ground close behind the deer in ${degrees.checked}° of the circle, none in ${degrees.open}°, something mapped in the way in ${degrees.closed}°${degrees.unknown > 0 ? `, not known in ${degrees.unknown}°` : ''}.`,
  );
  return sentences;
}

const angle = ({ down }: Passing['nearest']): string =>
  `${Math.abs(Math.round(down))}° ${down >= 0 ? 'down' : 'up'}`;

function doubtsOf(spot: StandSpot, { frame, standing, cover }: SightWindow, units: Units): string[] {
  const doubts: string[] = [];
  if (!spot.seatKnown)
    doubts.push(
      `The height of the seat is not known: ${formatLength(spot.seatHeight, units, 'height')} is our assumption.`,
    );
  if (frame.cellSize > spot.range / FINE)
    doubts.push(
      `Cells of ${formatLength(frame.cellSize, units)} are too coarse for a range of ${formatLength(spot.range, units)}: stems, brush and small rises are not in it.`,
    );
  if (cover.cells.every((code) => code === 0) && standing.loss.cells.every((loss) => !(loss > 0)))
    doubts.push('Cover is not known here: the view is over bare ground.');
  else
    doubts.push(
      'How much of the view a metre of brush or timber takes is our assumption where screening was not measured: walk the lanes before you cut.',
    );
  if (spot.proposed) doubts.push('The stand is proposed; ground, cover and travel are those of today.');
  return doubts;
}
