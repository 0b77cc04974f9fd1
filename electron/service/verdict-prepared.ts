import type { SeasonWind } from '../../core/air/season.ts';
import type { Artifacts } from '../../core/analysis/artifacts.ts';
import { canonical } from '../../core/analysis/canonical.ts';
import { seasonOf, type Window } from '../../core/stands/calendar.ts';
import type { CaseVerdict, StandCases } from '../../core/stands/case-verdict.ts';
import type { SeasonAir } from '../../core/stands/scent-study.ts';
import type { StandSpot } from '../../core/stands/types.ts';
import type { FoundOf } from '../workers/inquiries/table.ts';
import type { Hunt } from '../workers/inquiries/verdict.ts';
import type { AskContext } from './context.ts';
import type { Inquirer } from './inquiring.ts';
import type { OpenProperty } from './open-property.ts';

/** What verdicts are made from, kept while what it rests on stays as it is. */
interface Prepared {
  from: readonly unknown[];
  air: SeasonAir | null;
  stands: Map<string, StandCases>;
  /** Where the scent of stands counts, and what they reach. */
  scents: Map<string, Scented>;
  winds: Map<string, SeasonWind>;
}

const RESTS_ON: (keyof Artifacts)[] = [
  'elevation',
  'cover',
  'canopy',
  'screening',
  'vegetation',
  'poolDepth',
  'wind',
  'areas',
  'todayTravel',
  'routes',
];
/** Stands and spots tried that are kept. */
const MOST = 60;

/** Scents that are kept: three megabytes each. */
const MOST_SCENTS = 16;

type Scented = FoundOf<'work.scents'>['stands'][number];

const kept = new WeakMap<OpenProperty, Prepared>();

function preparedOf(property: OpenProperty): Prepared {
  const { hunt, air, stands, travel } = property.input.settings;
  const rules = canonical([
    hunt.season,
    hunt.pace,
    hunt.spoilt,
    hunt.alarm,
    air.cooling,
    stands.leaves,
    travel.seed,
  ]);
  const from = [rules, ...RESTS_ON.map((name) => property.artifacts[name])];
  const known = kept.get(property);
  if (known && from.every((value, k) => value === known.from[k])) return known;
  const made: Prepared = { from, air: null, stands: new Map(), scents: new Map(), winds: new Map() };
  kept.set(property, made);
  return made;
}

/** What every question of verdicts says besides which stands, with the season's air where it was made before. */
export function huntOf(property: OpenProperty): Hunt {
  const { hunt, air, stands, travel } = property.input.settings;
  return {
    air: preparedOf(property).air,
    season: hunt.season,
    cooling: air.cooling,
    leaves: stands.leaves,
    rules: { pace: hunt.pace, spoilt: hunt.spoilt, alarm: hunt.alarm },
    seed: travel.seed,
  };
}

/** Keeps the season's air that a question made on its way. */
export function keepAir(property: OpenProperty, air: SeasonAir | null): void {
  if (air) preparedOf(property).air = air;
}

const keyOf = ({ at, seatHeight, range }: StandSpot): string => canonical([at, seatHeight, range]);

/** The fate of travel at some spots, of which only those not known yet are computed. */
export const casesOf = (
  context: AskContext,
  property: OpenProperty,
  spots: readonly StandSpot[],
  request: string,
): Promise<StandCases[]> =>
  context.inquiring.within(request, (inquirer) => casesWith(inquirer, property, spots));

/** The same as a part of a longer request. */
export async function casesWith(
  inquirer: Inquirer,
  property: OpenProperty,
  spots: readonly StandSpot[],
  span?: readonly [number, number],
): Promise<StandCases[]> {
  const prepared = preparedOf(property);
  const { parts } = property.input.settings.hunt;
  const missing = spots.filter((spot) => !prepared.stands.has(keyOf(spot)));
  if (missing.length > 0) {
    const hunt = huntOf(property);
    const found = await inquirer.ask(property, 'stands.cases', { spots: missing, hunt }, span);
    keepAir(property, found.air);
    found.stands.forEach((each, k) => {
      prepared.stands.set(keyOf(missing[k]!), each);
    });
    while (prepared.stands.size > Math.max(MOST, spots.length))
      prepared.stands.delete(prepared.stands.keys().next().value!);
  }
  return spots.map((spot) => {
    const { id, name, proposed } = spot;
    const known = prepared.stands.get(keyOf(spot))!;
    const cases = known.cases.map((each) => (parts.includes(each.part) ? each : leftOut(each)));
    return { ...known, cases, stand: { ...known.stand, id, name, proposed } };
  });
}

/** Where the scent of some spots counts, of which only those not known yet are worked out. */
export async function scentsWith(
  inquirer: Inquirer,
  property: OpenProperty,
  spots: readonly StandSpot[],
  span?: readonly [number, number],
): Promise<Scented[]> {
  const { scents } = preparedOf(property);
  const missing = spots.filter((spot) => !scents.has(keyOf(spot)));
  if (missing.length > 0) {
    const question = { spots: missing, hunt: huntOf(property) };
    const found = await inquirer.ask(property, 'work.scents', question, span);
    keepAir(property, found.air);
    found.stands.forEach((each, k) => {
      scents.set(keyOf(missing[k]!), each);
    });
  }
  const all = spots.map((spot) => scents.get(keyOf(spot))!);
  while (scents.size > MOST_SCENTS) scents.delete(scents.keys().next().value!);
  return all;
}

/** A case in a part of the day in which nobody here can hunt. */
const leftOut = (found: CaseVerdict): CaseVerdict => ({
  ...found,
  hunt: { usual: false, keen: false, dull: false },
  why: 'Nobody here can hunt at this part of the day, by the rules.',
});

/** The wind of a window of the year, counted once; null without a record. */
export async function windOf(
  context: AskContext,
  property: OpenProperty,
  { from, to }: Window,
  request: string,
): Promise<SeasonWind | null> {
  if (!property.artifacts.wind) return null;
  const { winds } = preparedOf(property);
  const key = `${from} ${to}`;
  const known = winds.get(key);
  if (known) return known;
  const { table } = await context.inquiring.ask(
    property,
    'air.rose',
    { season: seasonOf({ from, to }) },
    request,
  );
  if (table) winds.set(key, table);
  return table;
}
