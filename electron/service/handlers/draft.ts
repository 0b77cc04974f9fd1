import { randomUUID } from 'node:crypto';
import { CRUISING } from '../../../core/air/season.ts';
import { decimal, formatShare } from '../../../core/features/units.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { type Draft, draftOf } from '../../../core/plan/draft.ts';
import { draftRulings } from '../../../core/plan/draft-rulings.ts';
import { draftStands } from '../../../core/plan/draft-stands.ts';
import type {
  DraftEffect,
  DraftFound,
  DraftLine,
  DraftPick,
  PassedIdea,
} from '../../../core/plan/draft-types.ts';
import { rateOf, rateTable } from '../../../core/plan/rates.ts';
import { standSpots } from '../../../core/stands/spot.ts';
import { boundaryRings } from '../../../core/travel/owner.ts';
import type { QuestionOf } from '../../workers/inquiries/table.ts';
import { betweenWords } from '../air-words.ts';
import { type Handlers, opened } from '../context.ts';
import type { DraftRow, DraftSizeRow } from '../draft-answers.ts';
import type { Inquirer } from '../inquiring.ts';
import type { OpenProperty } from '../open-property.ts';
import { digest } from '../source-keys.ts';
import { momentOf, triedOf } from '../today.ts';
import { rulingsFound, sitesFound } from './stands-search.ts';

/** New stands that are sought: our choice. */
const STANDS = 3;
/** Share of the work after the ideas of travel, the search for stands and the rulings. */
const [AFTER_TRAVEL, AFTER_SEARCH, AFTER_STANDS] = [0.2, 0.7, 0.95];
const NONE = { ideas: [], passed: [], advice: [] };
/** A change of a neck's share that is told. */
const TOLD = 0.001;

export const draftHandlers: Handlers<'plan.draft'> = {
  'plan.draft': async (context, asked) => {
    const property = opened(context);
    const started = performance.now();
    const { sources, settings } = property.input;
    const { units, plan } = settings;
    if (boundaryRings(sources.features).length === 0)
      throw new Problem('No boundary is drawn, so whose ground the work would lie on is not known.', {
        fix: 'Draw the property’s boundary or bring it in, then draft again.',
      });
    triedOf(property);
    return context.inquiring.within('plan.draft', async (inquirer) => {
      const { drawn, travel, stands } = await ideasOf(inquirer, property, asked.stands);
      const draft = draftOf([...travel.ideas, ...stands.ideas], sources.features, plan, units);
      const byId = new Map(draft.lines.map((line) => [line.feature.id, line]));
      const { effects } = await inquirer.ask(
        property,
        'plan.draftEffects',
        {
          ...drawn,
          sets: draft.sizes.map(({ lines }) => lines.map((id) => byId.get(id)!.feature)),
        },
        [AFTER_STANDS, 1],
      );
      return {
        lines: draft.lines.map((line) => rowOf(line, byId, effects.at(-1)!)),
        sizes: draft.sizes.map((size, k) => sizeRow(size, effects[k]!, byId, draft)),
        passed: [...travel.passed, ...stands.passed],
        advice: stands.advice,
        notes: notesOf(draft),
        unchecked: [...stands.unsought, ...uncheckedOf(property, asked.stands)],
        cautions: draft.cautions,
        seconds: (performance.now() - started) / 1000,
      };
    });
  },
};

/** Everything that could be proposed, with what it was sought on. */
interface Ideas {
  drawn: Pick<QuestionOf<'plan.draftEffects'>, 'moment' | 'features' | 'rates' | 'units' | 'prefix'>;
  travel: DraftFound;
  stands: StandIdeas;
}
interface StandIdeas extends DraftFound {
  /** What is worth doing and is no drawn work. */
  advice: PassedIdea[];
  /** What was not sought, and why. */
  unsought: string[];
}
const known = new WeakMap<OpenProperty['store'], { key: string; ideas: Ideas }>();

/** The ideas of the last draft, while what they rest on holds: other days are shared out in seconds. */
async function ideasOf(inquirer: Inquirer, property: OpenProperty, seek: boolean): Promise<Ideas> {
  const { sources, settings } = property.input;
  const { units, plan, travel: how, stands: seats, hunt, air, weights, brief } = settings;
  const rates = Object.fromEntries(Object.entries(plan.rates).filter(([key]) => !key.startsWith('draft.')));
  const rests = [sources.features, rates, units, how, seats, hunt, air, weights, brief.weapon];
  const key = digest(JSON.stringify([rests, seek, [...property.keys]]));
  const last = known.get(property.store);
  if (last?.key === key) return last.ideas;
  const drawn = {
    moment: momentOf(property),
    features: sources.features,
    rates: plan.rates,
    units,
    prefix: `draft-${randomUUID().slice(0, 8)}`,
  };
  const { trails, bedding } = await inquirer.ask(property, 'air.trails', { season: CRUISING }, [0, 0.02]);
  const names = Object.fromEntries(bedding.map((bed) => [bed.route, betweenWords(bed, trails)]));
  const travel = await inquirer.ask(property, 'plan.draftIdeas', { ...drawn, beds: bedding, names }, [
    0.02,
    seek ? AFTER_TRAVEL : AFTER_STANDS,
  ]);
  const stands = seek
    ? await standIdeas(inquirer, property, drawn.prefix)
    : { ...NONE, unsought: ['No stand was sought or judged, as asked.'] };
  const ideas = { drawn, travel, stands };
  known.set(property.store, { key, ideas });
  return ideas;
}

/** What could be done for stands: new sites, and what the rulings on those that are there come to. */
async function standIdeas(inquirer: Inquirer, property: OpenProperty, prefix: string): Promise<StandIdeas> {
  const { frame, sources, settings } = property.input;
  const { features } = sources;
  const weapon = settings.brief.weapon ?? 'bow';
  const rings = boundaryRings(features);
  const rules = { rate: rateOf(rateTable(settings.plan.rates)), units: settings.units, prefix };
  const stands = standSpots(frame, features, settings.stands, settings.brief.weapon);
  const isProposed = features.some(({ status }) => status === 'proposed');
  const there = stands.filter(({ proposed }) => !proposed);
  const middle = there.length > 0 ? AFTER_SEARCH : AFTER_STANDS;
  try {
    const search = await sitesFound(
      inquirer,
      property,
      { seat: 'any', weapon, range: null, count: STANDS },
      { plan: isProposed ? { features, moment: momentOf(property) } : null, stands },
      [AFTER_TRAVEL, middle],
    );
    const sites = draftStands(search, rings, rules);
    const rulings =
      there.length > 0 ? await rulingsFound(inquirer, property, there, [middle, AFTER_STANDS]) : [];
    const ruled = draftRulings(rulings, features, rings, rules);
    return {
      ideas: [...sites.ideas, ...ruled.ideas],
      passed: [...sites.passed, ...ruled.passed],
      advice: ruled.advice,
      unsought: search.doubts,
    };
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    return { ...NONE, unsought: [`No stand was sought or judged: ${error.message}`] };
  }
}

function rowOf(
  { feature, aim, job, reasons, cautions, needs }: DraftLine,
  byId: ReadonlyMap<string, DraftLine>,
  whole: DraftEffect,
): DraftRow {
  const loose = whole.barricades.find((each) => each.feature === feature.id && !each.holds);
  const stand = whole.stands.find(({ id }) => id === feature.id);
  return {
    feature,
    name: job.name,
    aim,
    crew: job.crew,
    hours: job.hours,
    money: job.money.total,
    takes: job.quantities
      .filter(({ value }) => value !== null)
      .map(({ label, text }) => `${label.toLowerCase()} ${text}`)
      .join(', '),
    reasons: [
      ...reasons,
      ...(stand
        ? [
            `With the whole draft built ${formatShare(stand.after)} of all travel passes within its range, ${formatShare(stand.before)} as drawn now.`,
          ]
        : []),
    ],
    cautions: [
      ...(loose ? [`By the whole draft’s solve it does not hold: deer go ${loose.cheapest}.`] : []),
      ...cautions,
      ...(job.unknown.length > 0 ? job.unknown : []),
    ],
    needs: needs.flatMap((id) => byId.get(id)?.job.name ?? []),
  };
}

const TITLES = { weekend: 'A weekend', winter: 'A winter', everything: 'Everything' } as const;

function sizeRow(
  { size, lines, hours, budget, left }: DraftPick,
  { necks }: DraftEffect,
  byId: ReadonlyMap<string, DraftLine>,
  { lines: all }: Draft,
): DraftSizeRow {
  const moved = necks
    .filter(({ before, after }) => Math.abs(after - before) >= TOLD)
    .sort((a, b) => Math.abs(b.after - b.before) - Math.abs(a.after - a.before));
  const ids = new Set(lines);
  return {
    size,
    title: TITLES[size],
    lines,
    hours,
    budget,
    money: all.reduce((sum, { feature, job }) => sum + (ids.has(feature.id) ? (job.money.total ?? 0) : 0), 0),
    effects:
      moved.length > 0
        ? moved.map(
            ({ rank, before, after }) =>
              `Neck ${rank} goes from ${decimal(before * 100, 1)}% to ${decimal(after * 100, 1)}% of all travel.`,
          )
        : ['None of the best necks on this ground changes its share by a tenth of a point.'],
    left: left.map(({ id, why }) => ({ id, name: byId.get(id)!.job.name, why })),
  };
}

function notesOf({ people, days, hoursPerDay }: Draft): string[] {
  const time = (count: number) =>
    `${decimal(count, count % 1 === 0 ? 0 : 1)} days of ${people} people at ${hoursPerDay} h`;
  return [
    `A weekend is ${time(days.weekend)}, a winter ${time(days.winter)}: our assumption, to be set under Rates; hours a day are the calendar’s.`,
    'Travel at a neck, travel met clean from a stand and hours in which bedding is checked cannot be exchanged: each in turn gives its next best for an hour of work (our choice).',
    'A winter begins with what the weekend holds, and everything with the winter. A weekend takes no machine.',
    'Each line was solved by itself, then each size with all of it built, against travel with what is drawn now.',
  ];
}

/** What a draft does not rest on, said whatever was found. */
const uncheckedOf = ({ input }: OpenProperty, stands: boolean): string[] => [
  'All of it is computed under one set of assumptions; how firm the gains are over what is uncertain was not tried. Put in, the lines get clean hours a season with their band under What first.',
  ...(stands
    ? [
        'Stands were sought on travel as it is drawn now, not as the draft makes it; what bedding it adds is not smelled out.',
      ]
    : []),
  'Nothing was sought of fords, lowered fences, screens, food plots, openings, lanes or conifers: draw those yourself, and they are compared.',
  'Whether trees of no other worth stand in reach, what they are, what the soil bears, whose old foundation or roost lies there: only a walk shows it.',
  `Work already proposed counts as built and is not in the hours. ${
    input.sources.features.some(({ kind }) => kind === 'quiet')
      ? 'Closed ground is kept by the search for stands only.'
      : 'No closed ground is drawn, so none was kept.'
  }`,
];
