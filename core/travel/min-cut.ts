/** Undirected capacities between the 4-neighbours of a grid; 0 no way, Infinity never cut. */
export interface CapacityGrid {
  width: number;
  height: number;
  east: Float64Array;
  south: Float64Array;
}

export interface Cut {
  /** Sum of the capacities cut, which is the largest flow; Infinity when no finite cut parts the two. */
  value: number;
  /** 1 on the cells on the source's side. */
  side: Uint8Array;
}

/**
 * The cheapest set of edges whose removal parts `source` cells from `sink` cells: largest flow by Dinic (1970) with
 * shortest augmenting paths, then what the source still reaches (Ford & Fulkerson 1956).
 *
 * @param source and `sink` 1 on their cells; must not overlap
 */
export function minCut(
  { width, height, east, south }: CapacityGrid,
  source: Uint8Array,
  sink: Uint8Array,
): Cut {
  const count = width * height;
  // Room left from a cell by each move: east, south, west, north.
  const room = [east.slice(), south.slice(), new Float64Array(count), new Float64Array(count)] as const;
  for (let i = 0; i < count; i++) {
    const x = i % width;
    if (x > 0) room[2][i] = east[i - 1]!;
    if (i >= width) room[3][i] = south[i - width]!;
    if (x === width - 1) room[0][i] = 0;
    if (i + width >= count) room[1][i] = 0;
  }
  const steps = [1, width, -1, -width] as const;
  const level = new Int32Array(count);
  const queue = new Int32Array(count);
  const next = new Uint8Array(count);
  const path = new Int32Array(count + 1);
  let value = 0;

  /** Numbers cells by their distance from the source; true when the sink is reached. */
  const spread = (): boolean => {
    level.fill(-1);
    let size = 0;
    let reached = false;
    for (let i = 0; i < count; i++)
      if (source[i]) {
        level[i] = 0;
        queue[size++] = i;
      }
    for (let k = 0; k < size; k++) {
      const i = queue[k]!;
      if (sink[i]) {
        reached = true;
        continue;
      }
      for (let move = 0; move < 4; move++) {
        if (room[move]![i]! <= 0) continue;
        const j = i + steps[move]!;
        if (level[j] === -1) {
          level[j] = level[i]! + 1;
          queue[size++] = j;
        }
      }
    }
    return reached;
  };

  while (spread()) {
    next.fill(0);
    for (let start = 0; start < count; start++) {
      if (!source[start]) continue;
      let depth = 0;
      path[0] = start;
      for (;;) {
        const i = path[depth]!;
        if (sink[i]) {
          // Push what the narrowest edge lets through, then go on from that edge.
          let least = Number.POSITIVE_INFINITY;
          let narrow = 0;
          for (let k = 0; k < depth; k++) {
            const left = room[next[path[k]!]!]![path[k]!]!;
            if (left < least) {
              least = left;
              narrow = k;
            }
          }
          if (least === Number.POSITIVE_INFINITY) return { value: least, side: new Uint8Array(count) };
          for (let k = 0; k < depth; k++) {
            const move = next[path[k]!]!;
            room[move]![path[k]!]! -= least;
            room[(move + 2) & 3]![path[k + 1]!]! += least;
          }
          value += least;
          depth = narrow;
          continue;
        }
        let move = next[i]!;
        while (move < 4 && !(room[move]![i]! > 0 && level[i + steps[move]!] === level[i]! + 1)) move++;
        next[i] = move;
        if (move < 4) path[++depth] = i + steps[move]!;
        else if (depth === 0) break;
        else {
          // A dead end: never come back in this round.
          level[i] = -2;
          next[path[--depth]!]!++;
        }
      }
    }
  }
  return { value, side: Uint8Array.from(level, (l) => (l >= 0 ? 1 : 0)) };
}
