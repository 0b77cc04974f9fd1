import type { Feature } from '../../core/features/feature.ts';
import { Problem } from '../../core/grid/problem.ts';
import { withBuilt } from '../../core/plan/job-trial.ts';
import type { Gain, Gains } from '../../core/plan/types.ts';
import type { Inquirer } from './inquiring.ts';
import type { OpenProperty } from './open-property.ts';
import { momentOf, triedOf } from './today.ts';
import { askWhatIf } from './what-if.ts';

const UNIT = 'points of all travel at the best neck on your ground';

/** The neck plans are for: the best on the owner's ground, else the best of all. */
function goalOf({ artifacts }: OpenProperty): string {
  const necks = [...(artifacts.necks ?? [])].sort((a, b) => a.rank - b.rank);
  const goal = necks.find(({ owner }) => owner === 'inside') ?? necks[0];
  if (!goal)
    throw new Problem('No stand is on the map and no neck was found, so there is nothing to gain at.', {
      fix: 'Draw a stand, or bedding and food so that travel has ends, and scout again.',
    });
  return goal.id;
}

/** An inquirer whose progress is a part of that of a longer request. */
const partly = (inquirer: Inquirer, from: number, to: number): Inquirer => ({
  ...inquirer,
  ask: (property, name, question, span = [0, 1]) =>
    inquirer.ask(
      property,
      name,
      question,
      span && [from + span[0] * (to - from), from + span[1] * (to - from)],
    ),
});

/**
 * What each job gains where no stand is on the map: points of all travel at the best neck, with the job alone against
 * today, under one set of assumptions.
 *
 * @param jobs whose effect on travel is computed
 */
export async function neckGains(
  inquirer: Inquirer,
  property: OpenProperty,
  jobs: readonly Feature[],
): Promise<Gains> {
  const goal = goalOf(property);
  const { features } = property.input.sources;
  const pointsWith = async (built: string[], done: number): Promise<number> => {
    const question = {
      ...triedOf(property),
      moment: momentOf(property),
      spot: null,
      asked: { ends: null, stand: null, goals: null },
      features: withBuilt(features, built),
    };
    const steps = jobs.length + 2;
    const found = await askWhatIf(partly(inquirer, done / steps, (done + 1) / steps), property, question);
    return 100 * (found.necks.find(({ id }) => id === goal)?.after ?? Number.NaN);
  };
  const today = await pointsWith([], 0);
  const byJob = new Map<string, Gain>();
  for (const [k, { id }] of jobs.entries()) {
    const value = (await pointsWith([id], k + 1)) - today;
    if (Number.isFinite(value)) byJob.set(id, { value, low: null, high: null });
  }
  const built = await pointsWith(
    jobs.map(({ id }) => id),
    jobs.length + 1,
  );
  return {
    unit: UNIT,
    byJob,
    pairs: [],
    without: new Map(),
    today,
    built,
    notes: [
      'No stand is on the map, so no verdict was computed and there are no clean hours to gain: draw stands, and gains are counted in those.',
      'Computed under one set of assumptions only, so it has no band.',
    ],
  };
}
