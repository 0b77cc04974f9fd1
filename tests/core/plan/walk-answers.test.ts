import { describe, expect, test } from 'vitest';
import { existing, type Feature } from '../../../core/features/feature.ts';
import { areaOf } from '../../../core/features/measure.ts';
import type { WalkSpot } from '../../../core/plan/types.ts';
import { answered, answersBrought, CHOICES } from '../../../core/plan/walk-answers.ts';
import { AT_STOP, foundAtStops } from '../../../core/plan/walk-match.ts';
import { point } from './scene.ts';

const spot = (id: string, title: string, number: number, choices = CHOICES.crossing('fence')): WalkSpot => ({
  id,
  number,
  at: [440_000 + 100 * number, 4_350_000],
  title,
  hinges: 0.3,
  why: 'All travel here stands or falls with whether a deer can cross.',
  look: ['gaps'],
  photograph: ['both ways'],
  choices,
  found: null,
});
const fence = spot('walk-crossing-a', 'Crossing of the line fence', 1);
const neck = spot('walk-neck-b', 'Neck 2', 2, CHOICES.cover);
const foundAt = (features: readonly Feature[], at: WalkSpot) =>
  foundAtStops(features, [fence, neck]).get(at.id) ?? null;

describe('an answer to a stop', () => {
  test('that a fence is easy to pass is a gap on it, which travel counts', () => {
    const { puts, removes } = answered(fence, fence.choices[0]!, 'wire down', '2026-11-25');
    expect(removes).toEqual([]);
    expect(puts.map(({ kind, status }) => [kind, status])).toEqual([
      ['note', 'existing'],
      ['gap', 'existing'],
    ]);
    expect(existing(puts).map(({ attributes, geometry }) => [attributes, geometry])).toEqual([
      [{ type: 'lowered' }, { type: 'Point', coordinates: fence.at }],
    ]);
    expect(foundAt(puts, fence)).toEqual({
      answer: 'open',
      text: 'easy to pass here: wire down',
      date: '2026-11-25',
      note: puts[0]!.id,
    });
    expect(foundAt(puts, neck)).toBeNull();
  });

  test('of cover is cover as seen, about as large as the circle it stands for', () => {
    const { puts } = answered(neck, neck.choices[0]!, '', '2026-11-25');
    const seen = puts.find(({ kind }) => kind === 'truth')!;
    expect(seen.attributes).toEqual({ cover: 'brush' });
    // A regular polygon of n sides in a circle: n/2 r² sin(2π/n).
    expect(areaOf(seen.geometry)).toBeCloseTo(8 * 20 ** 2 * Math.sin(Math.PI / 8), 3);
  });

  test('that sets nothing takes away what the answer before had set', () => {
    const first = answered(fence, fence.choices[0]!, '', '2026-11-25').puts;
    const again = { ...fence, found: foundAt(first, fence) };
    const { puts, removes } = answered(again, fence.choices[1]!, '', '2026-11-26');
    expect(removes).toEqual([first[1]!.id]);
    expect(puts.map(({ id }) => id)).toEqual([first[0]!.id]);
  });
});

describe('points brought back', () => {
  const back = (name: string, attributes: Feature['attributes'], x = 130): Feature => ({
    id: name,
    kind: 'fence',
    status: 'existing',
    name,
    geometry: point(x, 4),
    attributes,
    source: 'walked.gpx',
  });
  const brought = (...features: Feature[]) => answersBrought([fence, neck], features, '2026-12-01');

  test('answer by the word their description begins with', () => {
    const { puts, rest } = brought(
      back('1. Crossing of the line fence', {
        desc: 'Open, wire down for 20 steps',
        time: '2026-11-28T14:00:00Z',
      }),
      back('neck 2', { cmt: 'thick from knee to chest' }, 190),
    );
    expect(rest).toEqual([]);
    expect(puts.map(({ kind }) => kind)).toEqual(['note', 'gap', 'note', 'truth']);
    expect(foundAt(puts, fence)).toEqual({
      answer: 'open',
      text: 'easy to pass here: wire down for 20 steps',
      date: '2026-11-28',
      note: puts[0]!.id,
    });
    expect(foundAt(puts, neck)).toEqual({
      answer: 'brush',
      text: 'thick from knee to chest',
      date: '2026-12-01',
      note: puts[2]!.id,
    });
    expect(puts[0]!.geometry).toEqual(point(130, 4));
  });

  test('say what was seen in their own words where no choice fits, and nothing as they went out', () => {
    const { puts } = brought(back('Neck 2', { desc: 'opened up since the ice storm' }, 200));
    expect(puts.map(({ kind, attributes }) => [kind, attributes.text])).toEqual([
      ['note', 'opened up since the ice storm'],
    ]);
    const untouched = brought(
      back('2. Neck 2', { desc: `${neck.why} Look for: gaps. Photograph: both ways.` }, 200),
    );
    expect(untouched).toEqual({ puts: [], removes: [], rest: [] });
  });

  test('of another name are none, nor are those far from every stop of their kind', () => {
    const other = back('Old gate', { desc: 'open' });
    expect(brought(other).rest).toEqual([other]);
    const near = back('2. Neck 2', { desc: 'open' }, 200 + AT_STOP - 1);
    expect(brought(near).puts[0]!.attributes.stop).toBe('walk-neck-b');
    const far = back('2. Neck 2', { desc: 'open' }, 200 + AT_STOP + 1);
    expect(brought(far).rest).toEqual([far]);
  });
});

describe('after another scout', () => {
  // What was neck 2 is neck 1 now, and another place is neck 2.
  const now = [
    { ...neck, id: 'walk-neck-a', title: 'Neck 1' },
    { ...spot('walk-neck-b', 'Neck 2', 7, CHOICES.cover), number: 2 },
  ];

  test('an answer stays with its place, whatever rank and id that has', () => {
    const { puts } = answered(neck, neck.choices[0]!, '', '2026-11-25');
    const found = foundAtStops(puts, now);
    expect([...found.keys()]).toEqual(['walk-neck-a']);
    // The other place, answered under the id the first had, leaves the first alone.
    const other = answered(
      { ...now[1]!, found: found.get('walk-neck-b') ?? null },
      null,
      'a road',
      '2026-12-02',
    );
    const ids = new Set([...puts, ...other.puts].map(({ id }) => id));
    expect(ids.size).toBe(3);
    expect(other.removes.every((id) => !ids.has(id))).toBe(true);
    expect([...foundAtStops([...puts, ...other.puts], now).keys()].sort()).toEqual([
      'walk-neck-a',
      'walk-neck-b',
    ]);
  });

  test('a point that went out as neck 2 answers what lies there now', () => {
    const point: Feature = {
      id: 'p',
      kind: 'fence',
      status: 'existing',
      name: '2. Neck 2',
      geometry: { type: 'Point', coordinates: [neck.at[0] + 10, neck.at[1]] },
      attributes: { desc: 'open' },
      source: 'walked.gpx',
    };
    const { puts } = answersBrought(now, [point], '2026-12-01');
    expect(puts[0]!.attributes.stop).toBe('walk-neck-a');
  });

  test('a crossing is known by the line it crosses, and of two notes as near the later counts', () => {
    const creek = { ...fence, id: 'walk-crossing-z', title: 'Crossing of the creek' };
    const { puts } = answered(fence, fence.choices[1]!, '', '2026-11-25');
    expect(foundAtStops(puts, [creek]).size).toBe(0);
    const renamed = { ...fence, id: 'walk-crossing-y' };
    const later = answered(renamed, fence.choices[0]!, '', '2026-12-24').puts;
    expect(foundAtStops([...puts, ...later], [renamed]).get(renamed.id)!.date).toBe('2026-12-24');
  });
});
