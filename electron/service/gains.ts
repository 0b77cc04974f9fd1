import type { Feature } from '../../core/features/feature.ts';
import { type CleanHours, hoursOfCases } from '../../core/plan/clean-hours.ts';
import {
  bandTries,
  firstTries,
  jobGains,
  pairsToTry,
  type Tried,
  tryKey,
} from '../../core/plan/job-gains.ts';
import { jobsTried, MOVES_TRAVEL, type TriedStand, type Try, waysKey } from '../../core/plan/job-trial.ts';
import type { Gains } from '../../core/plan/types.ts';
import { daysOf, dayWords } from '../../core/stands/calendar.ts';
import { HUNTED, type HuntedPart } from '../../core/stands/case-verdict.ts';
import { quietGrounds } from '../../core/stands/quiet-ground.ts';
import { standSpots } from '../../core/stands/spot.ts';
import type { StandSpot } from '../../core/stands/types.ts';
import type { AskContext } from './context.ts';
import { lawfulOf } from './hunt-basis.ts';
import type { Inquirer } from './inquiring.ts';
import { neckGains } from './neck-gains.ts';
import type { OpenProperty } from './open-property.ts';
import { wayRulesOf } from './sittings.ts';
import { momentOf, triedOf } from './today.ts';
import { scentsWith } from './verdict-prepared.ts';
import { keepGains } from './work-plan.ts';

const CLEAN_HOURS = 'clean hours a season';

/** How far the work is after scent, ways in and the plan's own tries; the rest are the worlds of the band. */
const SCENT = 0.25;
const WAYS = 0.35;
const PLAN = 0.6;

/** Computes what each open job gains and keeps it for the work list and the report. @throws Problem, TroubleError as `ask` */
export async function computeGains(
  context: AskContext,
  property: OpenProperty,
  drawn: number,
): Promise<void> {
  const { input } = property;
  const { features } = input.sources;
  const spots = standSpots(input.frame, features, input.settings.stands, input.settings.brief.weapon);
  // Travel as it is today must be there, or a try would be held against another map.
  triedOf(property);
  const gains = await context.inquiring.within('work.gains', (inquirer) =>
    spots.length > 0
      ? gainsOfJobs(inquirer, property, spots, drawn)
      : neckGains(
          inquirer,
          property,
          jobsTried(features).filter(({ kind }) => MOVES_TRAVEL.includes(kind)),
        ),
  );
  keepGains(property, gains);
}

/**
 * What each job that is open gains, in clean hours a season, with its band (`jobGains`). Scent and reach of each stand
 * are worked out once; travel is solved with each job alone, with everything, with everything but one and, where a job
 * gains nothing alone, with pairs; then again in the drawn worlds.
 *
 * @param spots every stand of the map, with what is proposed; at least one
 * @param count of drawn worlds
 */
async function gainsOfJobs(
  inquirer: Inquirer,
  property: OpenProperty,
  spots: readonly StandSpot[],
  count: number,
): Promise<Gains> {
  const { features } = property.input.sources;
  const jobs = jobsTried(features).map(({ id }) => id);
  const stands = await standsOf(inquirer, property, spots);
  const lawful = lawfulOf(property);
  const days = daysOf(property.input.settings.hunt.season, 2023).length;
  const { cases } = stands[0]!.mask;
  const basis: Basis = {
    property,
    spots,
    stands,
    features,
    lost: new Map(),
    byAir: false,
    hours: hoursOfCases(cases, lawful, days),
  };
  const first = firstTries(jobs);
  await lookForWays(inquirer, basis, first, [SCENT, WAYS]);
  const shut = [...basis.lost.values()].flat();
  basis.byAir = shut.length > 0 && shut.every((parts) => parts.length === HUNTED.length);

  const plan = await hoursIn(inquirer, basis, first, 'plan', [WAYS, WAYS + 0.7 * (PLAN - WAYS)]);
  const pairs = pairsToTry(jobs, plan).filter((built) => !plan.has(tryKey(built)));
  await lookForWays(inquirer, basis, pairs, null);
  const more = await hoursIn(inquirer, basis, pairs, 'plan', [WAYS + 0.7 * (PLAN - WAYS), PLAN]);
  for (const [key, each] of more) plan.set(key, each);

  const wanted = bandTries(jobs, plan);
  const worlds: World[] =
    count === 0 ? [] : ['usual', ...Array.from({ length: count }, (_, drawn) => ({ drawn, of: count }))];
  const step = (1 - PLAN) / worlds.length;
  const found: Map<string, CleanHours>[] = [];
  // Two at a time; only one of the two tells how far it is.
  for (let k = 0; k < worlds.length; k += 2) {
    const span: [number, number] = [PLAN + k * step, PLAN + Math.min(worlds.length, k + 2) * step];
    const [a, b] = worlds.slice(k, k + 2);
    const both = [hoursIn(inquirer, basis, wanted, a!, span), b && hoursIn(inquirer, basis, wanted, b, null)];
    for (const each of await Promise.all(both)) if (each) found.push(each);
  }
  const [coarse, ...drawn] = found;
  const tried: Tried = { plan, coarse: coarse ?? new Map(), drawn };
  return {
    unit: basis.byAir ? `${CLEAN_HOURS} by the air alone` : CLEAN_HOURS,
    ...jobGains(jobs, tried),
    notes: notesOf(property, {
      count,
      noWay: basis.byAir,
      record: cases.some(({ share }) => share !== null),
    }),
  };
}

type World = 'plan' | 'usual' | { drawn: number; of: number };

interface Basis {
  property: OpenProperty;
  spots: readonly StandSpot[];
  stands: TriedStand[];
  features: readonly Feature[];
  /** By `waysKey`, of each stand the parts of the day no clean way leads to it in. */
  lost: Map<string, HuntedPart[][]>;
  /** No clean way leads anywhere whatever is built, so ways are left aside. */
  byAir: boolean;
  hours: number[];
}

async function standsOf(
  inquirer: Inquirer,
  property: OpenProperty,
  spots: readonly StandSpot[],
): Promise<TriedStand[]> {
  const scents = await scentsWith(inquirer, property, spots, [0, SCENT]);
  return spots.map(({ id, proposed }, k) => ({ id, stands: !proposed, ...scents[k]! }));
}

async function lookForWays(
  inquirer: Inquirer,
  { property, spots, features, lost }: Basis,
  tries: readonly string[][],
  span: [number, number] | null,
): Promise<void> {
  const { stands, units } = property.input.settings;
  const distinct = new Map(
    tries.map((built) => [waysKey(features, built), built] as const).filter(([key]) => !lost.has(key)),
  );
  if (distinct.size === 0) return;
  const closed = quietGrounds(features).filter(({ window }) => window === null);
  const found = await inquirer.ask(
    property,
    'work.lostWays',
    {
      spots: [...spots],
      features: [...features],
      tries: [...distinct.values()],
      rules: wayRulesOf(property),
      leaves: stands.leaves,
      closed,
      units,
    },
    span,
  );
  [...distinct.keys()].forEach((key, k) => {
    lost.set(key, found.lost[k]!);
  });
}

async function hoursIn(
  inquirer: Inquirer,
  { property, stands, features, lost, byAir, hours }: Basis,
  tries: readonly string[][],
  world: World,
  span: [number, number] | null,
): Promise<Map<string, CleanHours>> {
  if (tries.length === 0) return new Map();
  const { hunt, travel } = property.input.settings;
  const found = await inquirer.ask(
    property,
    'work.hours',
    {
      moment: momentOf(property),
      features: [...features],
      stands,
      tries: tries.map(
        (built): Try => ({
          built,
          lost: byAir ? stands.map(() => []) : lost.get(waysKey(features, built))!,
        }),
      ),
      rules: { hunt: { spoilt: hunt.spoilt, alarm: hunt.alarm }, hours },
      seed: travel.seed,
      world,
    },
    span,
  );
  return new Map(tries.map((built, k) => [tryKey(built), found.hours[k]!]));
}

function notesOf(
  property: OpenProperty,
  { count, noWay, record }: { count: number; noWay: boolean; record: boolean },
): string[] {
  const { season, arrive } = property.input.settings.hunt;
  return [
    ...(noWay
      ? [
          `No clean way leads to any stand ${arrive === 'foot' ? 'on foot' : 'by vehicle'}, with whatever job is built, so no hour is clean: the hours here go by the air alone, as if the ways were mended. Mend a way in before anything else.`,
        ]
      : []),
    ...(record
      ? []
      : ['There is no wind record: every wind and the calm count alike, so the hours are a guess at best.']),
    `An hour is one of lawful light from ${dayWords(season.from)} to ${dayWords(season.to)}, sat at the stand that is best in its wind. It counts by the share of all travel expected then that comes in reach before it meets the scent, and nothing where the verdict is against it or no way in is clean.`,
    count === 0
      ? 'No world was drawn, so there are no bands.'
      : `Bands are the least and the most over a keener and a duller nose and ${count === 1 ? 'one run' : `${count} runs`} with other weights of travel, other routes and travel of unknown direction leaning one way.`,
    'Rest between sits is not counted, nor what a screen hides or a cut opens to the eye, nor whether deer take to new food or bedding: it is an end of travel like those of today.',
  ];
}
