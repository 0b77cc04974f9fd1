import { describe, expect, it } from 'vitest';
import { COVER } from '../../../core/cover/types.ts';
import { box, feature, frameOf, line, point, runScene } from './scene.ts';

const beds = (from: [number, number], to: [number, number]) => [
  feature('bedding', box(from[0] - 40, from[1] - 40, from[0] + 40, from[1] + 40)),
  feature('food', box(to[0] - 40, to[1] - 40, to[0] + 40, to[1] + 40)),
];

describe('necks', () => {
  it('finds the strip of timber that joins two blocks', () => {
    // Two blocks 400 m apart in a field, joined by a strip 40 m wide at y = 500.
    const frame = frameOf(240, 200, 5);
    const scene = runScene(
      frame,
      (x, y) => (x < 400 || x > 800 || Math.abs(y - 500) < 20 ? COVER.deciduous : COVER.open),
      [],
      { runs: 0 },
    );
    expect(scene.table.every(({ kind }) => kind === 'block')).toBe(true);
    const neck = scene.necks.find(({ at }) => at[0] > 400 && at[0] < 800);
    expect(neck).toBeDefined();
    expect(Math.abs(neck!.at[1] - 500)).toBeLessThan(20);
    expect(neck!.width).toBeLessThan(90);
    expect(Math.max(...neck!.pairs.map(({ share }) => share))).toBeGreaterThan(0.6);
    expect(neck!.reasons.join(' ')).toContain('open ground');
    expect(neck!.owner).toBe('unknown');
    expect(scene.necks[0]!.rank).toBe(1);
  }, 30_000);

  it('finds the one gate in a tall fence, at its own width', () => {
    const frame = frameOf(160, 120, 5);
    const fence = feature('fence', line([400, -10], [400, 610]), { height: 2.4 });
    const gate = feature('gap', point(402, 420), { type: 'gate', width: 4 });
    const boundary = feature('boundary', box(300, 100, 700, 500));
    const scene = runScene(
      frame,
      () => COVER.deciduous,
      [...beds([120, 300], [680, 300]), fence, gate, boundary],
      { runs: 4 },
    );
    const [neck] = scene.necks;
    expect(Math.hypot(neck!.at[0] - 400, neck!.at[1] - 420)).toBeLessThan(10);
    expect(neck!.width).toBe(4);
    expect(neck!.landmarks).toContain('gate');
    expect(neck!.owner).toBe('inside');
    expect(neck!.share).toBeGreaterThan(0.6);
    const [crossing] = scene.crossings.filter(({ kind }) => kind === 'fence');
    expect(crossing!.feature).toBe(fence.id);
    expect(crossing!.share).toBeGreaterThan(0.6);
    expect(crossing!.reasons.join(' ')).toContain('gate');
    expect(crossing!.corridors).toHaveLength(1);
  }, 30_000);

  it('does not count a proposed barricade or a pipe too narrow for a deer', () => {
    const frame = frameOf(160, 120, 5);
    const scene = (extra: ReturnType<typeof feature>[]) =>
      runScene(
        frame,
        () => COVER.deciduous,
        [
          ...beds([120, 300], [680, 300]),
          feature('railroad', line([400, -10], [400, 610])),
          feature('fence', line([410, -10], [410, 610]), { height: 2.4 }),
          ...extra,
        ],
        { runs: 0 },
      );
    const plain = scene([]).passage.cells;
    const piped = scene([
      feature('gap', point(400, 300), { type: 'culvert', width: 0.9 }),
      feature('barricade', line([300, 200], [300, 400]), {}, 'proposed'),
    ]).passage.cells;
    expect(piped).toEqual(plain);
  });

  it('finds the low saddle in a steep ridge and marks nothing firm that half the runs lose', () => {
    const frame = frameOf(160, 120, 5);
    const scene = runScene(frame, () => COVER.deciduous, beds([120, 300], [680, 300]), {
      slope: (x, y) => (Math.abs(x - 400) < 60 ? (Math.abs(y - 380) < 25 ? 6 : 38) : 4),
      runs: 6,
    });
    const [neck] = scene.necks;
    expect(Math.abs(neck!.at[1] - 380)).toBeLessThan(25);
    expect(Math.abs(neck!.at[0] - 400)).toBeLessThan(75);
    for (const { firm, share, spread } of scene.necks) {
      expect(spread.low).toBeLessThanOrEqual(share);
      expect(spread.high).toBeGreaterThanOrEqual(share);
      if (firm) expect(spread.low).toBeGreaterThanOrEqual(share / 2);
    }
  }, 30_000);

  it('is the same on every run', () => {
    const frame = frameOf(100, 80, 5);
    const go = () =>
      runScene(frame, (x) => (x > 250 ? COVER.brush : COVER.open), beds([80, 200], [420, 200]), { runs: 2 });
    expect(go().necks).toEqual(go().necks);
  });

  it('says what it does not know', () => {
    const frame = frameOf(100, 80, 5);
    const { doubts, table } = runScene(frame, () => 0, [], { runs: 0 });
    expect(table.map(({ kind }) => kind)).toEqual(['edge', 'edge', 'edge', 'edge']);
    expect(doubts.join(' ')).toContain('edges of the map');
    expect(doubts.join(' ')).toContain('Nobody drew bedding or food');
  });
});
