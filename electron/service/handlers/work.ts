import type { FeatureKind } from '../../../core/features/feature.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { jobKindOf } from '../../../core/plan/job-kind.ts';
import type { Gain } from '../../../core/plan/types.ts';
import { CALENDAR_SOURCES } from '../../../core/plan/windows.ts';
import { type Handlers, opened } from '../context.ts';
import type { OpenProperty } from '../open-property.ts';
import { momentOf, triedOf } from '../today.ts';
import { askWhatIf } from '../what-if.ts';
import type { WorkAnswer } from '../work-answers.ts';
import { keepGains, workOf } from '../work-plan.ts';

const GAIN_UNIT = 'points of all travel at the best neck on your ground';
/** Kinds whose effect on travel is computed; what the others gain is not known from travel. */
const MOVES_TRAVEL = new Set<FeatureKind>(['barricade', 'cut', 'screen', 'trail', 'gap']);

function answerOf(property: OpenProperty): WorkAnswer {
  const { calendar, budget, crewDays } = property.input.settings.plan;
  return { ...workOf(property), days: calendar, daySources: CALENDAR_SOURCES, budget, crewDays };
}

/** The neck plans are for: the best on the owner's ground, else the best of all. */
function goalOf({ artifacts }: OpenProperty): string {
  const necks = [...(artifacts.necks ?? [])].sort((a, b) => a.rank - b.rank);
  const goal = necks.find(({ owner }) => owner === 'inside') ?? necks[0];
  if (!goal)
    throw new Problem('No neck was found, so nothing can be gained at one.', {
      fix: 'Draw bedding and food so that travel has ends, then scout again.',
    });
  return goal.id;
}

export const workHandlers: Handlers<'work.plan' | 'work.gains'> = {
  'work.plan': async (context) => answerOf(opened(context)),

  'work.gains': async (context) => {
    const property = opened(context);
    const { features } = property.input.sources;
    const goal = goalOf(property);
    const moment = momentOf(property);
    const shareWith = async (without: string | null): Promise<number> => {
      const question = {
        ...triedOf(property),
        moment,
        spot: null,
        asked: { ends: null, stand: null, goals: null },
        features: features.filter(({ id }) => id !== without),
      };
      const found = await context.inquiring.within('work.gains', (inquirer) =>
        askWhatIf(inquirer, property, question),
      );
      return found.necks.find(({ id }) => id === goal)?.after ?? Number.NaN;
    };
    const jobs = features.filter(
      (feature) => feature.status === 'proposed' && MOVES_TRAVEL.has(feature.kind) && jobKindOf(feature),
    );
    const all = await shareWith(null);
    const byJob = new Map<string, Gain>();
    for (const { id } of jobs) {
      const value = (all - (await shareWith(id))) * 100;
      if (Number.isFinite(value)) byJob.set(id, { value, low: null, high: null });
    }
    keepGains(property, GAIN_UNIT, byJob);
    return answerOf(property);
  },
};
