import type { Net } from './aggregation.ts';

/** A net, gathered into a smaller one. */
export interface NetLevel {
  net: Net;
  /** One over the sum of a node's conductances and its leak; 0 for a node without any. */
  inverse: Float64Array;
  /** Place on the smaller net, -1 none. */
  map: Int32Array;
}

/**
 * A smoothing, the correction from the smaller net, a smoothing: `out` = roughly the potentials that drive `right`,
 * and `flow` = the net's answer to them. The backward sweep leaves every row in balance but for what the rows before
 * it changed since, so that answer costs half a product.
 *
 * @param below right side of the smaller net
 * @param solveBelow answers it
 */
export function smoothNet(
  { net, inverse, map }: NetLevel,
  right: Float64Array,
  out: Float64Array,
  flow: Float64Array,
  below: Float64Array,
  solveBelow: () => Float64Array,
): void {
  const { count, start, middle, to, conductance } = net;
  // From zero, a forward sweep meets nothing ahead, and leaves only what lies ahead out of balance.
  for (let i = 0; i < count; i++) {
    let value = right[i]!;
    for (let k = start[i]!, end = middle[i]!; k < end; k++) value += conductance[k]! * out[to[k]!]!;
    out[i] = value * inverse[i]!;
  }
  below.fill(0);
  for (let i = 0; i < count; i++) {
    const place = map[i]!;
    if (place < 0) continue;
    let ahead = 0;
    for (let k = middle[i]!, end = start[i + 1]!; k < end; k++) ahead += conductance[k]! * out[to[k]!]!;
    below[place]! += ahead;
  }
  const coarse = solveBelow();
  for (let i = 0; i < count; i++) {
    const place = map[i]!;
    if (place >= 0) out[i]! += coarse[place]!;
  }
  for (let i = count - 1; i >= 0; i--) {
    let value = right[i]!;
    for (let k = start[i]!, end = start[i + 1]!; k < end; k++) value += conductance[k]! * out[to[k]!]!;
    const now = value * inverse[i]!;
    flow[i] = out[i]! - now;
    out[i] = now;
  }
  for (let i = count - 1; i >= 0; i--) {
    // A node without conductors answers nothing.
    let value = inverse[i]! > 0 ? right[i]! : 0;
    for (let k = start[i]!, end = middle[i]!; k < end; k++) value += conductance[k]! * flow[to[k]!]!;
    flow[i] = value;
  }
}
