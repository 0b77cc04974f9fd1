import { carryFrom } from '../../air/carry.ts';
import { deerSeason } from '../../stands/deer-season.ts';
import { standReaches } from '../../stands/reaches.ts';
import { standRisk } from '../../stands/risk.ts';
import { approachDrags, flipAt, moreReasons } from '../../stands/risk-more.ts';
import { standSubjects } from '../../stands/subjects.ts';
import { defineStep } from '../step.ts';

const risks = defineStep({
  name: 'stands.risks',
  version: 4,
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
    'accumulation',
    'windSeason',
  ],
  makes: ['carries', 'standRisks'],
  proposed: true,
  params: ({ units, air }) => ({ units, stage: air.creekStage }),
  run(inputs, { units, stage }, progress) {
    const travelled = { ...inputs, water: { stage, accumulation: inputs.accumulation } };
    const subjects = standSubjects(inputs.coldAir.frame, inputs.features, inputs.necks);
    const carries = subjects.map(({ at }) => carryFrom(at, inputs));
    const standRisks = subjects.map((subject, k) => {
      progress(k / subjects.length);
      const risk = standRisk(subject, carries[k]!, inputs, travelled, units);
      const drags = approachDrags(subject.at, inputs.features, inputs, inputs);
      const flip = flipAt(subject.at, inputs, inputs.windSeason?.cruising ?? null);
      const level = drags.length > 0 && risk.level === 'low' ? 'caution' : risk.level;
      return { ...risk, level, reasons: [...risk.reasons, ...moreReasons(drags, flip, units)] };
    });
    return { carries, standRisks };
  },
});

/** What everything about a stand's sight rests on. */
export const SIGHT_NEEDS = ['elevation', 'cover', 'screening', 'vegetation', 'features'] as const;

/** What a look from a stand rests on. */
export const LOOK_NEEDS = [...SIGHT_NEEDS, 'corridors', 'necks', 'junctions', 'routes'] as const;

const reaches = defineStep({
  name: 'stands.reaches',
  version: 1,
  title: 'Looking round each stand',
  needs: LOOK_NEEDS,
  makes: ['standReaches'],
  proposed: true,
  params: ({ stands, brief, units }) => ({ stands, usual: brief.weapon, units }),
  run: (inputs, { stands, usual, units }) => ({ standReaches: standReaches(inputs, stands, usual, units) }),
});

const deer = defineStep({
  name: 'stands.deerWind',
  version: 1,
  title: 'Holding the trails to the wind',
  needs: ['cover', 'areas', 'travelAreas', 'routes', 'features', 'windSeason'],
  makes: ['deerSeason'],
  params: () => null,
  run({ windSeason, ...inputs }) {
    const { winds, bedding } = deerSeason(inputs, windSeason?.cruising ?? null);
    return { deerSeason: { winds, bedding } };
  },
});

export const standSteps = [risks, reaches, deer] as const;
