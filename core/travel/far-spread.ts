import type { GridNet } from './aggregation.ts';
import { createSolver } from './multigrid.ts';

/** Below this part of the most, the digits a solve leaves are too few. */
const FAR = 1e-9;
/** Of what drives a ring of far cells. */
const TOLERANCE = 1e-15;

/**
 * Makes good what a solve cannot tell far from where the walkers start: its error is a part of the most, and of dear
 * ways less arrives than that. The cells where little arrives are solved again by themselves, driven by what the
 * others send them, and so on outwards; each ring is on a scale of its own, so nothing underflows before 64-bit
 * numbers end (e^-700).
 *
 * @param net leaky
 * @param spread answer of a solve on it; mended in place
 * @param ends cells of which the nearest must be told well; nothing is done when it is already
 */
export function mendFar(net: GridNet, spread: Float64Array, ends: readonly number[]): void {
  // What no way joins gets nothing at all: there is nothing to mend.
  if (ends.every((cell) => spread[cell] === 0)) return;
  let most = 0;
  for (const value of spread) if (value > most) most = value;
  const told = (): boolean => ends.some((cell) => spread[cell]! >= FAR * most);
  for (let ring = 0; ring < 100 && most > 0 && !told(); ring++) {
    const far = Uint8Array.from(spread, (value) => (value < FAR * most ? 1 : 0));
    const { outer, driven } = ringOf(net, spread, far);
    const scale = driven.reduce((largest, value) => Math.max(largest, value), 0);
    if (scale === 0) return;
    const again = new Float64Array(spread.length);
    createSolver(outer).solve(
      driven.map((value) => value / scale),
      again,
      { tolerance: TOLERANCE },
    );
    most = 0;
    for (let i = 0; i < far.length; i++) {
      if (far[i] === 0) continue;
      spread[i] = Math.max(0, again[i]! * scale);
      if (spread[i]! > most) most = spread[i]!;
    }
  }
}

/** The net of the far cells alone: ways to the others leak, and what those send comes in. */
function ringOf(net: GridNet, spread: Float64Array, far: Uint8Array) {
  const { width, height } = net;
  const outer: GridNet = {
    width,
    height,
    east: new Float64Array(far.length),
    south: new Float64Array(far.length),
    ground: net.ground!.map((leak, i) => far[i]! * leak),
  };
  const driven = new Float64Array(far.length);
  const share = (i: number, j: number, conductance: number, inner: Float64Array): void => {
    if (!(conductance > 0)) return;
    if (far[i] === 1 && far[j] === 1) inner[i] = conductance;
    else if (far[i] === 1 || far[j] === 1) {
      const [out, near] = far[i] === 1 ? [i, j] : [j, i];
      outer.ground![out]! += conductance;
      driven[out]! += conductance * spread[near]!;
    }
  };
  for (let i = 0; i < far.length; i++) {
    if (i + 1 < far.length) share(i, i + 1, net.east[i]!, outer.east);
    if (i + width < far.length) share(i, i + width, net.south[i]!, outer.south);
  }
  return { outer, driven };
}
