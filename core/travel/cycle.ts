import { coarsenNet, type Net, pairNet } from './aggregation.ts';
import { gatherBlocks } from './blocks.ts';
import { factorize, type Lowest, solveLowest } from './lowest.ts';
import { type NetLevel, smoothNet } from './net-level.ts';
import { firstSpare, type Gathering, type Sheet } from './sheet.ts';
import { type SheetLevel, smoothSheet } from './sheet-level.ts';

/** Levels of a multigrid below the finest, coarser and coarser. */
export interface Cycle {
  /** How the finest is gathered into the first of them. */
  gathering: Gathering;
  levels: Level[];
  lowest: Lowest;
  bytes: number;
}

/** A level and the room its cycle needs. */
interface Level {
  on: SheetLevel | NetLevel | null;
  /** One step here is enough: in a leaky net errors are short, and every other level may save its second. */
  single: boolean;
  right: Float64Array;
  first: Float64Array;
  firstFlow: Float64Array;
  second: Float64Array;
  secondFlow: Float64Array;
}

/** Sheets smaller than this, or with more spares than nodes on the grid, go on as nets. */
const LEAST_SHEET = 1000;
const LOWEST = 150;

export function buildCycle(finest: Sheet): Cycle {
  const leaky = finest.leak !== null;
  const levels: Level[] = [];
  let bytes = 0;
  const add = (on: Level['on'], length: number): void => {
    const vector = (): Float64Array => new Float64Array(length);
    levels.push({
      on,
      single: leaky && levels.length % 2 === 1,
      right: vector(),
      first: vector(),
      firstFlow: vector(),
      second: vector(),
      secondFlow: vector(),
    });
    bytes += 5 * 8 * length;
  };
  const { gathering, coarse } = gatherBlocks(finest);
  bytes += 8 * gathering.strays.length;
  let sheet = coarse;
  while (sheet.width * sheet.height > Math.max(LEAST_SHEET, sheet.spares.count)) {
    const next = gatherBlocks(sheet);
    add({ sheet, gathering: next.gathering }, sheet.size);
    bytes += 8 * next.gathering.strays.length + bytesOf(sheet);
    sheet = next.coarse;
  }
  let net = netOf(sheet);
  while (net.count > LOWEST) {
    const pairs = pairNet(net);
    const middle = coarsenNet(net, pairs.map, pairs.count);
    const quarter = pairNet(middle);
    const map = pairs.map.map((to) => (to >= 0 ? quarter.map[to]! : -1));
    const next = coarsenNet(middle, quarter.map, quarter.count);
    add({ net, inverse: net.sum.map((sum) => (sum > 0 ? 1 / sum : 0)), map }, net.count);
    bytes += 28 * net.count + 12 * net.to.length;
    // Many unconnected scraps cannot be gathered further; they have no neighbours and drop out.
    const stuck = next.count > 0.8 * net.count;
    net = next;
    if (stuck) break;
  }
  add(null, net.count);
  const lowest = factorize(net);
  return { gathering, levels, lowest, bytes: bytes + 8 * lowest.factor.length };
}

const bytesOf = ({ east, spares, size, leak }: Sheet): number =>
  16 * east.length + (leak ? 16 : 8) * size + 24 * spares.conductance.length + 12 * spares.count;

/** A sheet as rows of neighbours, with the same places. */
function netOf(sheet: Sheet): Net {
  const { width, height, size, east, south, leak, inverse, spares } = sheet;
  const rows: [number, number][][] = Array.from({ length: size }, () => []);
  const join = (a: number, b: number, g: number): void => {
    if (!(g > 0)) return;
    rows[a]!.push([b, g]);
    rows[b]!.push([a, g]);
  };
  for (let i = width; i < (height + 1) * width; i++) {
    join(i, i + 1, east[i]!);
    join(i, i + width, south[i]!);
  }
  for (let s = 0; s < spares.count; s++)
    for (let k = spares.middle[s]!; k < spares.start[s + 1]!; k++)
      join(firstSpare(sheet) + s, spares.to[k]!, spares.conductance[k]!);
  const start = new Int32Array(size + 1);
  const middle = new Int32Array(size);
  rows.forEach((row, i) => {
    row.sort(([a], [b]) => a - b);
    start[i + 1] = start[i]! + row.length;
    middle[i] = start[i]! + row.filter(([to]) => to < i).length;
  });
  const all = rows.flat();
  return {
    count: size,
    start,
    middle,
    to: Int32Array.from(all, ([to]) => to),
    conductance: Float64Array.from(all, ([, g]) => g),
    leak: leak ?? new Float64Array(size),
    sum: inverse.map((inv) => (inv > 0 ? 1 / inv : 0)),
  };
}

/** Up to two flexible conjugate gradient steps on a level for its `right`; returns the answer. */
export function runCycle(cycle: Cycle, l: number): Float64Array {
  const level = cycle.levels[l]!;
  const { on, single, right, first, firstFlow, second, secondFlow } = level;
  if (on === null) {
    solveLowest(cycle.lowest, right, first);
    return first;
  }
  const below = cycle.levels[l + 1]!.right;
  const solveBelow = (): Float64Array => runCycle(cycle, l + 1);
  const smooth = (out: Float64Array, flow: Float64Array): void => {
    if ('sheet' in on) smoothSheet(on, right, out, flow, below, solveBelow);
    else smoothNet(on, right, out, flow, below, solveBelow);
  };
  const count = right.length;
  smooth(first, firstFlow);
  let driven = 0;
  let gain = 0;
  let before = 0;
  for (let i = 0; i < count; i++) {
    driven += first[i]! * firstFlow[i]!;
    gain += first[i]! * right[i]!;
    before += right[i]! * right[i]!;
  }
  if (!(driven > 0)) return first;
  const alpha = gain / driven;
  let after = 0;
  for (let i = 0; i < count; i++) {
    const r = right[i]! - alpha * firstFlow[i]!;
    right[i] = r;
    after += r * r;
  }
  if (single || after <= 0.0625 * before) {
    for (let i = 0; i < count; i++) first[i]! *= alpha;
    return first;
  }
  smooth(second, secondFlow);
  let mixed = 0;
  let drivenNow = 0;
  let gainNow = 0;
  for (let i = 0; i < count; i++) {
    mixed += second[i]! * firstFlow[i]!;
    drivenNow += second[i]! * secondFlow[i]!;
    gainNow += second[i]! * right[i]!;
  }
  const free = drivenNow - (mixed * mixed) / driven;
  if (!(free > 0)) {
    for (let i = 0; i < count; i++) first[i]! *= alpha;
    return first;
  }
  const along = alpha - (mixed * gainNow) / (driven * free);
  const across = gainNow / free;
  for (let i = 0; i < count; i++) first[i] = along * first[i]! + across * second[i]!;
  return first;
}
