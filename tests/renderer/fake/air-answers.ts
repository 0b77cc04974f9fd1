import { type PartTable, wilson } from '../../../core/air/season.ts';
import type { RoseAnswer } from '../../../electron/service/contract.ts';

const hours = [10, 0, 0, 0, 0, 0, 0, 0, 20, 0, 0, 0, 40, 0, 0, 0];
const part: PartTable = {
  part: 'morning',
  total: 100,
  calms: 25,
  variable: 5,
  sectors: hours.map((count) => ({ hours: count, share: wilson(count, 100, 20), speed: count ? 4 : null })),
  calmShare: wilson(25, 100, 20),
  unsteadiness: 0.5,
  stability: { D: 100 },
};

/** Answers about the air of the fake landscape. */
export const airAnswers = {
  'air.rose': (): RoseAnswer => ({
    parts: [part],
    notes: ['100 hours were kept.'],
    sentence: 'Most often from W (40% of 100 hours); calm in 25%.',
  }),
};
