import { CRUISING, type Season, seasonMiddle } from '../air/season.ts';
import type { Units } from '../features/units.ts';
import { type Progress, part, silent } from '../grid/progress.ts';
import type { Neck } from '../travel/types.ts';
import { type BeddingProposal, proposeBedding } from './bedding-proposal.ts';
import { bedSpots, deerWinds, type SharedWind, sharedWinds } from './deer-wind.ts';
import { type ScentCase, type StudyInputs, scentStudy, seasonAir } from './scent-study.ts';
import { type ScentSummary, summarize } from './scent-summary.ts';
import { standSubjects } from './subjects.ts';

/** Air and scent of a season at every stand, as small tables. */
export interface SeasonStudy {
  season: Season;
  cases: ScentCase[];
  summaries: ScentSummary[];
  /** Winds that serve deer and hunter alike. */
  shared: SharedWind[];
  /** Where new bedding would be checked from a trail; empty without a wind record. */
  bedding: BeddingProposal[];
  notes: string[];
}

export interface StudyOptions {
  season?: Season;
  /** Net loss of heat of open ground on a clear calm night, W/m2. */
  cooling: number;
  units: Units;
}

/**
 * Every stand (or the best necks) under 16 winds and the calm at five parts of the day in a season. On demand: it
 * takes about ten seconds for the winds of a square mile and three for each stand.
 */
export function studySeason(
  inputs: StudyInputs & { necks: readonly Neck[] },
  { season = CRUISING, cooling, units }: StudyOptions,
  progress: Progress = silent,
): SeasonStudy {
  const { frame } = inputs.elevation;
  const { areas, travelAreas, routes, features } = inputs.ground;
  const air = seasonAir(
    inputs,
    season,
    seasonMiddle(season, frame.longitude),
    cooling,
    part(progress, 0, 0.1),
  );
  const subjects = standSubjects(frame, features, inputs.necks);
  const winds = deerWinds(frame, routes, bedSpots(areas, travelAreas));
  const cases = subjects.map((subject, k) =>
    scentStudy(
      subject,
      inputs,
      air,
      units,
      part(progress, 0.1 + (0.85 * k) / subjects.length, 0.1 + (0.85 * (k + 1)) / subjects.length),
    ),
  );
  const beds = new Set(travelAreas.filter(({ kind }) => kind === 'bedding').map(({ id }) => id));
  const bedding = air.parts ? proposeBedding(inputs.cover, areas, beds, routes, air.parts, features) : [];
  progress(1);
  return {
    season,
    cases: cases.flat(),
    summaries: cases.map(summarize),
    shared: cases.flatMap((each) => sharedWinds(each, winds, routes)),
    bedding,
    notes: [
      ...air.notes,
      'Dose is under two metres of height; a nose threshold of our own with a band decides what counts. Scent spreads over open ground as in the published curves; timber and eddies spread it faster than that.',
      `One clear day of the season stands for all its days; each wind blows at its mean speed.`,
    ],
  };
}
