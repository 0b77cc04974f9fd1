import type { Feature } from '../../../core/features/feature.ts';
import { formatLength } from '../../../core/features/units.ts';
import { inVariant } from '../../../core/features/variants.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { comparedSentences, comparedStand } from '../../../core/stands/compare.ts';
import { FIRE_CAUTIONS } from '../../../core/stands/line-of-fire.ts';
import type { StandRuling } from '../../../core/stands/ruling-types.ts';
import type { JudgedSite } from '../../../core/stands/site-judge.ts';
import type { SiteSearch } from '../../../core/stands/site-search.ts';
import { standSpots } from '../../../core/stands/spot.ts';
import type { StandSpot } from '../../../core/stands/types.ts';
import { type AskContext, type Handlers, opened } from '../context.ts';
import type { RequestParams } from '../contract.ts';
import { allSpots, lawfulOf, notesOf } from '../hunt-basis.ts';
import type { Inquirer } from '../inquiring.ts';
import type { OpenProperty } from '../open-property.ts';
import { sittingsOf, wayRulesOf } from '../sittings.ts';
import { keepFound } from '../stand-findings.ts';
import type { SiteRow, StandCompareAnswer, StandsSearchAnswers } from '../stands-search-answers.ts';
import { momentOf, triedOf } from '../today.ts';
import { huntOf, keepAir } from '../verdict-prepared.ts';

/** How ways in are judged, in words. */
const wayNote = ({ input }: OpenProperty): string =>
  `The way in is judged ${input.settings.hunt.arrive === 'foot' ? 'on foot' : 'driven as far as roads lead'}, for each part of the day in its commonest wind it can be hunted in: at dawn for the morning, at midday for midday and evening, and after dark for the way out in the evening.`;

/** Share of the work that goes into what each stand is now. */
const BEFORE_RULING = 0.3;

/** @throws Problem when a stand is gone */
function spotsAsked(property: OpenProperty, ids: readonly string[] | null): StandSpot[] {
  const spots = allSpots(property);
  if (ids === null) return spots;
  return ids.map((id) => {
    const spot = spots.find((each) => each.id === id);
    if (!spot) throw new Problem('That stand is not on the map.', { fix: 'Choose one that is drawn.' });
    return spot;
  });
}

/** @throws Problem when the plan is gone */
function planSearched(property: OpenProperty, id: string | null) {
  const { frame, sources, settings } = property.input;
  const spotsOf = (features: readonly Feature[]) =>
    standSpots(frame, features, settings.stands, settings.brief.weapon);
  if (id === null) return { plan: null, name: 'travel as it is today', stands: spotsOf(sources.features) };
  const variant = settings.plans.variants.find((each) => each.id === id);
  if (!variant) throw new Problem('That plan is not there any more.', { fix: 'Choose another plan.' });
  triedOf(property);
  const features = inVariant(property.head.features, settings.plans, id);
  const plan = { features, moment: momentOf(property) };
  return { plan, name: `travel as ${variant.name} makes it`, stands: spotsOf(features) };
}

/** Where new stands would pay, searched for in a worker; the air of the season is kept for later questions. */
export async function sitesFound(
  inquirer: Inquirer,
  property: OpenProperty,
  { seat, weapon, range, count }: Omit<RequestParams<'stands.search'>, 'plan'>,
  { plan, stands }: Omit<ReturnType<typeof planSearched>, 'name'>,
  span: readonly [number, number] = [0, 1],
): Promise<SiteSearch> {
  const { hunt, units, stands: settings } = property.input.settings;
  const answer = await inquirer.ask(
    property,
    'stands.search',
    {
      wish: { seat, weapon, range: range ?? settings.range[weapon], count, stands, within: null },
      rules: { hunt, settings, way: wayRulesOf(property), lawful: lawfulOf(property), units },
      hunt: huntOf(property),
      plan,
    },
    span,
  );
  keepAir(property, answer.air);
  return answer.found;
}

/** What to do with some stands, kept for the report; the air of the season is kept for later questions. */
export async function rulingsFound(
  inquirer: Inquirer,
  property: OpenProperty,
  spots: readonly StandSpot[],
  [from, to]: readonly [number, number] = [0, 1],
): Promise<StandRuling[]> {
  const { hunt, units, stands: settings } = property.input.settings;
  const middle = from + BEFORE_RULING * (to - from);
  const sittings = await sittingsOf(inquirer, property, spots, [from, middle]);
  const answer = await inquirer.ask(
    property,
    'stands.rulings',
    {
      stands: sittings.map(({ spot, verdict, reach, ways }) => ({ spot, verdict, reach, ways })),
      rules: { hunt, settings, way: wayRulesOf(property), lawful: lawfulOf(property), units },
      hunt: huntOf(property),
    },
    [middle, to],
  );
  keepAir(property, answer.air);
  keepFound(property, { rulings: answer.found });
  return answer.found;
}

/** Some stands, or all of them, beside each other. */
export async function compareStands(
  context: AskContext,
  stands: readonly string[] | null,
): Promise<StandCompareAnswer> {
  const property = opened(context);
  const started = performance.now();
  const { hunt, units } = property.input.settings;
  const spots = spotsAsked(property, stands);
  const sittings = await context.inquiring.within('stands.compare', (inquirer) =>
    sittingsOf(inquirer, property, spots),
  );
  const lawful = lawfulOf(property);
  const compared = sittings.map((each) => comparedStand(each, lawful));
  if (stands === null) keepFound(property, { compared });
  return {
    stands: compared,
    sentences: comparedSentences(compared, hunt.apart, units),
    cautions: FIRE_CAUTIONS,
    notes: [wayNote(property), ...notesOf(property)],
    seconds: (performance.now() - started) / 1000,
  };
}

export const standsSearchHandlers: Handlers<keyof StandsSearchAnswers> = {
  'stands.compare': (context, { stands }) => compareStands(context, stands),

  'stands.rulings': async (context) => {
    const property = opened(context);
    const started = performance.now();
    const spots = allSpots(property).filter(({ proposed }) => !proposed);
    if (spots.length === 0)
      throw new Problem('No stand is there yet.', {
        fix: 'Draw the stands that are there, or search for sites.',
      });
    const found = await context.inquiring.within('stands.rulings', (inquirer) =>
      rulingsFound(inquirer, property, spots),
    );
    return {
      rulings: found,
      cautions: FIRE_CAUTIONS,
      notes: [
        'Every gain is what the verdict gives when it is run again with that change and nothing else. Changes are tried from the smallest to the largest until one gives back half of what the worst fault costs; hours are usable when the wind lets the stand be hunted and a clean way leads there (our choice).',
        'A fault of the line of fire is not in the hours: see In range for what lies behind a deer.',
        wayNote(property),
        ...notesOf(property),
      ],
      seconds: (performance.now() - started) / 1000,
    };
  },

  'stands.cameras': async (context) => {
    const property = opened(context);
    const started = performance.now();
    triedOf(property);
    const { travel, units } = property.input.settings;
    const found = await context.inquiring.ask(property, 'stands.cameras', {
      moment: momentOf(property),
      seed: travel.seed,
      units,
    });
    return { ...found, seconds: (performance.now() - started) / 1000 };
  },

  'stands.search': async (context, asked) => {
    const property = opened(context);
    const started = performance.now();
    const { hunt, units } = property.input.settings;
    const lawful = lawfulOf(property);
    const { name, ...on } = planSearched(property, asked.plan);
    const found = await context.inquiring.within('stands.search', (inquirer) =>
      sitesFound(inquirer, property, asked, on),
    );
    const row = (site: JudgedSite): SiteRow => {
      const { seat, backed, value, potential, faults, reasons } = site;
      return { ...comparedStand(site, lawful), seat, backed, value, potential, faults, reasons };
    };
    const sites = found.sites.map(row);
    return {
      plan: name,
      sites,
      ifWay: found.ifWay.map(row),
      passed: found.passed,
      sentences: found.sentences,
      doubts: [
        ...found.doubts,
        ...(on.plan
          ? [
              'Of the plan only travel is reckoned with: cover, view and air are those of today, and bedding it proposes is not smelled out.',
            ]
          : []),
      ],
      cautions: FIRE_CAUTIONS,
      notes: [
        `A site is worth the share of travel it meets clean over all hours of light whose way in is clean, times the share of the travel in view with ground close behind it; at least half must have that, and two hours a week be left: our assumption. Nothing is proposed nearer than ${formatLength(hunt.apart / 2, units)} to a stand, or ${formatLength(hunt.apart, units)} to another site.`,
        wayNote(property),
        ...notesOf(property),
      ],
      seconds: (performance.now() - started) / 1000,
    };
  },
};
