import type { Feature as Row } from 'geojson';
import { briefDefaults } from '../../../core/analysis/brief-defaults.ts';
import { overDefaults, type Settings } from '../../../core/analysis/settings.ts';
import type { Feature } from '../../../core/features/feature.ts';
import { type PlanSettings, planWork } from '../../../core/plan/plan-work.ts';
import type { Gains, WalkSpot } from '../../../core/plan/types.ts';
import { CHOICES } from '../../../core/plan/walk-answers.ts';
import { CALENDAR_SOURCES, DEFAULT_CALENDAR } from '../../../core/plan/windows.ts';

/** The work of the fake landscape, by the same sums as the service's. */
export function workAnswers(
  settings: () => Record<string, unknown>,
  rows: () => readonly unknown[],
  summary: () => unknown,
) {
  const answer = (gain: number | null) => {
    const plan: PlanSettings = {
      rates: {},
      calendar: DEFAULT_CALENDAR,
      budget: null,
      crewDays: null,
      ...(settings().plan as Partial<PlanSettings> | undefined),
    };
    const features = (rows() as Row[]).map(
      ({ id, geometry, properties }) => ({ ...properties, id, geometry }) as unknown as Feature,
    );
    const byJob = new Map(features.map(({ id }) => [id, { value: gain ?? 0, low: 1.5, high: 6 }]));
    const gains: Gains | null =
      gain === null
        ? null
        : {
            unit: 'clean hours a season',
            byJob,
            pairs: [],
            without: new Map(),
            today: 3,
            built: 7,
            notes: ['An hour is one of lawful light.'],
          };
    return {
      ...planWork(features, plan, 'us', gains, '2026-11-25'),
      days: plan.calendar,
      daySources: CALENDAR_SOURCES,
      budget: plan.budget,
      crewDays: plan.crewDays,
    };
  };
  let gain: number | null = null;
  let found: WalkSpot['found'] = null;
  const spot = (): WalkSpot => ({
    id: 'walk-crossing-1',
    number: 1,
    at: [440_200, 4_350_200],
    title: 'Crossing of the creek',
    hinges: 0.4,
    why: 'All travel here stands or falls with whether a deer can cross.',
    look: ['Depth below each bank: tape it'],
    photograph: ['Both banks with a pole for scale'],
    choices: CHOICES.crossing('creek'),
    found,
  });
  return {
    'brief.defaults': () => briefDefaults(overDefaults(settings()) as unknown as Settings, 'us'),
    'brief.take': summary,
    'walk.list': () => ({
      spots: [spot()],
      start: null,
      startName: 'the first stop',
      length: 640,
      elsewhere: [{ title: 'Neck 3', hinges: 0.1 }],
    }),
    'walk.answer': ({ choice, text }: { choice: string | null; text: string }) => {
      found = { answer: choice, text, date: '2026-11-25', note: 'found-1' };
      return summary();
    },
    'work.plan': () => answer(gain),
    'work.gains': () => {
      gain = 4;
      return answer(gain);
    },
  };
}
