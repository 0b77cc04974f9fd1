import { CALENDAR_SOURCES } from '../../../core/plan/windows.ts';
import { type Handlers, opened } from '../context.ts';
import { computeGains } from '../gains.ts';
import type { OpenProperty } from '../open-property.ts';
import type { WorkAnswer } from '../work-answers.ts';
import { workOf } from '../work-plan.ts';

function answerOf(property: OpenProperty): WorkAnswer {
  const { calendar, budget, crewDays } = property.input.settings.plan;
  return { ...workOf(property), days: calendar, daySources: CALENDAR_SOURCES, budget, crewDays };
}

export const workHandlers: Handlers<'work.plan' | 'work.gains'> = {
  'work.plan': async (context) => answerOf(opened(context)),

  'work.gains': async (context, { worlds }) => {
    const property = opened(context);
    await computeGains(context, property, worlds);
    return answerOf(property);
  },
};
