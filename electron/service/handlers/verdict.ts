import type { SeasonWind } from '../../../core/air/season.ts';
import { SECTORS } from '../../../core/air/types.ts';
import { sectorOf } from '../../../core/air/wind.ts';
import { formatLength, formatShare, formatSpeed } from '../../../core/features/units.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { daysOf, isWithin } from '../../../core/stands/calendar.ts';
import type { CaseVerdict, HuntedPart, StandCases } from '../../../core/stands/case-verdict.ts';
import { lawfulPart, legalLight } from '../../../core/stands/legal-light.ts';
import { moonAt } from '../../../core/stands/moon.ts';
import {
  closedAt,
  closedIn,
  closedWords,
  disturbance,
  quietGrounds,
} from '../../../core/stands/quiet-ground.ts';
import { restOf } from '../../../core/stands/resting.ts';
import { phaseOn, rutPhases } from '../../../core/stands/rut.ts';
import { WINDS } from '../../../core/stands/scent-study.ts';
import { apartPairs, seasonSheet, together } from '../../../core/stands/season-sheet.ts';
import { type SheetRow, sheetRows } from '../../../core/stands/sheet-rows.ts';
import type { StandSpot } from '../../../core/stands/types.ts';
import { listWinds, standVerdict } from '../../../core/stands/verdict.ts';
import { visitsOf } from '../../../core/stands/visits.ts';
import { NO_WAY, withWays } from '../../../core/stands/with-ways.ts';
import { type AskContext, type Handlers, opened } from '../context.ts';
import { allSpots, lawfulOf, notesOf, placeOf, ruleOf } from '../hunt-basis.ts';
import type { OpenProperty } from '../open-property.ts';
import { spotAsked } from '../spot-asked.ts';
import { keepFound } from '../stand-findings.ts';
import { clockOf, timeOf, zoneName } from '../standard-time.ts';
import type { CaseRow, ForecastPart, OnDate, SheetAnswer, SheetLine } from '../verdict-answers.ts';
import { casesOf, casesWith, windOf } from '../verdict-prepared.ts';
import { ANY_WIND, casesWithWays, waysWith } from '../verdict-ways.ts';

/** Slower wind counts as calm, m/s. */
const CALM = 0.5;
/** Times a forecast wind may differ from the one a case was computed for before that is said. */
const FAR_OFF = 1.7;

const huntWord = ({ hunt }: CaseVerdict): CaseRow['hunt'] =>
  !hunt.usual ? 'no' : hunt.keen && hunt.dull ? 'yes' : 'doubtful';

const rowOf = (each: CaseVerdict): CaseRow => ({
  part: each.part,
  wind: each.wind,
  speed: each.speed,
  share: each.share.share,
  state: each.air,
  clean: each.clean,
  spoiled: each.fate?.spoiled ?? null,
  never: each.fate?.never ?? null,
  alarmed: each.fate?.alarmed ?? null,
  directions: each.directions,
  bedding: each.bedding,
  hunt: huntWord(each),
  why: each.why,
  ways: each.ways ?? [],
});

function onDate(property: OpenProperty, spot: StandSpot, date: string): OnDate {
  const { sources, settings, frame } = property.input;
  const visits = visitsOf(sources.features);
  const grounds = quietGrounds(sources.features);
  const { left, reasons } = disturbance(visits, grounds, spot.at, date);
  const { since, wait } = restOf(visits, spot.id, date, settings.hunt.rest);
  const closed = closedAt(grounds, spot.at, date.slice(5));
  const phase = phaseOn(rutPhases(frame.latitude, settings.hunt.rutPeak), date.slice(5));
  return {
    left,
    reasons,
    since,
    wait,
    closed: closed && closedWords(closed),
    phase: phase?.name ?? null,
    moon: moonAt(timeOf(date, 12, frame.longitude)),
  };
}

/** The windows of the sheet: the phases of the rut where they are known, else the season as one. */
function windowsOf({ input }: OpenProperty) {
  const { hunt } = input.settings;
  const rut = rutPhases(input.frame.latitude, hunt.rutPeak);
  const windows =
    rut.phases.length > 0
      ? rut.phases.map(({ name, from, to }) => ({ name: name as string, from, to, rut: true }))
      : [{ name: 'season', ...hunt.season, rut: false }];
  return { windows, source: rut.source };
}

const partWords = (part: HuntedPart): string =>
  part === 'before sunrise' ? part : part === 'midday' ? 'at midday' : `in the ${part}`;

/** All stands under every wind, by the windows of the rut. */
export async function makeSheet(context: AskContext): Promise<SheetAnswer> {
  const property = opened(context);
  const started = performance.now();
  const { longitude } = property.input.frame;
  const { hunt } = property.input.settings;
  const spots = allSpots(property);
  const scented = await casesOf(context, property, spots, 'stands.sheet');
  const { windows, source } = windowsOf(property);
  const tables: (SeasonWind | null)[] = [];
  for (const window of windows) tables.push(await windOf(context, property, window, 'stands.sheet'));
  const shares = (w: number, part: HuntedPart, wind: number): number | null => {
    const table = tables[w]?.parts.find((each) => each.part === part);
    return (WINDS[wind] === 'calm' ? table?.calmShare : table?.sectors[wind]?.share)?.share ?? null;
  };
  const lights = windows.map((window) => {
    const days = daysOf(window, new Date().getUTCFullYear());
    return legalLight(days[days.length >> 1]!, placeOf(property), ruleOf(property));
  });
  const grounds = quietGrounds(property.input.sources.features);
  const parts = hunt.parts.filter((part) => lights.some((light) => light && lawfulPart(part, light)));
  const moments = { lights, settle: hunt.settle, stands: spots, grounds };
  // Ways keep out of what is closed in each window; windows with the same ground closed share theirs.
  const rows: SheetRow[] = [];
  const judged: StandCases[] = [];
  const known = new Map<string, SheetRow[]>();
  for (const [w, window] of windows.entries()) {
    const closed = grounds.filter((ground) => closedIn(ground, window));
    const key = closed.map(({ id }) => id).join(' ');
    let all = known.get(key);
    if (!all) {
      const asked = { closed, parts };
      const stands = await casesWithWays(context, property, spots, scented, asked, 'stands.sheet');
      judged.push(...stands);
      all = sheetRows(seasonSheet(stands, windows, shares, hunt.apart), moments);
      known.set(key, all);
    }
    rows.push(...all.filter((row) => row.window === w && parts.includes(row.part)));
  }
  const apart = apartPairs(scented, hunt.apart);
  const names = new Map(spots.map(({ id, name }) => [id, name]));
  const clock = (time: number) => clockOf(time, longitude);
  const sheet = {
    windows,
    lines: rows.map(
      (row): SheetLine => ({
        ...row,
        choices: row.choices.map((choice) => ({
          ...choice,
          name: names.get(choice.stand) ?? choice.stand,
        })),
        seated: clock(row.seated),
        until: clock(row.until),
        sentence: sheetSentence(row, names),
      }),
    ),
    apart: apart.map((pair) => ({
      ...pair,
      names: pair.stands.map((id) => names.get(id) ?? id) as [string, string],
    })),
    zone: zoneName(longitude),
  };
  keepFound(property, { sheet });
  return {
    ...sheet,
    notes: [
      ...wayNotes(property, judged),
      source,
      `A stand is ruled out in a wind in which no way in is clean ${WALKED[hunt.arrive]}, and in the evening none out after dark. Three ways are looked at for each.`,
      `Scent is that of ${hunt.season.from} to ${hunt.season.to}; each window has its own share of winds and its own light, taken on its middle day.`,
      `Stands nearer than ${formatLength(hunt.apart, property.input.settings.units)}, or of which one takes more than a fifth of the other’s clean travel, are not sat together: our assumption.`,
      ...notesOf(property),
    ],
    seconds: (performance.now() - started) / 1000,
  };
}

export const verdictHandlers: Handlers<'stands.verdict' | 'stands.sheet' | 'stands.forecast'> = {
  'stands.verdict': async (context, { date, ...asked }) => {
    const property = opened(context);
    const started = performance.now();
    const spot = spotAsked(property, asked);
    const closed = closedOn(property, date);
    // Neither waits for the other: what becomes of travel goes by the air, ways here by what holds in every wind.
    const [[windOnly], [ways]] = await context.inquiring.within('stands.verdict', (inquirer) =>
      Promise.all([
        casesWith(inquirer, property, [spot]) as Promise<[StandCases]>,
        waysWith(inquirer, property, [spot], [ANY_WIND], closed, null),
      ]),
    );
    const found = ways ? withWays(windOnly, ways) : windOnly;
    const { hunt } = property.input.settings;
    const lawful = lawfulOf(property);
    const usable = standVerdict(found, lawful, hunt);
    return {
      verdict: standVerdict(windOnly, lawful, hunt),
      usable: { hours: usable.hours, rested: usable.rested },
      lost: lostWays(found, WALKED[hunt.arrive]),
      cases: found.cases.map(rowOf),
      inView: Number.isNaN(found.inView) ? null : found.inView,
      onDate: date === null ? null : onDate(property, spot, date),
      notes: [
        ...wayNotes(property, [found]),
        'The way in and out is judged here as if the walker had no scent: what is against it then holds in every wind. The season sheet and Ways in look at each wind.',
        ...notesOf(property),
      ],
      seconds: (performance.now() - started) / 1000,
    };
  },

  'stands.sheet': makeSheet,

  'stands.forecast': async (context, { date, windFrom, windSpeed, hunters }) => {
    const property = opened(context);
    const started = performance.now();
    const { frame, settings } = property.input;
    const { hunt, units } = settings;
    const spots = allSpots(property);
    const scented = await casesOf(context, property, spots, 'stands.forecast');
    const light = legalLight(date, placeOf(property), ruleOf(property));
    if (!light)
      throw new Problem('The sun does not rise or set there on that day.', { fix: 'Choose another day.' });
    const wind = windSpeed < CALM ? 'calm' : SECTORS[sectorOf(windFrom)]!;
    const parted = hunt.parts.filter((part) => lawfulPart(part, light));
    const asked = { closed: closedOn(property, date), wind, parts: parted };
    const stands = await casesWithWays(context, property, spots, scented, asked, 'stands.forecast');
    const apart = apartPairs(scented, hunt.apart);
    const dates = new Map(spots.map((spot) => [spot.id, onDate(property, spot, date)]));
    const clock = (time: number) => clockOf(time, frame.longitude);
    const parts = parted.flatMap((part): ForecastPart[] => {
      const lawful = lawfulPart(part, light)!;
      const passed: ForecastPart['passed'] = [];
      const choices = stands.flatMap(({ stand, cases }) => {
        const found = cases.find((each) => each.part === part && each.wind === wind)!;
        const day = dates.get(stand.id)!;
        const against = againstDate(day) ?? (found.hunt.usual ? null : found.why);
        if (against) passed.push({ stand: stand.id, name: stand.name, why: against });
        const clean = (found.clean?.usual ?? 0) * day.left;
        return against
          ? []
          : [{ stand: stand.id, clean, firm: huntWord(found) === 'yes', ways: found.ways ?? [] }];
      });
      choices.sort((a, b) => b.clean - a.clean);
      const chosen = together(choices, hunters, apart, part, wind);
      const nameOf = (id: string) => spots.find((spot) => spot.id === id)!.name;
      for (const { stand } of choices)
        if (!chosen.some((each) => each.stand === stand))
          passed.push({
            stand,
            name: nameOf(stand),
            why: 'Others are better, or may not be sat together with it.',
          });
      const picks = chosen.map(({ stand, clean, firm, ways }) => {
        const { left, reasons } = dates.get(stand)!;
        const less = left < 0.98 ? ` Less ${formatShare(1 - left)}: ${reasons.join('; ')}.` : '';
        return {
          stand,
          name: nameOf(stand),
          clean,
          left,
          ways,
          seated: clock(lawful.from - hunt.settle * 60_000),
          why: `${formatShare(clean)} of the travel comes clean${firm ? '' : ', unless deer scent more keenly than is usual'}.${less}`,
        };
      });
      const sentence =
        picks.length === 0
          ? `Stay home ${partWords(part)}. ${passed[0] ? `${passed[0].name}: ${passed[0].why}` : 'No stand can be hunted.'}`
          : `${picks.map(({ name }) => name).join(' and ')} ${partWords(part)}, seated by ${picks[0]!.seated}.`;
      return [{ part, from: clock(lawful.from), to: clock(lawful.to), picks, passed, sentence }];
    });
    return {
      wind,
      parts,
      phase: [...dates.values()][0]!.phase,
      moon: [...dates.values()][0]!.moon,
      zone: zoneName(frame.longitude),
      notes: [
        ...wayNotes(property, stands),
        ...speedNotes(stands, wind, windSpeed, units),
        ...notesOf(property),
      ],
      seconds: (performance.now() - started) / 1000,
    };
  },
};

export const WALKED = { foot: 'on foot', vehicle: 'driven as far as roads lead' } as const;

/** Ground closed on a day (YYYY-MM-DD), or all year without one. */
const closedOn = ({ input }: OpenProperty, date: string | null) =>
  quietGrounds(input.sources.features).filter(
    ({ window }) => window === null || (date !== null && isWithin(date.slice(5), window)),
  );

/** Which ways are not clean whatever the wind, a line each. */
function lostWays({ cases }: StandCases, walked: string): string[] {
  const why = cases.filter((each) => each.why.startsWith(NO_WAY)).map((each) => each.why);
  return [...new Set(why)].map((line) => line.replace('.', ` ${walked}, whatever the wind.`));
}

/** What has to be said of the ways before anything else. */
export function wayNotes({ input }: OpenProperty, stands: readonly StandCases[]): string[] {
  const cases = stands.flatMap((stand) => stand.cases);
  if (cases.some(({ ways }) => ways?.some(({ clean }) => clean === null)))
    return [
      'No place people come from is mapped, so no way in was judged: draw the house, a gate or where you park.',
    ];
  const lost = cases.filter(({ why }) => why.startsWith(NO_WAY)).length;
  if (lost === 0 || cases.some(({ hunt }) => hunt.usual)) return [];
  return input.settings.hunt.arrive === 'foot'
    ? [
        'Nothing is left because no way in on foot is clean. Under the rules hunters can also be driven as far as roads lead.',
      ]
    : ['Nothing is left because no way in is clean, on foot or driven.'];
}

/** Why a date keeps a hunter out of a stand; null where it does not. */
function againstDate({ closed, wait }: OnDate): string | null {
  if (closed) return `${closed}.`;
  return wait > 0 ? `It rests ${wait} more ${wait === 1 ? 'day' : 'days'}.` : null;
}

/** Where the forecast wind is far from the one the cases were computed for, and where it is taken as calm. */
function speedNotes(
  stands: readonly StandCases[],
  wind: string,
  speed: number,
  units: OpenProperty['input']['settings']['units'],
): string[] {
  if (wind === 'calm') return ['So light a wind counts as calm air.'];
  const off = (stands[0]?.cases ?? []).filter(
    (each) =>
      each.wind === wind && (speed > FAR_OFF * each.speed || each.speed > FAR_OFF * Math.max(speed, 0.1)),
  );
  if (off.length === 0) return [];
  const speeds = [...new Set(off.map((each) => `${formatSpeed(each.speed, units)} ${partWords(each.part)}`))];
  return [
    `The forecast is for ${formatSpeed(speed, units)}, but this wind usually blows ${speeds.join(', ')}, which is what was computed: ask for the air of the hour at the stand as well.`,
  ];
}

function sheetSentence(
  { choices, home, part, wind, leave }: SheetRow,
  names: ReadonlyMap<string, string>,
): string {
  const air = wind === 'calm' ? 'calm air' : `wind ${listWinds([wind])}`;
  const best = choices[0];
  if (!best) return `Stay home ${partWords(part)} with ${air}: ${home}`;
  return `${names.get(best.stand)} ${partWords(part)} with ${air}: ${formatShare(best.clean)} of the travel comes clean${best.firm ? '' : ', in doubt'}${leave ? '; leave before the next part of the day' : ''}.`;
}
