import type { Feature } from '../../core/features/feature.ts';
import type { DraftAim, DraftSize, PassedIdea } from '../../core/plan/draft-types.ts';
import type { Crew } from '../../core/plan/types.ts';

/** Answers about a plan the program drafts. */

export type { DraftSize } from '../../core/plan/draft-types.ts';

export interface DraftRow {
  /** As it would be put into the plan, proposed; its id is the line's. */
  feature: Feature;
  name: string;
  aim: DraftAim;
  crew: Crew;
  /** Person hours; null where not known. */
  hours: number | null;
  money: number | null;
  /** Trees, plants and measures, in the person's units. */
  takes: string;
  /** The first says it in one line. */
  reasons: string[];
  cautions: string[];
  /** Names of lines without which it gains less than half. */
  needs: string[];
}

export interface DraftSizeRow {
  size: DraftSize;
  title: string;
  /** Ids of its lines, in the order of the work. */
  lines: string[];
  hours: number;
  budget: number | null;
  money: number;
  /** What the whole of it does, from a solve with all of it built. */
  effects: string[];
  /** What it leaves out, and why. */
  left: { id: string; name: string; why: string }[];
}

export interface DraftAnswer {
  /** In the order of the work. */
  lines: DraftRow[];
  sizes: DraftSizeRow[];
  /** Looked at and not proposed. */
  passed: PassedIdea[];
  /** Worth doing at the stands that are there, and no drawn work. */
  advice: PassedIdea[];
  /** How it was chosen, and what was not looked at. */
  notes: string[];
  unchecked: string[];
  cautions: string[];
  seconds: number;
}
