import type { Units } from '../../../core/features/units.ts';
import type { Point } from '../../../core/grid/frame.ts';
import { reachOf } from '../../../core/stands/look.ts';
import type { ScreenPlant } from '../../../core/stands/screen-growth.ts';
import { type Hidden, looksAt, screenTrial } from '../../../core/stands/screen-trial.ts';
import type { Leaves, StandSpot } from '../../../core/stands/types.ts';
import { defineInquiry } from './inquiry.ts';

/** What screens hide year by year; of several the one that leaves the least of the looks when grown comes first. */
export const screen = defineInquiry({
  needs: ['elevation', 'cover', 'screening', 'vegetation', 'routes', 'areas', 'travelAreas'],
  run(
    inputs,
    asked: {
      candidates: { name: string; lines: Point[][] }[];
      plant: ScreenPlant;
      width: number;
      hidden: Hidden[];
      /** The stand behind it, whose shots it may close. */
      spot: StandSpot | null;
      leaves: Leaves;
      units: Units;
    },
    progress,
  ) {
    const { candidates, plant, width, hidden, spot, leaves, units } = asked;
    const seat = spot && reachOf(spot, inputs, leaves).grid;
    progress(0.1);
    const looked = looksAt(inputs, hidden, leaves);
    progress(0.8);
    const trials = candidates.map(({ name, lines }) => ({
      name,
      lines,
      trial: screenTrial(inputs.elevation, looked, { lines, plant, width }, seat, units),
    }));
    const left = ({ trial }: (typeof trials)[number]) =>
      trial.seasons.at(-1)!.seen.reduce((sum, { most }) => sum + (most ?? 0), 0);
    return { trials: trials.sort((a, b) => left(a) - left(b)) };
  },
});
