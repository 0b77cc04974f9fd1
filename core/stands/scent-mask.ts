import { windowRound } from '../air/near-ground.ts';
import { cellAt, cellCount, type Frame, type Grid } from '../grid/frame.ts';
import { type Progress, silent } from '../grid/progress.ts';
import type { Route } from '../travel/types.ts';
import { HUNTED, type HuntedPart, reasonAgainst, runsIn } from './case-verdict.ts';
import { walkEvenly } from './clean-share.ts';
import type { HuntSettings } from './hunt-settings.ts';
import { airHangs, beddingIn, NOSE_THRESHOLD, REACH, thinning } from './scent.ts';
import { airOfCase, type SeasonAir, type StudyInputs, seedOfCase, WINDS } from './scent-study.ts';
import type { Subject } from './subjects.ts';

/** Noses a verdict is asked for, in this order. */
export const NOSES = ['usual', 'keen', 'dull'] as const;
export type Nose = (typeof NOSES)[number];
const THRESHOLDS: Record<Nose, number> = {
  usual: NOSE_THRESHOLD.usual,
  keen: NOSE_THRESHOLD.low,
  dull: NOSE_THRESHOLD.high,
};

interface MaskCase {
  part: HuntedPart;
  /** Index into WINDS. */
  wind: number;
  /** Of the part's hours; null without a record. */
  share: number | null;
  hangs: boolean;
  bedding: Record<Nose, string[]>;
}

/**
 * Where the scent of one stand counts in every case and for every nose, so that other travel can be judged without
 * letting it go again: scent does not hang on where deer walk.
 */
export interface ScentMask {
  /** Window the scent is followed in. */
  frame: Frame;
  /** Every part of the day with every wind. */
  cases: MaskCase[];
  words: number;
  /** `words` to a cell, row 0 north; bit `3 k + n` is case k for nose n. */
  bits: Uint32Array;
}

/** The scent of one stand under every wind at every part of the day, as `standCases` lets it go. */
export function scentMask(
  subject: Subject,
  inputs: StudyInputs,
  air: SeasonAir,
  progress: Progress = silent,
  particles?: number,
): ScentMask {
  const frame = windowRound(inputs.elevation.frame, subject.at, REACH);
  const count = HUNTED.length * WINDS.length * NOSES.length;
  const words = Math.ceil(count / 32);
  const bits = new Uint32Array(words * cellCount(frame));
  const cases: MaskCase[] = [];
  HUNTED.forEach((part, p) => {
    for (let wind = 0; wind < WINDS.length; wind++) {
      const { near, kind, share } = airOfCase(air, inputs, frame, part, wind);
      const { dilution } = thinning(subject, near, kind, seedOfCase(part, wind), particles);
      for (const [n, nose] of NOSES.entries())
        mark(bits, words, NOSES.length * cases.length + n, dilution, THRESHOLDS[nose]);
      const bedding = (nose: Nose) => beddingIn(dilution, inputs.ground, THRESHOLDS[nose]);
      cases.push({
        part,
        wind,
        share: share.share,
        hangs: airHangs(near, subject.at),
        bedding: { usual: bedding('usual'), keen: bedding('keen'), dull: bedding('dull') },
      });
    }
    progress((p + 1) / HUNTED.length);
  });
  return { frame, cases, words, bits };
}

function mark(bits: Uint32Array, words: number, bit: number, { cells }: Grid, threshold: number): void {
  const word = bit >> 5;
  const flag = 1 << (bit & 31);
  for (let i = 0; i < cells.length; i++) if (cells[i]! >= threshold) bits[i * words + word]! |= flag;
}

/** Of each case the share of the travel that comes clean, 0 where it is not to be hunted. */
export type CleanSits = Record<Nose, Float64Array>;

/**
 * What some travel makes of every case at a stand: the verdict of `standCases`, case by case the same for the same
 * routes, told as the clean share while the case is hunted and 0 while it is not.
 *
 * @param reach 1 where a deer is in reach of the stand and in view
 * @param lost parts of the day for which no clean way leads in or out
 */
export function cleanSits(
  { frame, cases, words, bits }: ScentMask,
  routes: readonly Route[],
  reach: Grid<Uint8Array>,
  hunt: Pick<HuntSettings, 'spoilt' | 'alarm'>,
  lost: readonly HuntedPart[] = [],
): CleanSits {
  const spacing = Math.min(reach.frame.cellSize, frame.cellSize) / 2;
  const slots = NOSES.length * cases.length;
  const sums = {
    clean: new Float64Array(slots),
    spoiled: new Float64Array(slots),
    alarmed: new Float64Array(slots),
    all: new Float64Array(cases.length),
    never: new Float64Array(cases.length),
  };
  const [before, ever] = [new Uint32Array(words), new Uint32Array(words)];
  for (const { path, when, share } of routes) {
    before.fill(0);
    ever.fill(0);
    let reached = false;
    let last = -1;
    walkEvenly(path, spacing, (x, y) => {
      const cell = cellAt(frame, x, y);
      // Several steps fall in one cell, of which the first is enough: nothing is reached but on a step.
      if (cell >= 0 && cell !== last)
        for (let w = 0; w < words; w++) {
          ever[w]! |= bits[cell * words + w]!;
          if (!reached) before[w]! |= bits[cell * words + w]!;
        }
      last = cell;
      // The step on which it comes in reach counts as spoiled where there is scent on it.
      const i = cellAt(reach.frame, x, y);
      if (i >= 0 && reach.cells[i] === 1) reached = true;
    });
    cases.forEach(({ part }, k) => {
      if (!runsIn(when, part)) return;
      sums.all[k]! += share;
      if (!reached) sums.never[k]! += share;
      for (let slot = NOSES.length * k; slot < NOSES.length * (k + 1); slot++) {
        const has = (set: Uint32Array): boolean => ((set[slot >> 5]! >>> (slot & 31)) & 1) === 1;
        if (has(ever)) sums.alarmed[slot]! += share;
        if (reached) (has(before) ? sums.spoiled : sums.clean)[slot]! += share;
      }
    });
  }
  const sits = (n: number, nose: Nose): Float64Array =>
    Float64Array.from(cases, ({ part, hangs, bedding }, k) => {
      const all = sums.all[k]!;
      if (all === 0 || lost.includes(part)) return 0;
      const slot = NOSES.length * k + n;
      const fate = {
        clean: sums.clean[slot]! / all,
        spoiled: sums.spoiled[slot]! / all,
        never: sums.never[k]! / all,
        alarmed: sums.alarmed[slot]! / all,
      };
      return reasonAgainst(fate, bedding[nose], hangs, hunt) === null ? fate.clean : 0;
    });
  return { usual: sits(0, 'usual'), keen: sits(1, 'keen'), dull: sits(2, 'dull') };
}
