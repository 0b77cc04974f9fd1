import { seasonMiddle } from '../air/season.ts';
import { type Progress, part, silent } from '../grid/progress.ts';
import { seasonOf, type Window } from './calendar.ts';
import { HUNTED } from './case-verdict.ts';
import { makeWinds, type SeasonAir, type StudyInputs, seasonAir } from './scent-study.ts';

/**
 * The air of the weeks that are hunted, with every local wind its lawful hours need, made once for all stands. Plain
 * data, so that it can be kept and handed to a worker.
 *
 * @param cooling loss of open ground on a clear calm night, W/m2
 */
export function huntAir(
  inputs: Omit<StudyInputs, 'ground' | 'poolDepth'>,
  season: Window,
  cooling: number,
  progress: Progress = silent,
): SeasonAir {
  const { longitude, convergence } = inputs.elevation.frame;
  const days = seasonOf(season);
  const air = seasonAir(inputs, days, seasonMiddle(days, longitude), cooling, part(progress, 0, 0.2));
  makeWinds(air, HUNTED, convergence, part(progress, 0.2, 1));
  return air;
}
