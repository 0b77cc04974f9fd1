import type { Feature as Row } from 'geojson';
import type { Feature } from '../../../core/features/feature.ts';
import { type PlanSettings, planWork } from '../../../core/plan/plan-work.ts';
import { CALENDAR_SOURCES, DEFAULT_CALENDAR } from '../../../core/plan/windows.ts';

/** The work of the fake landscape, by the same sums as the service's. */
export function workAnswers(settings: () => Record<string, unknown>, rows: () => readonly unknown[]) {
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
    const byJob = new Map(features.map(({ id }) => [id, { value: gain ?? 0, low: null, high: null }]));
    const gains = gain === null ? null : { unit: 'points of all travel', byJob };
    return {
      ...planWork(features, plan, 'us', gains, '2026-11-25'),
      days: plan.calendar,
      daySources: CALENDAR_SOURCES,
      budget: plan.budget,
      crewDays: plan.crewDays,
    };
  };
  let gain: number | null = null;
  return {
    'work.plan': () => answer(gain),
    'work.gains': () => {
      gain = 4;
      return answer(gain);
    },
  };
}
