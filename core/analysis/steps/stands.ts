import { carryFrom } from '../../air/carry.ts';
import { standRisk } from '../../stands/risk.ts';
import { standSubjects } from '../../stands/subjects.ts';
import { defineStep } from '../step.ts';

const risks = defineStep({
  name: 'stands.risks',
  version: 2,
  title: 'Following the scent of each stand',
  needs: [
    'features',
    'coldAir',
    'poolDepth',
    'airSpeed',
    'airBearing',
    'pools',
    'areas',
    'travelAreas',
    'corridors',
    'necks',
    'forms',
    'channels',
  ],
  makes: ['carries', 'standRisks'],
  proposed: true,
  params: ({ units }) => ({ units }),
  run(inputs, { units }, progress) {
    const subjects = standSubjects(inputs.coldAir.frame, inputs.features, inputs.necks);
    const carries = subjects.map(({ at }) => carryFrom(at, inputs));
    const standRisks = subjects.map((subject, k) => {
      progress(k / subjects.length);
      return standRisk(subject, carries[k]!, inputs, inputs, units);
    });
    return { carries, standRisks };
  },
});

export const standSteps = [risks] as const;
