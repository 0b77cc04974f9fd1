import { beforeAll, describe, expect, it } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import { cellCentre, type Grid } from '../../../core/grid/frame.ts';
import { seededRandom } from '../../../core/grid/random.ts';
import { travelAssumptions, type Weights, weightsOf } from '../../../core/travel/assumptions.ts';
import { fitWeights, type WeightFit } from '../../../core/travel/fit-weights.ts';
import { passageUnder } from '../../../core/travel/passage-under.ts';
import type { Sighting } from '../../../core/travel/sightings.ts';
import { scoreSightings } from '../../../core/travel/sightings.ts';
import { box, feature, frameOf, runScene } from './scene.ts';

/** Woods in the west and east, a field between with a belt of timber along its north: the short way is open. */
const frame = frameOf(54, 46, 20);
const cover = (x: number, y: number): number => {
  const belt = y > 700 && y < 800;
  const spur = x > 480 && x < 540 && y > 300;
  return x < 300 || x > 780 || belt || spur ? COVER.deciduous : COVER.open;
};
const beds = [
  feature('bedding', box(60, 100, 160, 200)),
  feature('bedding', box(920, 120, 1020, 220)),
  feature('bedding', box(60, 560, 160, 660)),
  feature('food', box(860, 640, 980, 740)),
];

/** The open is thought to put deer off hardly at all … */
const usual = travelAssumptions({ exposure: 4 });
/** … and does. */
const truth: Weights = { ...weightsOf(usual), exposure: 16 };
let inputs: Parameters<typeof fitWeights>[0];
let under: ReturnType<typeof passageUnder>;
let passage: Grid;

/** Seeded places that fall as a passage does. */
function drawnFrom({ cells }: Grid, count: number, seed: number): Sighting[] {
  const random = seededRandom(seed);
  const sums = new Float64Array(cells.length);
  let all = 0;
  cells.forEach((share, i) => {
    all += Number.isNaN(share) ? 0 : share;
    sums[i] = all;
  });
  return Array.from({ length: count }, () => {
    const at = random() * all;
    return {
      at: cellCentre(
        frame,
        sums.findIndex((sum) => sum > at),
      ),
      count: 1,
    };
  });
}

const tryFit = (sightings: Sighting[], kept: string[] = []): WeightFit =>
  fitWeights(inputs, sightings, { seed: 1, kept: new Set(kept) }, undefined, under);

beforeAll(() => {
  const scene = runScene(frame, cover, beds, { runs: 0 });
  inputs = {
    ...scene.inputs,
    ...scene,
    assumptions: usual,
    pairs: scene.corridors.map(({ from, to, share }) => ({ from, to, share })),
  };
  under = passageUnder(inputs, 1);
  passage = under(truth);
});

describe('weights fitted to sightings', () => {
  it('move the way of the truth, and sightings not drawn on are foretold better', () => {
    const found = tryFit(drawnFrom(passage, 150, 3));
    expect(found.outcome).toBe('offered');
    const exposure = found.changes.find(({ key }) => key === 'exposure')!;
    expect(exposure.from).toBe(4);
    expect(exposure.to).toBeGreaterThan(9);
    expect(found.heldOut!.gain).toBeGreaterThan(1.64 * found.heldOut!.error);
    expect(found.fitted!.areaUnderCurve).toBeGreaterThan(found.usual!.areaUnderCurve);
    // On sightings that the fit never saw.
    const fresh = drawnFrom(passage, 400, 99);
    const to = Object.fromEntries(found.changes.map(({ key, to }) => [key, to]));
    const after = scoreSightings(under({ ...weightsOf(usual), ...to }), fresh).areaUnderCurve;
    expect(after).toBeGreaterThan(scoreSightings(under(weightsOf(usual)), fresh).areaUnderCurve);
  }, 30_000);

  it('are the same for the same seed, and leave alone what the user set', () => {
    const seen = drawnFrom(passage, 150, 3);
    const kept = tryFit(seen, ['exposure']);
    expect(kept).toEqual(tryFit(seen, ['exposure']));
    expect(kept.changes.map(({ key }) => key)).not.toContain('exposure');
  }, 30_000);

  it('are refused for sightings that fall anywhere', () => {
    const anywhere = { ...passage, cells: passage.cells.map(() => 1) };
    const outcomes = [1, 2].map((seed) => tryFit(drawnFrom(anywhere, 60, seed)).outcome);
    for (const outcome of outcomes) expect(['by luck', 'no better']).toContain(outcome);
    expect(outcomes).toContain('by luck');
  }, 30_000);

  it('are refused for deer that do what is assumed', () => {
    expect(tryFit(drawnFrom(under(weightsOf(usual)), 100, 5)).outcome).toBe('no better');
  }, 30_000);

  it('are not looked for in few sightings, or many in one place', () => {
    const few = tryFit(drawnFrom(passage, 12, 3));
    expect(few).toMatchObject({ outcome: 'too few', seen: 12, usual: null, changes: [] });
    const one = drawnFrom(passage, 1, 3)[0]!;
    const crowd = tryFit(Array.from({ length: 80 }, () => one));
    expect(crowd).toMatchObject({ outcome: 'too few', seen: 80, blocks: 1 });
  });
});
