import type { Feature } from '../../../core/features/feature.ts';
import { formatLength, formatShare } from '../../../core/features/units.ts';
import type { Point } from '../../../core/grid/frame.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { ASSUMPTION_SETS, assumptionSet } from '../../../core/travel/assumption-sets.ts';
import { barricadeSentences } from '../../../core/travel/barricade-words.ts';
import { blindTrial } from '../../../core/travel/blind-trial.ts';
import type { ResistanceParts } from '../../../core/travel/resistance.ts';
import { type Handlers, opened } from '../context.ts';
import type { RequestParams } from '../contract.ts';
import { checkFeature } from '../features.ts';
import type { OpenProperty } from '../open-property.ts';
import { keepOverlay } from '../overlays.ts';
import { momentOf, triedOf } from '../today.ts';
import { areaNames, askedOf, goalSentences, goalsOf, sayAsked } from '../travel-asked.ts';
import { askWhatIf } from '../what-if.ts';

const PART_LABELS: Record<Exclude<keyof ResistanceParts, 'factor' | 'up' | 'down' | 'along'>, string> = {
  ground: 'What grows or stands here',
  exposure: 'Being seen in the open',
  footing: 'Tangle and soft ground',
  steep: 'Face too steep to stand on',
  disturbance: 'Buildings near by',
  interior: 'Deep inside cover, away from its edge',
};

/** What the slope adds by heading, where it adds anything worth saying. */
const slopeSentence = ({ up, down, along }: ResistanceParts, yard: string): string[] =>
  up < 0.1
    ? []
    : [
        `The slope adds ${up.toFixed(1)} ${yard}s of easy ground to a ${yard} straight up it, ${down.toFixed(1)} straight down and ${along.toFixed(1)} along it.`,
      ];

/** Fewer of a pair's own travel than this is none. */
const NOTHING = 0.005;

const orNull = (value: number): number | null => (Number.isNaN(value) ? null : value);
const plural = (count: number, one: string): string => `${count} ${one}${count === 1 ? '' : 's'}`;

/** Everything drawn, with features that are only tried out laid over it. */
function withTrial({ input }: OpenProperty, trial: RequestParams<'travel.whatIf'>['trial']): Feature[] {
  const tried = trial.map(checkFeature);
  const ids = new Set(tried.map(({ id }) => id));
  return [...input.sources.features.filter(({ id }) => !ids.has(id)), ...tried];
}

/** What is tried against today's travel, and from where. */
function trying(property: OpenProperty, trial: RequestParams<'travel.whatIf'>['trial']) {
  return { ...triedOf(property), moment: momentOf(property), features: withTrial(property, trial) };
}

export const travelHandlers: Handlers<
  | 'travel.why'
  | 'travel.whatIf'
  | 'travel.closures'
  | 'travel.years'
  | 'travel.sets'
  | 'travel.uncertainty'
  | 'travel.sightings'
  | 'travel.blindTrial'
> = {
  'travel.why': async (context, { x, y }) => {
    const property = opened(context);
    const { units } = property.input.settings;
    const found = await context.inquiring.ask(property, 'travel.why', {
      at: [x, y],
      moment: momentOf(property),
    });
    const factor = found.parts?.factor ?? 1;
    const parts = (Object.keys(PART_LABELS) as (keyof typeof PART_LABELS)[])
      .map((part) => ({ part, label: PART_LABELS[part], value: found.parts?.[part] ?? 0 }))
      .filter(({ value }) => value >= 0.005)
      .sort((a, b) => b.value - a.value);
    const yard = units === 'us' ? 'yard' : 'metre';
    const sentences = found.parts
      ? [
          `A ${yard} here takes as much as ${found.total.toFixed(1)} ${yard}s of easy ground.`,
          ...parts.map(({ label, value }) => `${label}: ${value.toFixed(1)} more.`),
          ...(factor < 1
            ? [`Along an edge of cover, so only ${formatShare(factor)} of that counts, steep faces apart.`]
            : []),
          ...slopeSentence(found.parts, yard),
        ]
      : ['The ground here is not known, so no travel is computed.'];
    for (const { name, kind, cost, opening } of found.lines)
      sentences.push(
        cost === null
          ? `Nothing crosses the ${name ?? kind} here.`
          : `Crossing the ${name ?? kind} here takes as much as ${formatLength(cost, units)} of easy ground${opening ? `, by the ${opening === 'lowered' ? 'lowered span' : opening}` : ''}.`,
      );
    sentences.push(
      found.routes.length > 0
        ? `${plural(found.routes.length, 'drawn route')} of travel, standing for ${formatShare(found.routeShare)} of all, pass within ${formatLength(found.reach, units)}.`
        : `None of the drawn routes passes within ${formatLength(found.reach, units)}.`,
    );
    const { corridors, necks, routes } = found;
    return { total: orNull(found.total), parts, factor, corridors, necks, routes, sentences };
  },

  'travel.whatIf': async (context, { trial, spot, ...params }) => {
    const property = opened(context);
    const { units } = property.input.settings;
    const started = performance.now();
    const asked = askedOf(property, params, trial as { id: string }[]);
    const question = {
      ...trying(property, trial),
      asked,
      spot: spot && { at: [spot.x, spot.y] as Point, reach: spot.reach },
    };
    const found = await context.inquiring.within('travel.whatIf', (inquirer) =>
      askWhatIf(inquirer, property, question),
    );
    if (property.tried) property.tried.found = { last: found.last, between: found.between };
    const name = areaNames(property, found.ends);
    const ranks = new Map((property.artifacts.necks ?? []).map(({ id, rank }) => [id, rank]));
    const necks = found.necks.map(({ pairs, ...neck }) => ({
      ...neck,
      rank: ranks.get(neck.id) ?? 0,
      pairs: pairs
        .filter(({ before, after }) => Math.max(before, after) >= NOTHING)
        .map(({ from, to, ...shares }) => ({ from: name(from), to: name(to), ...shares })),
    }));
    const moved = necks
      .filter(({ before, after }) => Math.abs(after - before) >= NOTHING)
      .sort((a, b) => Math.abs(b.after - b.before) - Math.abs(a.after - a.before));
    return {
      ends: found.ends.map(({ id, name, kind }) => ({ id, name, kind })),
      ...sayAsked(property, asked, found.asked),
      overlays: {
        after: keepOverlay(property, 'passage-after', 'Passage as proposed', found.after),
        change: keepOverlay(property, 'passage-change', 'Change of passage', found.change),
      },
      necks,
      barricades: found.barricades.map((check) => ({
        ...check,
        sentences: barricadeSentences(check, units),
      })),
      spot: found.spot && {
        ...found.spot,
        sentence: `Within ${formatLength(spot!.reach, units)} of the spot passes ${formatShare(found.spot.after)} of all travel, ${formatShare(found.spot.before)} today.`,
      },
      sentences:
        moved.length > 0
          ? moved
              .slice(0, 5)
              .map(
                ({ rank, before, after }) =>
                  `Neck ${rank} goes from ${formatShare(before)} to ${formatShare(after)} of all travel.`,
              )
          : ['No neck’s share changes.'],
      doubts: found.doubts,
      seconds: (performance.now() - started) / 1000,
    };
  },

  'travel.closures': async (context, { neck, trial, goals }) => {
    const property = opened(context);
    const { units } = property.input.settings;
    const known = property.artifacts.necks ?? [];
    if (neck !== null && !known.some(({ id }) => id === neck)) {
      throw new Problem('That neck is not on the map any more.', { fix: 'Choose another neck.' });
    }
    const { goal, closures } = await context.inquiring.ask(property, 'travel.closures', {
      ...trying(property, trial),
      neck,
      goals: goalsOf(property, goals),
    });
    const rank = known.find(({ id }) => id === goal)?.rank;
    const where = rank === undefined ? 'what passes the spot' : `neck ${rank}`;
    return {
      goal,
      closures: closures.map((closure) => ({
        ...closure,
        sentence: `${formatLength(closure.length, units)} of barricade bring ${where} from ${formatShare(closure.neckBefore)} to ${formatShare(closure.neckAfter)} of all travel; as much work as ${formatLength(closure.work, units)} on plain timbered ground.`,
        effectSentences: closure.effect ? goalSentences(closure.effect, units) : [],
      })),
      sentence:
        closures.length > 0
          ? `The next closures for ${where}, the most gain for the work first.`
          : 'No closure on your ground would gather much more.',
    };
  },

  'travel.years': async (context, { trial, years, ...params }) => {
    const property = opened(context);
    triedOf(property);
    const started = performance.now();
    const asked = askedOf(property, params, trial as { id: string }[]);
    const moment = momentOf(property);
    const { found } = await context.inquiring.ask(property, 'travel.years', {
      features: withTrial(property, trial),
      moment,
      years,
      asked,
    });
    const necks = (property.artifacts.necks ?? []).map(({ id, rank }, k) => ({
      id,
      rank,
      asIs: found.map((year) => year.necks[k]!.asIs),
      planned: found.map((year) => year.necks[k]!.planned),
    }));
    const swing = ({ planned }: (typeof necks)[number]) => Math.max(...planned) - Math.min(...planned);
    const moved = necks.filter((neck) => swing(neck) >= NOTHING).sort((a, b) => swing(b) - swing(a));
    return {
      years,
      date: moment.date,
      necks,
      asked: found.map((year) => sayAsked(property, asked, year.asked)),
      gone: found.map(({ gone }) => gone),
      sentences: [
        ...moved
          .slice(0, 5)
          .map(
            ({ rank, planned }) =>
              `Neck ${rank} with everything proposed: ${years.map((year, k) => `${formatShare(planned[k]!)} in year ${year}`).join(', ')}.`,
          ),
        ...(moved.length === 0 ? ['No neck’s share changes with the years.'] : []),
      ],
      doubts: [
        'How fast barricades rot and cuts thicken is our assumption unless each says how long it lasts; nothing else is taken to grow.',
      ],
      seconds: (performance.now() - started) / 1000,
    };
  },

  'travel.sets': async (context) => {
    const { set, fitted } = opened(context).input.settings.travel;
    const own = assumptionSet('fitted', fitted);
    return Object.entries({ ...ASSUMPTION_SETS, ...(own ? { fitted: own } : {}) }).map(
      ([key, { label, holds }]) => ({ key, label, holds, chosen: key === set }),
    );
  },

  'travel.uncertainty': async (context, { runs }) => {
    const property = opened(context);
    const { maxNecks, seed } = property.input.settings.travel;
    const started = performance.now();
    const { necks } = await context.inquiring.ask(property, 'travel.uncertainty', {
      moment: momentOf(property),
      maxNecks,
      runs,
      seed,
    });
    const firm = necks.filter((neck) => neck.firm).length;
    return {
      necks: necks.map(({ id, rank, share, spread, firm, reasons }) => ({
        id,
        rank,
        share,
        spread,
        firm,
        reasons,
      })),
      sentence: `Of ${plural(necks.length, 'neck')} ${firm} ${firm === 1 ? 'is' : 'are'} firm over ${runs} runs of the uncertain weights and with the model changed.`,
      seconds: (performance.now() - started) / 1000,
    };
  },

  'travel.sightings': async (context) => {
    const score = await context.inquiring.ask(opened(context), 'travel.sightings', null);
    return {
      ...score,
      areaUnderCurve: orNull(score.areaUnderCurve),
      inTopTenth: orNull(score.inTopTenth),
      byLuck: orNull(score.byLuck),
    };
  },

  'travel.blindTrial': async (context, { marks, reach }) => {
    const { artifacts, input } = opened(context);
    const { necks, resistance } = artifacts;
    if (!necks || !resistance) {
      throw new Problem('The necks have not been found yet.', { fix: 'Wait for the scout to finish.' });
    }
    const trial = blindTrial(marks, necks, resistance, reach);
    const within = formatLength(reach, input.settings.units);
    return {
      ...trial,
      sentence: `${trial.found} of ${plural(marks.length, 'mark')} ${trial.found === 1 ? 'lies' : 'lie'} within ${within} of a neck; so many or more by luck: ${formatShare(trial.byLuck)}.`,
    };
  },
};
