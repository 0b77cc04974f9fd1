import { type Feature, ofKind } from '../features/feature.ts';
import { pathsOf } from '../features/shapes.ts';
import { cellAt, type Grid, type Point } from '../grid/frame.ts';
import { type ChannelStation, LANDFORM } from '../terrain/types.ts';
import { footOn } from '../travel/barriers.ts';
import type { Corridor, Neck, TravelArea } from '../travel/types.ts';

/** Something the scent of a stand runs into. Distances along the carry from the stand, m. */
export interface Meeting {
  kind: 'bedding' | 'corridor' | 'neck' | 'creek bottom';
  id: string;
  name: string;
  after: number;
  /** How far the carry stays in or along it. */
  length: number;
  /** Share of all travel, where it is travel. */
  share: number;
}

/** What scent can run into. */
export interface Travelled {
  areas: Grid<Int32Array>;
  travelAreas: readonly TravelArea[];
  corridors: readonly Corridor[];
  necks: readonly Neck[];
  forms: Grid<Uint8Array>;
  channels: readonly ChannelStation[];
  features: readonly Feature[];
}

/** Scent this near a line of travel is met, m: our assumption. */
const NEAR = 15;
/** The deer in front of the stand are what it is for: travel nearer to it than this is not yet met, m. */
const OWN_GROUND = 30;

/** Everything a carry meets within `reach` metres, in the order it gets there. */
export function meetingsAlong(
  path: readonly Point[],
  reach: number,
  travelled: Travelled,
  skip: string,
): Meeting[] {
  const { areas, travelAreas, corridors, necks, forms, features } = travelled;
  const { frame } = areas;
  const spots = densify(path, frame.cellSize, reach);
  const step = spots.length > 1 ? reachOf(spots) / (spots.length - 1) : 0;
  const found = new Map<string, Meeting>();
  const meet = (kind: Meeting['kind'], id: string, name: string, after: number, share: number) => {
    const old = found.get(`${kind} ${id}`);
    if (old) old.length += step;
    else found.set(`${kind} ${id}`, { kind, id, name, after, length: step, share });
  };
  const beds = new Map(travelAreas.filter((area) => area.kind === 'bedding').map((area) => [area.id, area]));
  const creeks = ofKind(features, 'creek')
    .filter(({ status }) => status === 'existing')
    .flatMap(({ geometry }) => pathsOf(geometry));

  spots.forEach(({ at, after }) => {
    const i = cellAt(frame, at[0], at[1]);
    if (i < 0) return;
    const bed = beds.get(areas.cells[i]!);
    if (bed) meet('bedding', String(bed.id), bed.name, after, 0);
    if (forms.cells[i] === LANDFORM.creekBottom || creeks.some((path) => distanceTo(path, at) <= NEAR / 2))
      meet('creek bottom', 'creek bottom', 'the creek bottom', after, 0);
    if (after < OWN_GROUND) return;
    for (const corridor of corridors)
      if (distanceTo(corridor.path, at) <= NEAR)
        meet('corridor', corridor.id, corridorName(corridor, travelAreas), after, corridor.share);
    for (const neck of necks)
      if (neck.id !== skip && distanceTo(neck.line, at) <= NEAR)
        meet('neck', neck.id, `neck ${neck.rank}`, after, neck.share);
  });
  return [...found.values()].sort((a, b) => a.after - b.after);
}

function corridorName(corridor: Corridor, areas: readonly TravelArea[]): string {
  const name = (id: number) => areas.find((area) => area.id === id)?.name ?? `area ${id}`;
  return `the travel between ${name(corridor.from)} and ${name(corridor.to)}`;
}

const reachOf = (spots: { after: number }[]): number => spots[spots.length - 1]!.after;

/** Spots along a path at about one a cell, as far as `reach`. */
function densify(path: readonly Point[], spacing: number, reach: number): { at: Point; after: number }[] {
  const spots: { at: Point; after: number }[] = [{ at: path[0]!, after: 0 }];
  let after = 0;
  for (let k = 1; k < path.length && after < reach; k++) {
    const [ax, ay] = path[k - 1]!;
    const [bx, by] = path[k]!;
    const length = Math.hypot(bx - ax, by - ay);
    const pieces = Math.max(1, Math.round(length / spacing));
    for (let p = 1; p <= pieces && after < reach; p++) {
      after += length / pieces;
      spots.push({ at: [ax + ((bx - ax) * p) / pieces, ay + ((by - ay) * p) / pieces], after });
    }
  }
  return spots;
}

const distanceTo = (path: readonly Point[], at: Point): number => footOn(path, at)?.distance ?? Infinity;
