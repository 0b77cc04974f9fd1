import { describe, expect, it } from 'vitest';
import type { Terrain } from '../../../../core/analysis/artifacts.ts';
import { DEFAULT_SETTINGS } from '../../../../core/analysis/settings.ts';
import { surroundingsSteps } from '../../../../core/analysis/steps/surroundings.ts';
import { silent } from '../../../../core/grid/progress.ts';
import type { Sought } from '../../../../core/travel/study.ts';
import { marginDoubled } from '../../../../core/travel/trials.ts';
import { box, feature, frameOf, gridOf } from '../../travel/scene.ts';

const [step] = surroundingsSteps;

/** NLCD codes: open water and deciduous forest. */
const WATER = 11;
const FOREST = 41;
/** A pond with a causeway, and at its north end a strip that is narrow only as far as the property's own map goes. */
const pond = (x: number, y: number): boolean => Math.abs(x - 300) < 30 && y < 365 && Math.abs(y - 200) > 15;

const own = frameOf(120, 80, 5);
const wideFrame = { ...frameOf(160, 120, 5), west: -100, north: 500 };
const around: Terrain = {
  elevation: gridOf(wideFrame, () => 200),
  imagery: null,
  landcover: {
    frame: wideFrame,
    cells: Uint8Array.from(gridOf(wideFrame, (x, y) => (pond(x, y) ? WATER : FOREST)).cells),
  },
  vegetation: null,
  holes: null,
};
const across = (from: number, to: number) => ({
  line: [
    [300, from],
    [300, to],
  ],
});
const sought = {
  pinches: [across(185, 215), across(365, 400)],
  junctions: [],
  crossings: [],
} as unknown as Sought;
const inputs = {
  features: [feature('bedding', box(60, 240, 120, 320)), feature('food', box(480, 240, 540, 320))],
  windSeason: null,
  resistance: gridOf(own, () => 1),
  sought,
};

describe('looking twice as far around', () => {
  const { marginShares } = step.run(
    { ...inputs, surroundings: around },
    step.params(DEFAULT_SETTINGS),
    silent,
  );

  it('leaves a neck in the middle as it is, and takes from one that the edge of the map makes', () => {
    const [causeway, strip] = [0, 1].map((k) => marginShares!.wide[k]! / marginShares!.usual[k]!);
    expect(marginShares!.usual[1]).toBeGreaterThan(0.1);
    expect(strip).toBeLessThan(0.9);
    expect(causeway).toBeGreaterThan(0.95);
    // Travel that found more room in the north left both, but the strip first.
    expect(causeway! / strip!).toBeGreaterThan(1.1);
  });

  it('changes the shares of the usual cells in the same parts', () => {
    const usual = Float64Array.of(0.4, 0.3);
    const { shares, margin, ranksOnly } = marginDoubled(
      { usual: Float64Array.of(0.5, 0.001), wide: Float64Array.of(0.25, 0.9) },
      usual,
    );
    // Where next to nothing passes on the wider cells, they tell nothing.
    expect([...shares]).toEqual([0.2, 0.3]);
    expect([margin, ranksOnly]).toEqual([true, true]);
  });

  it('is not tried where the files reach no farther', () => {
    expect(
      step.run({ ...inputs, surroundings: null }, step.params(DEFAULT_SETTINGS), silent).marginShares,
    ).toBeNull();
  });
});
