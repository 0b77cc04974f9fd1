import { bearingOf } from '../grid/bearing.ts';
import { cellCentre, type Frame, type Point } from '../grid/frame.ts';
import { windowAt } from '../grid/window.ts';
import { armsOf, BINS } from './bearing-arms.ts';
import { type Flow, shareOf } from './flow.ts';
import { chanceOf, goOn, type Onflow, onflowOf, orderFrom, placeIn } from './onward-walk.ts';
import { passing, withinReach } from './region.ts';

/** A way on from a spot. */
export interface WayOn {
  /** Of the deer at the spot, 0..1; with `stays` all ways add up to 1. */
  share: number;
  /** Degrees clockwise from grid north to where they come out, or end. */
  bearing: number;
  /** Where they are on the mean at each distance out, from the spot on. */
  path: Point[];
  /** Of those that go this way: the areas their travel comes from and goes to, most first. */
  legs: { from: number; to: number; share: number }[];
  /** Of those that go this way, how many come to the end of their travel before they are that far out. */
  ends: number;
}

/** Where deer at a spot go next. */
export interface Onward {
  /** Share of all travel that passes within reach of the spot. */
  share: number;
  /** Most travelled first. */
  ways: WayOn[];
  /** Of the deer at the spot, those whose travel ends within reach of it, 0..1. */
  stays: number;
}

/** Fewer than this of the deer at a spot are no way of their own: our choice. */
const LEAST = 0.05;
const TRACE = 1e-6;
/** A line is drawn through the mean place at so many distances. */
const RINGS = 14;

/** Travel of one pair, one way, at the spot: where its walkers come and by which cells. */
interface Strand {
  from: number;
  to: number;
  onflow: Onflow;
  order: Int32Array;
  held: Float64Array;
}

/**
 * Where deer at a spot go next, as far as `ahead`: the walkers of every pair that are within reach of the spot, by how
 * many there are, go on by the net flow out of every cell, half of each pair's one way and half the other. Net flow
 * runs in no circles, so nothing is drawn by lot: the shares are those of infinitely many walkers. Where they come out
 * on the circle, or end, is parted into ways by bearing.
 *
 * @param reach a deer within so many m of the spot is at it; at least the cell it lies in
 * @param ahead m
 * @returns no ways where no travel passes
 */
export function onwardFrom(flow: Flow, at: Point, reach: number, ahead: number): Onward {
  const { frame } = flow;
  const near = withinReach(frame, { at, reach });
  const share = shareOf(flow, passing(flow, near));
  const piece = windowAt(frame, at, ahead + 2 * frame.cellSize);
  const place = placeIn(frame, piece);
  const { width } = piece;
  const out = outFrom(piece, at);
  const rim = Uint8Array.from(out, (distance) => (distance > ahead ? 1 : 0));
  const starts = [...near].map(
    (cell) => (Math.floor(cell / frame.width) - place.row) * width + (cell % frame.width) - place.column,
  );
  const stops = new Float64Array(rim.length);
  const close = (cell: number): boolean => out[cell]! <= Math.max(reach, frame.cellSize);
  let all = 0;
  let stays = 0;
  const strands: Strand[] = [];
  for (const pairFlow of flow.pairs)
    for (const back of [false, true]) {
      const { pair } = pairFlow;
      const onflow = onflowOf(pairFlow, place, back);
      const held = new Float64Array(rim.length);
      let here = 0;
      for (const k of starts) here += held[k] = (pair.share / 2) * onflow.through[k]!;
      if (!(here > 0)) continue;
      const order = orderFrom(onflow, width, starts, rim);
      goOn(onflow, width, order, rim, held, (cell, walkers, isEnd) => {
        all += walkers;
        if (isEnd && close(cell)) stays += walkers;
        else stops[cell]! += walkers;
      });
      const [from, to] = back ? [pair.to, pair.from] : [pair.from, pair.to];
      strands.push({ from, to, onflow, order, held });
    }
  if (!(all > 0)) return { share, ways: [], stays: 0 };
  const bins = binsOf(piece, at);
  const counts = new Float64Array(BINS);
  for (let k = 0; k < stops.length; k++) counts[bins[k]!]! += stops[k]!;
  const arms = armsOf(counts, LEAST);
  const ways = Array.from({ length: Math.max(...arms) + 1 }, (_, arm): WayOn | null => {
    const isMine = (cell: number): boolean => arms[bins[cell]!] === arm;
    return wayOf(strands, { at, ahead, piece, out, rim, all, isMine, close });
  });
  return {
    share,
    ways: ways.filter((way) => way !== null).sort((a, b) => b.share - a.share),
    stays: stays / all,
  };
}

interface Ground {
  at: Point;
  ahead: number;
  piece: Frame;
  /** m from the spot. */
  out: Float64Array;
  rim: Uint8Array;
  all: number;
  isMine(cell: number): boolean;
  close(cell: number): boolean;
}

/** One way: the walkers that stop in its bearings, where they are on their way, and what they go to. */
function wayOf(
  strands: readonly Strand[],
  { at, ahead, piece, out, rim, all, isMine, close }: Ground,
): WayOn | null {
  const { width } = piece;
  const rings = Array.from({ length: RINGS }, () => ({ walkers: 0, x: 0, y: 0 }));
  const legs: WayOn['legs'] = [];
  let walkers = 0;
  let ended = 0;
  let [east, north] = [0, 0];
  for (const { from, to, onflow, order, held } of strands) {
    const wanted = (cell: number): boolean => isMine(cell) && (rim[cell] === 1 || !close(cell));
    const chance = chanceOf(onflow, width, order, rim, wanted);
    let mine = 0;
    for (const k of order) {
      const passing = held[k]! * chance[k]!;
      if (!(passing > 0)) continue;
      const [x, y] = cellCentre(piece, k);
      const ring = rings[Math.min(RINGS - 1, Math.floor((RINGS * out[k]!) / ahead))]!;
      ring.walkers += passing;
      ring.x += passing * x;
      ring.y += passing * y;
      if (!wanted(k)) continue;
      const stopped = rim[k] ? held[k]! : held[k]! * endsAt(onflow, k);
      mine += stopped;
      if (!rim[k]) ended += stopped;
      const distance = Math.max(1e-6, out[k]!);
      east += (stopped * (x - at[0])) / distance;
      north += (stopped * (y - at[1])) / distance;
    }
    walkers += mine;
    // Less than this is what the solve leaves over.
    if (mine > TRACE * all) legs.push({ from, to, share: mine });
  }
  if (!(walkers > 0)) return null;
  return {
    share: walkers / all,
    bearing: bearingOf(east, north),
    path: [
      at,
      ...rings
        .filter((ring) => ring.walkers > 0)
        .map((ring): Point => [ring.x / ring.walkers, ring.y / ring.walkers]),
    ],
    legs: legs
      .map((leg) => ({ ...leg, share: leg.share / walkers }))
      .sort((a, b) => b.share - a.share || a.to - b.to),
    ends: ended / walkers,
  };
}

/** Of the walkers at a cell, those whose travel ends there. */
function endsAt({ out, ends }: Onflow, k: number): number {
  const leaving = out[4 * k]! + out[4 * k + 1]! + out[4 * k + 2]! + out[4 * k + 3]!;
  return leaving + ends[k]! > 0 ? ends[k]! / (leaving + ends[k]!) : 1;
}

/** m from a spot to every cell's centre. */
const outFrom = (frame: Frame, [x, y]: Point): Float64Array =>
  Float64Array.from({ length: frame.width * frame.height }, (_, k) => {
    const [cx, cy] = cellCentre(frame, k);
    return Math.hypot(cx - x, cy - y);
  });

/** The bin of bearings every cell lies in, seen from a spot. */
const binsOf = (frame: Frame, [x, y]: Point): Uint8Array =>
  Uint8Array.from({ length: frame.width * frame.height }, (_, k) => {
    const [cx, cy] = cellCentre(frame, k);
    return Math.floor((bearingOf(cx - x, cy - y) / 360) * BINS) % BINS;
  });
