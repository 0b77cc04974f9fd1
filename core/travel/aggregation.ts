/**
 * Conductors between the 4-neighbours of a grid, and from every cell to ground. `east` and `south` join a cell to
 * its neighbour there and are 0 in the last column and row; 0 means no way.
 */
export interface GridNet {
  width: number;
  height: number;
  east: Float64Array;
  south: Float64Array;
  /** Null when nothing leaks away. */
  ground: Float64Array | null;
}

/** A net as compressed rows: the conductance to each neighbour, and the sum of these and the leak to ground. */
export interface Net {
  count: number;
  start: Int32Array;
  /** Where the neighbours numbered after the node begin in its row. */
  middle: Int32Array;
  to: Int32Array;
  conductance: Float64Array;
  leak: Float64Array;
  sum: Float64Array;
}

/** A mate is taken when its conductance is at least this share of the node's largest. */
const STRONG = 0.25;
/** A node without a free mate joins its closest neighbour when that holds this share of its conductance: else the
 * leaves of a hub would stay alone and the net stop shrinking. */
const TIED = 0.3;

/**
 * Pairs every node with its strongest free neighbour (Notay 2010, pairwise aggregation by strength), so that pairs
 * never straddle a line that hinders. Nodes without neighbours get -1.
 */
export function pairNet(net: Net): { map: Int32Array; count: number } {
  const map = new Int32Array(net.count).fill(-1);
  let count = 0;
  for (let i = 0; i < net.count; i++) {
    if (map[i] !== -1) continue;
    const from = net.start[i]!;
    const to = net.start[i + 1]!;
    if (from === to) continue;
    let strongest = 0;
    let closest = -1;
    let mate = -1;
    let best = 0;
    for (let k = from; k < to; k++) {
      const g = net.conductance[k]!;
      if (g > strongest) {
        strongest = g;
        closest = net.to[k]!;
      }
      if (g > best && map[net.to[k]!] === -1) {
        best = g;
        mate = net.to[k]!;
      }
    }
    if (mate >= 0 && best >= STRONG * strongest) {
      map[i] = count;
      map[mate] = count++;
    } else if (map[closest]! >= 0 && strongest >= TIED * net.sum[i]!) {
      map[i] = map[closest]!;
    } else map[i] = count++;
  }
  return { map, count };
}

/** Lists the members of each aggregate: those of k are members[first[k]] up to members[first[k + 1]]. */
function membersOf(map: Int32Array, count: number): { first: Int32Array; members: Int32Array } {
  const first = new Int32Array(count + 1);
  for (let i = 0; i < map.length; i++) if (map[i]! >= 0) first[map[i]! + 1]!++;
  for (let k = 0; k < count; k++) first[k + 1]! += first[k]!;
  const members = new Int32Array(first[count]!);
  const fill = first.slice(0, count);
  for (let i = 0; i < map.length; i++) if (map[i]! >= 0) members[fill[map[i]!]!++] = i;
  return { first, members };
}

/** Collects the conductors between aggregates; `each` hands over a member's conductors one by one. */
function collect(
  map: Int32Array,
  count: number,
  room: number,
  leakOf: (member: number) => number,
  each: (member: number, add: (neighbour: number, g: number) => void) => void,
): Net {
  const { first, members } = membersOf(map, count);
  const start = new Int32Array(count + 1);
  const to = new Int32Array(room);
  const conductance = new Float64Array(room);
  const middle = new Int32Array(count);
  const sum = new Float64Array(count);
  const leak = new Float64Array(count);
  const place = new Int32Array(count).fill(-1);
  let used = 0;
  let own = 0;
  const add = (neighbour: number, g: number): void => {
    const other = map[neighbour]!;
    if (other === own || other < 0) return;
    let at = place[other]!;
    if (at < start[own]!) {
      at = used++;
      place[other] = at;
      to[at] = other;
      conductance[at] = 0;
    }
    conductance[at]! += g;
  };
  for (own = 0; own < count; own++) {
    start[own] = used;
    let total = 0;
    for (let m = first[own]!; m < first[own + 1]!; m++) {
      each(members[m]!, add);
      total += leakOf(members[m]!);
    }
    leak[own] = total;
    for (let k = start[own]!; k < used; k++) total += conductance[k]!;
    sum[own] = total;
    // Neighbours before the node first, so that a sweep can take one side alone.
    let k = start[own]!;
    for (let other = k; other < used; other++) {
      if (to[other]! > own) continue;
      const [neighbour, g] = [to[other]!, conductance[other]!];
      to[other] = to[k]!;
      conductance[other] = conductance[k]!;
      to[k] = neighbour;
      conductance[k] = g;
      k++;
    }
    middle[own] = k;
  }
  start[count] = used;
  return { count, start, middle, to: to.slice(0, used), conductance: conductance.slice(0, used), leak, sum };
}

/** The net of aggregates: conductors between two of them add up (Galerkin, piecewise constant). */
export function coarsenNet(net: Net, map: Int32Array, count: number): Net {
  const leak = (i: number): number => net.leak[i]!;
  return collect(map, count, Math.max(net.to.length, 4), leak, (i, add) => {
    for (let k = net.start[i]!; k < net.start[i + 1]!; k++) add(net.to[k]!, net.conductance[k]!);
  });
}
