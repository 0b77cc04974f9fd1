import type { CalendarSettings, WorkPlan } from '../../core/plan/types.ts';

/** Answers of the Work stage. */

export interface WorkAnswer extends WorkPlan {
  /** The calendar's settings and where their defaults come from. */
  days: CalendarSettings;
  daySources: Record<string, string>;
  budget: number | null;
  crewDays: number | null;
}
