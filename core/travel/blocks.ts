import { firstSpare, type Gathering, over, type Sheet, type Spares } from './sheet.ts';

/**
 * Parts of a block stay together while the weaker held of two conducts to the rest no more than this many times what
 * joins them (the quality of an aggregate; Napov & Notay, "An algebraic multigrid method with guaranteed convergence
 * rate", SIAM J. Sci. Comput. 34, 2012).
 */
const HELD = 8;

/**
 * Gathers the nodes of a sheet in blocks of two by two; a block falls into parts where a wall runs through it, so
 * that no node of the coarser sheet straddles one. Conductors between two parts add up (Galerkin, piecewise
 * constant).
 */
export function gatherBlocks(sheet: Sheet): { gathering: Gathering; coarse: Sheet } {
  const { place, spares } = placesOf(sheet);
  return { gathering: gatheringOf(sheet, place), coarse: coarseSheet(sheet, place, spares) };
}

interface Homes {
  /** Place of every node on the coarser sheet; 0 nowhere. */
  place: Int32Array;
  /** Homes of the coarser sheet's spares. */
  spares: number[];
}

function placesOf(sheet: Sheet): Homes {
  const { width, height, east, south, inverse } = sheet;
  const half = (width + 1) >> 1;
  const halfHeight = (height + 1) >> 1;
  const beyond = (halfHeight + 2) * half;
  const homes: Homes = { place: new Int32Array(sheet.size), spares: [] };
  const { place } = homes;
  const lodgers = lodgersOf(sheet);
  const tied = new Set(sheet.spares.tied);
  /** 1 when two nodes hold together by a conductor. */
  const held = (g: number, i: number, j: number): number =>
    g * (HELD + 1) * Math.max(inverse[i]!, inverse[j]!) >= 1 ? 1 : 0;
  for (let row = 0, block = half; row < halfHeight; row++) {
    const above = (2 * row + 1) * width;
    const low = 2 * row + 1 < height;
    for (let column = 0; column < half; column++, block++) {
      const a = above + 2 * column;
      // Beyond the border stands place 0, a node of nothing.
      const b = 2 * column + 1 < width ? a + 1 : 0;
      const c = low ? a + width : 0;
      const d = b > 0 && low ? c + 1 : 0;
      const guests = lodgers.get(block);
      if (!guests) {
        const nodes =
          (inverse[a]! > 0 ? 1 : 0) +
          (inverse[b]! > 0 ? 1 : 0) +
          (inverse[c]! > 0 ? 1 : 0) +
          (inverse[d]! > 0 ? 1 : 0);
        if (nodes === 0) continue;
        const links =
          held(east[a]!, a, b) + held(south[a]!, a, c) + held(east[c]!, c, d) + held(south[b]!, b, d);
        if (links === (nodes === 4 ? 4 : nodes - 1)) {
          place[a] = place[b] = place[c] = place[d] = block;
          continue;
        }
      }
      const members = [...(guests ?? []), ...[a, b, c, d].filter((i) => inverse[i]! > 0)];
      partsOf(sheet, members).forEach((part, k) => {
        if (k > 0 && part.length === 1 && isAlone(sheet, part[0]!, tied)) return;
        const to = k === 0 ? block : beyond + homes.spares.push(block) - 1;
        for (const member of part) place[member] = to;
      });
    }
  }
  place[0] = 0;
  return homes;
}

/** Places of the spares by the coarser block they lie in. */
function lodgersOf(sheet: Sheet): Map<number, number[]> {
  const { width, spares } = sheet;
  const first = firstSpare(sheet);
  const lodgers = new Map<number, number[]>();
  for (let s = 0; s < spares.count; s++) {
    const block = over(spares.home[s]!, width);
    const guests = lodgers.get(block);
    if (guests) guests.push(first + s);
    else lodgers.set(block, [first + s]);
  }
  return lodgers;
}

/** Visits the conductors of a node; those of the grid to spares come with the spares. */
function eachConductor(
  sheet: Sheet,
  node: number,
  visit: (neighbour: number, conductance: number) => void,
): void {
  const { width, east, south, spares } = sheet;
  const s = node - firstSpare(sheet);
  if (s >= 0) {
    for (let k = spares.start[s]!; k < spares.start[s + 1]!; k++)
      visit(spares.to[k]!, spares.conductance[k]!);
    return;
  }
  if (east[node]! > 0) visit(node + 1, east[node]!);
  if (south[node]! > 0) visit(node + width, south[node]!);
  if (east[node - 1]! > 0) visit(node - 1, east[node - 1]!);
  if (south[node - width]! > 0) visit(node - width, south[node - width]!);
}

function isAlone(sheet: Sheet, node: number, tied: ReadonlySet<number>): boolean {
  let alone = !tied.has(node);
  eachConductor(sheet, node, () => {
    alone = false;
  });
  return alone;
}

/** The parts of a block that hold together, the largest first. */
function partsOf(sheet: Sheet, members: readonly number[]): number[][] {
  const parts = members.map((member) => [member]);
  const outward = members.map((member) => 1 / sheet.inverse[member]!);
  // Conductance between parts, both ways.
  const between = members.map(() => new Float64Array(members.length));
  const first = firstSpare(sheet);
  members.forEach((member, m) => {
    eachConductor(sheet, member, (neighbour, g) => {
      const k = members.indexOf(neighbour);
      if (k < 0) return;
      between[m]![k]! = g;
      // Nodes of the grid do not list their spares.
      if (member >= first) between[k]![m] = g;
    });
  });
  for (;;) {
    let [best, p, q] = [0, -1, -1];
    for (let i = 0; i < parts.length; i++)
      for (let j = i + 1; j < parts.length; j++) {
        const g = between[i]![j]!;
        const hold = g / (Math.min(outward[i]!, outward[j]!) - g);
        // Where one leads nowhere else, rounding may leave less than nothing.
        const firm = g > 0 && !(hold >= 0) ? Number.POSITIVE_INFINITY : hold;
        if (g > 0 && firm > best && firm * HELD >= 1) [best, p, q] = [firm, i, j];
      }
    if (p < 0) break;
    outward[p]! += outward[q]! - 2 * between[p]![q]!;
    parts[p]!.push(...parts[q]!);
    for (let k = 0; k < parts.length; k++) {
      between[p]![k]! += between[q]![k]!;
      between[k]![p] = between[p]![k]!;
    }
    parts.splice(q, 1);
    outward.splice(q, 1);
    between.splice(q, 1);
    for (let k = 0; k < between.length; k++) {
      const row = between[k]!;
      row.copyWithin(q, q + 1);
      between[k] = row.subarray(0, row.length - 1);
    }
    between[p]![p] = 0;
  }
  return parts.sort((a, b) => b.length - a.length);
}

function gatheringOf(sheet: Sheet, place: Int32Array): Gathering {
  const { width, height, inverse } = sheet;
  const half = (width + 1) >> 1;
  const strays: number[] = [];
  for (let row = 0, i = width; row < height; row++) {
    const over = ((row >> 1) + 1) * half;
    for (let column = 0; column < width; column++, i++)
      if (place[i] !== over + (column >> 1) && inverse[i]! > 0) strays.push(i);
  }
  return {
    strays: Int32Array.from(strays),
    straysTo: Int32Array.from(strays, (i) => place[i]!),
    sparesTo: place.slice(firstSpare(sheet)),
  };
}

function coarseSheet(sheet: Sheet, place: Int32Array, homes: readonly number[]): Sheet {
  const fine = sheet;
  const width = (fine.width + 1) >> 1;
  const height = (fine.height + 1) >> 1;
  const first = firstSpare({ width, height });
  const size = first + homes.length;
  const east = new Float64Array(first);
  const south = new Float64Array(first);
  const loose: Loose = { from: [], to: [], conductance: [] };
  const link = (a: number, b: number, g: number): void => {
    if (a === b) return;
    if (a < first && b < first) {
      const towards = width > 1 && Math.abs(a - b) === 1 ? east : south;
      towards[Math.min(a, b)]! += g;
    } else {
      loose.from.push(a);
      loose.to.push(b);
      loose.conductance.push(g);
    }
  };
  for (let i = fine.width, end = (fine.height + 1) * fine.width; i < end; i++) {
    const e = fine.east[i]!;
    const s = fine.south[i]!;
    if (e > 0 && place[i] !== place[i + 1]) link(place[i]!, place[i + 1]!, e);
    if (s > 0 && place[i] !== place[i + fine.width]) link(place[i]!, place[i + fine.width]!, s);
  }
  const { spares } = fine;
  for (let k = 0; k < spares.count; k++)
    for (let j = spares.middle[k]!; j < spares.start[k + 1]!; j++)
      link(place[firstSpare(fine) + k]!, place[spares.to[j]!]!, spares.conductance[j]!);

  let leak: Float64Array | null = null;
  if (fine.leak) {
    leak = new Float64Array(size);
    for (let i = 0; i < place.length; i++) if (place[i]! > 0) leak[place[i]!]! += fine.leak[i]!;
  }
  return finishSheet({ width, height, size, east, south, leak }, sparesOf(loose, first, homes));
}

/** Conductors with a spare at one end at least. */
interface Loose {
  from: number[];
  to: number[];
  conductance: number[];
}

function sparesOf(loose: Loose, first: number, homes: readonly number[]): Spares {
  const rows: Map<number, number>[] = homes.map(() => new Map());
  const ties = new Map<number, Map<number, number>>();
  const add = (row: Map<number, number>, to: number, g: number): void => {
    row.set(to, (row.get(to) ?? 0) + g);
  };
  loose.conductance.forEach((g, k) => {
    for (const [from, to] of [
      [loose.from[k]!, loose.to[k]!],
      [loose.to[k]!, loose.from[k]!],
    ] as const) {
      if (from >= first) add(rows[from - first]!, to, g);
      else {
        const row = ties.get(from) ?? new Map<number, number>();
        ties.set(from, row);
        add(row, to, g);
      }
    }
  });
  const own = rows.map((row, s) => {
    const isBefore = (to: number): boolean => to >= first && to < first + s;
    const all = [...row];
    const before = all.filter(([to]) => isBefore(to));
    return { before: before.length, row: [...before, ...all.filter(([to]) => !isBefore(to))] };
  });
  const packed = packRows(own.map(({ row }) => row));
  const tied = [...ties];
  const tiedRows = packRows(tied.map(([, row]) => [...row]));
  return {
    count: homes.length,
    home: Int32Array.from(homes),
    ...packed,
    middle: Int32Array.from(own, ({ before }, s) => packed.start[s]! + before),
    tied: Int32Array.from(tied, ([node]) => node),
    tiedStart: tiedRows.start,
    tiedTo: tiedRows.to,
    tiedConductance: tiedRows.conductance,
    kept: new Float64Array(tied.length),
  };
}

function packRows(rows: readonly (readonly (readonly [number, number])[])[]) {
  const start = new Int32Array(rows.length + 1);
  rows.forEach((row, k) => {
    start[k + 1] = start[k]! + row.length;
  });
  const all = rows.flat();
  return {
    start,
    to: Int32Array.from(all, ([to]) => to),
    conductance: Float64Array.from(all, ([, g]) => g),
  };
}

export const noSpares = (): Spares => sparesOf({ from: [], to: [], conductance: [] }, 0, []);

/** Adds up what every node conducts. */
export function finishSheet(sheet: Omit<Sheet, 'inverse' | 'spares'>, spares: Spares): Sheet {
  const { width, height, size, east, south, leak } = sheet;
  const sum = new Float64Array(size);
  if (leak) sum.set(leak);
  for (let i = width, end = (height + 1) * width; i < end; i++)
    sum[i]! += east[i]! + south[i]! + east[i - 1]! + south[i - width]!;
  const { count, start, conductance, tied, tiedStart, tiedConductance } = spares;
  for (let s = 0; s < count; s++)
    for (let k = start[s]!; k < start[s + 1]!; k++) sum[firstSpare(sheet) + s]! += conductance[k]!;
  for (let t = 0; t < tied.length; t++)
    for (let k = tiedStart[t]!; k < tiedStart[t + 1]!; k++) sum[tied[t]!]! += tiedConductance[k]!;
  for (let i = 0; i < size; i++) sum[i] = sum[i]! > 0 ? 1 / sum[i]! : 0;
  return { ...sheet, inverse: sum, spares };
}
