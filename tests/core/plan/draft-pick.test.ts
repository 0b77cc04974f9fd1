import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../core/grid/random.ts';
import { orderLines, pickSizes } from '../../../core/plan/draft-pick.ts';
import type { DraftAim, DraftLine } from '../../../core/plan/draft-types.ts';
import type { Job } from '../../../core/plan/types.ts';

/** Sums worked by hand beside each case. */

const line = (
  id: string,
  aim: DraftAim,
  gain: number,
  hours: number | null,
  more: Partial<DraftLine & { crew: Job['crew'] }> = {},
): DraftLine => ({
  feature: { id } as DraftLine['feature'],
  aim,
  gain,
  reasons: [],
  cautions: [],
  needs: [],
  inWinter: true,
  job: { name: id, hours, crew: more.crew ?? 'saw' } as Job,
  ...more,
});
const ids = (lines: readonly DraftLine[]) => lines.map(({ feature }) => feature.id);

const barricade = line('barricade', 'travel', 0.06, 24);
const trail = line('trail', 'travel', 0.03, 4, { needs: ['barricade'] });
const stand = line('stand', 'stand', 0.02, 5);
const bed = line('bed', 'bedding', 0.7, 12);

describe('a draft', () => {
  it('takes each aim in turn, the most for an hour first, with what it needs before it', () => {
    // Alone the barricade gains 0.06 / 24 h; with the trail that needs it 0.09 / 28 h, which is more.
    expect(ids(orderLines([bed, stand, trail, barricade]))).toEqual(['barricade', 'trail', 'stand', 'bed']);
    const better = line('better', 'travel', 0.02, 4);
    // 0.02 / 4 h is more than 0.09 / 28 h, so it has the first turn of travel.
    expect(ids(orderLines([bed, stand, trail, barricade, better]))).toEqual([
      'better',
      'stand',
      'bed',
      'barricade',
      'trail',
    ]);
  });

  it('fills a weekend and a winter by their hours, and says what is left out and why', () => {
    const [weekend, winter, all] = pickSizes(orderLines([barricade, trail, stand, bed]), {
      weekend: 28,
      winter: 40,
    });
    expect(weekend).toMatchObject({ lines: ['barricade', 'trail'], hours: 28 });
    expect(weekend!.left).toEqual([
      { id: 'stand', why: 'It takes 5 h; 0 h were left when its turn came.' },
      { id: 'bed', why: 'It takes 12 h; 0 h were left when its turn came.' },
    ]);
    // 28 + 5 = 33; 40 - 33 = 7 < 12.
    expect(winter).toMatchObject({ lines: ['barricade', 'trail', 'stand'], hours: 33 });
    expect(winter!.left).toEqual([{ id: 'bed', why: 'It takes 12 h; 7 h were left when its turn came.' }]);
    expect(all).toMatchObject({ hours: 45, budget: null, left: [] });
  });

  it('leaves a line out with what it needs, and a winter keeps what the weekend took instead', () => {
    const [weekend, winter] = pickSizes(orderLines([barricade, trail, stand, bed]), {
      weekend: 20,
      winter: 40,
    });
    expect(weekend).toMatchObject({ lines: ['stand', 'bed'], hours: 17 });
    expect(weekend!.left.map(({ why }) => why)).toEqual([
      'It takes 24 h; 20 h were left when its turn came.',
      'With what it needs it takes 28 h; 20 h were left when its turn came.',
    ]);
    // 17 + 24 = 41 > 40, though without the weekend's lines the barricade would fit.
    expect(winter).toMatchObject({ lines: ['stand', 'bed'], hours: 17 });
  });

  it('keeps machines out of a weekend, spring work out of both, and what has no hours for the whole', () => {
    const lane = line('lane', 'travel', 0.1, 4, { crew: 'machine' });
    const rows = line('rows', 'stand', 0.1, 4, { inWinter: false });
    const odd = line('odd', 'bedding', 0.1, null);
    const rests = line('rests', 'travel', 0.01, 1, { needs: ['lane'] });
    const [weekend, winter, all] = pickSizes(orderLines([lane, rows, odd, rests]), {
      weekend: 28,
      winter: 84,
    });
    expect(weekend!.lines).toEqual([]);
    expect(Object.fromEntries(weekend!.left.map(({ id, why }) => [id, why]))).toMatchObject({
      lane: 'It takes a machine.',
      rests: 'It needs “lane”, which takes a machine.',
      rows: 'It is not work for the days when timber may be cut.',
      odd: 'It has hours that are not known.',
    });
    expect(winter!.lines).toEqual(['lane', 'rests']);
    expect(all!.lines).toHaveLength(4);
    expect(all!.hours).toBe(9);
  });

  it('has each size in the next, within its hours and with all it needs, whatever there is to choose from', () => {
    const random = seededRandom(7);
    for (let trial = 0; trial < 300; trial++) {
      const aims = ['travel', 'stand', 'bedding'] as const;
      const lines = Array.from({ length: 12 }, (_, k) =>
        line(`l${k}`, aims[Math.floor(random() * 3)]!, random(), Math.ceil(random() * 40) / 2, {
          // Now and then in a ring.
          needs: random() < 0.3 ? [`l${Math.floor(random() * 12)}`] : [],
          inWinter: random() < 0.8,
          crew: random() < 0.2 ? 'machine' : 'saw',
        }),
      );
      const order = orderLines(lines);
      expect(new Set(ids(order)).size).toBe(12);
      const [weekend, winter, all] = pickSizes(order, { weekend: 28, winter: 84 });
      expect(winter!.lines).toEqual(expect.arrayContaining(weekend!.lines));
      expect(all!.lines).toEqual(expect.arrayContaining(winter!.lines));
      for (const size of [weekend!, winter!]) {
        const taken = lines.filter(({ feature }) => size.lines.includes(feature.id));
        expect(size.hours).toBeCloseTo(
          taken.reduce((sum, { job }) => sum + job.hours!, 0),
          9,
        );
        expect(size.hours).toBeLessThanOrEqual(size.budget!);
        for (const { needs } of taken) expect(size.lines).toEqual(expect.arrayContaining(needs));
        expect([...size.lines, ...size.left.map(({ id }) => id)].sort()).toEqual(ids(lines).sort());
      }
    }
  });
});
