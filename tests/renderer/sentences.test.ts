import { describe, expect, it } from 'vitest';
import { duration } from '../../renderer/words/duration.ts';
import {
  crossingSentence,
  firmWords,
  list,
  neckSentence,
  neckTitle,
  northWords,
  poolSentence,
  saddleSentence,
  sentence,
  spreadWords,
} from '../../renderer/words/sentences.ts';

describe('findings in words', () => {
  it('titles a neck by its landmarks and width, in the units asked for', () => {
    expect(neckTitle({ landmarks: ['saddle'], width: 42 }, 'us')).toBe('Saddle, 46 yd across');
    expect(neckTitle({ landmarks: ['inside corner', 'draw'], width: 28.4 }, 'metric')).toBe(
      'Inside corner and draw, 28 m across',
    );
    expect(neckTitle({ landmarks: [], width: 42 }, 'us')).toBe('A neck 46 yd across');
  });

  it('says how much passes, whose ground it is, and when a neck does not hold', () => {
    expect(neckSentence({ share: 0.41, owner: 'inside', firm: true })).toBe(
      '41% of all travel squeezes through here, on your ground.',
    );
    expect(neckSentence({ share: 0.002, owner: 'neighbour', firm: false })).toBe(
      "under 1% of all travel squeezes through here, on the neighbour's ground. It does not hold in every run.",
    );
    expect(neckSentence({ share: 0.2, owner: 'unknown', firm: true })).toContain(
      'not known without a boundary',
    );
  });

  it('never gives a spread to what ran once', () => {
    expect(spreadWords({ low: 0.28, high: 0.41, runs: 8 })).toBe(
      'From 28% to 41% over 8 runs of the assumptions.',
    );
    expect(spreadWords({ low: 0.4, high: 0.4, runs: 1 })).toMatch(/not known/);
    expect(firmWords(false)).toMatch(/Not firm/);
  });

  it('says what is crossed, and whose ground only where that is the question', () => {
    const crossing = { share: 0.31, corridors: ['a'], owner: 'inside' } as const;
    expect(crossingSentence({ ...crossing, corridors: ['a'], kind: 'creek' })).toBe(
      '31% of all travel crosses the creek here with one corridor, on your ground.',
    );
    expect(crossingSentence({ ...crossing, corridors: ['a', 'b'], kind: 'ownership line' })).toBe(
      '31% of all travel crosses the property line here with 2 corridors.',
    );
  });

  it('does not count corridors where travel crosses without one', () => {
    expect(
      crossingSentence({ kind: 'ownership line', share: 0.06, corridors: [], owner: 'on the line' }),
    ).toBe('6% of all travel crosses the property line here, spread out rather than along a corridor.');
  });

  it('leaves out a width that could not be measured', () => {
    const saddle = { rise: 21, falls: [18, 24] as [number, number] };
    expect(saddleSentence({ ...saddle, width: null }, 'us')).toBe(
      'A saddle 69 ft below the lower top, falling 59 ft and 79 ft to its two sides.',
    );
    expect(saddleSentence({ ...saddle, width: 44 }, 'metric')).toContain('44 m wide near the floor');
    expect(poolSentence({ depth: 2.4, area: 9000 }, 'us')).toBe(
      'Still cold air up to 7.9 ft deep over 2.2 acres, held behind a sill.',
    );
  });

  it('puts true north on the side it lies: grid north east of true north has true north to its left', () => {
    expect(northWords(0.52)).toBe('True north lies 0.5° left of grid north.');
    expect(northWords(-1.24)).toBe('True north lies 1.2° right of grid north.');
    expect(northWords(0.01)).toBe('Grid north is true north here.');
  });

  it('makes a sentence of a clause, and leaves a file name its case', () => {
    expect(sentence('download or copy it again')).toBe('Download or copy it again.');
    expect(sentence('notes.tif ends before its header')).toBe('notes.tif ends before its header.');
    expect(sentence('Is it in feet?')).toBe('Is it in feet?');
  });

  it('lists and times as a person would', () => {
    expect(list([])).toBe('');
    expect(list(['a'])).toBe('a');
    expect(list(['a', 'b', 'c'])).toBe('a, b and c');
    expect([0.4, 4.2, 22, 85, 200].map(duration)).toEqual([
      'a moment',
      'about 4 s',
      'about 20 s',
      'about 85 s',
      'about 3 min',
    ]);
  });
});
