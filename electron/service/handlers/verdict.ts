import type { SeasonWind } from '../../../core/air/season.ts';
import { SECTORS } from '../../../core/air/types.ts';
import { sectorOf } from '../../../core/air/wind.ts';
import { formatShare, formatSpeed } from '../../../core/features/units.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { daysOf } from '../../../core/stands/calendar.ts';
import {
  type CaseVerdict,
  HUNTED,
  type HuntedPart,
  type StandCases,
} from '../../../core/stands/case-verdict.ts';
import { lawfulPart, legalLight } from '../../../core/stands/legal-light.ts';
import { moonAt } from '../../../core/stands/moon.ts';
import { closedAt, closedWords, disturbance, quietGrounds } from '../../../core/stands/quiet-ground.ts';
import { restOf } from '../../../core/stands/resting.ts';
import { phaseOn, rutPhases } from '../../../core/stands/rut.ts';
import { WINDS } from '../../../core/stands/scent-study.ts';
import { seasonSheet, together } from '../../../core/stands/season-sheet.ts';
import { type SheetRow, sheetRows } from '../../../core/stands/sheet-rows.ts';
import type { StandSpot } from '../../../core/stands/types.ts';
import { listWinds, standVerdict } from '../../../core/stands/verdict.ts';
import { visitsOf } from '../../../core/stands/visits.ts';
import { type Handlers, opened } from '../context.ts';
import { allSpots, lawfulOf, notesOf, placeOf, ruleOf } from '../hunt-basis.ts';
import type { OpenProperty } from '../open-property.ts';
import { spotAsked } from '../spot-asked.ts';
import { clockOf, timeOf, zoneName } from '../standard-time.ts';
import type { CaseRow, ForecastPart, OnDate, SheetLine } from '../verdict-answers.ts';
import { casesOf, windOf } from '../verdict-prepared.ts';

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

export const verdictHandlers: Handlers<'stands.verdict' | 'stands.sheet' | 'stands.forecast'> = {
  'stands.verdict': async (context, { date, ...asked }) => {
    const property = opened(context);
    const started = performance.now();
    const spot = spotAsked(property, asked);
    const [found] = await casesOf(context, property, [spot], 'stands.verdict');
    const { hunt } = property.input.settings;
    return {
      verdict: standVerdict(found!, lawfulOf(property), hunt),
      cases: found!.cases.map(rowOf),
      inView: Number.isNaN(found!.inView) ? null : found!.inView,
      onDate: date === null ? null : onDate(property, spot, date),
      notes: notesOf(property),
      seconds: (performance.now() - started) / 1000,
    };
  },

  'stands.sheet': async (context) => {
    const property = opened(context);
    const started = performance.now();
    const { longitude } = property.input.frame;
    const { hunt } = property.input.settings;
    const spots = allSpots(property);
    const stands = await casesOf(context, property, spots, 'stands.sheet');
    const { windows, source } = windowsOf(property);
    const tables: (SeasonWind | null)[] = [];
    for (const window of windows) tables.push(await windOf(context, property, window, 'stands.sheet'));
    const shares = (w: number, part: HuntedPart, wind: number): number | null => {
      const table = tables[w]?.parts.find((each) => each.part === part);
      return (WINDS[wind] === 'calm' ? table?.calmShare : table?.sectors[wind]?.share)?.share ?? null;
    };
    const sheet = seasonSheet(stands, windows, shares, hunt.apart);
    const lights = windows.map((window) => {
      const days = daysOf(window, new Date().getUTCFullYear());
      return legalLight(days[days.length >> 1]!, placeOf(property), ruleOf(property));
    });
    const grounds = quietGrounds(property.input.sources.features);
    const rows = sheetRows(sheet, { lights, settle: hunt.settle, stands: spots, grounds });
    const names = new Map(spots.map(({ id, name }) => [id, name]));
    const clock = (time: number) => clockOf(time, longitude);
    return {
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
      apart: sheet.apart.map((pair) => ({
        ...pair,
        names: pair.stands.map((id) => names.get(id) ?? id) as [string, string],
      })),
      zone: zoneName(longitude),
      notes: [
        source,
        `Scent is that of ${hunt.season.from} to ${hunt.season.to}; each window has its own share of winds and its own light, taken on its middle day.`,
        `Stands nearer than ${Math.round(hunt.apart)} m, or of which one takes more than a fifth of the other’s clean travel, are not sat together: our assumption.`,
        ...notesOf(property),
      ],
      seconds: (performance.now() - started) / 1000,
    };
  },

  'stands.forecast': async (context, { date, windFrom, windSpeed, hunters }) => {
    const property = opened(context);
    const started = performance.now();
    const { frame, settings } = property.input;
    const { hunt, units } = settings;
    const spots = allSpots(property);
    const stands = await casesOf(context, property, spots, 'stands.forecast');
    const light = legalLight(date, placeOf(property), ruleOf(property));
    if (!light)
      throw new Problem('The sun does not rise or set there on that day.', { fix: 'Choose another day.' });
    const wind = windSpeed < CALM ? 'calm' : SECTORS[sectorOf(windFrom)]!;
    const sheet = seasonSheet(stands, [], () => null, hunt.apart);
    const dates = new Map(spots.map((spot) => [spot.id, onDate(property, spot, date)]));
    const clock = (time: number) => clockOf(time, frame.longitude);
    const parts = HUNTED.flatMap((part): ForecastPart[] => {
      const lawful = lawfulPart(part, light);
      if (!lawful) return [];
      const passed: ForecastPart['passed'] = [];
      const choices = stands.flatMap(({ stand, cases }) => {
        const found = cases.find((each) => each.part === part && each.wind === wind)!;
        const day = dates.get(stand.id)!;
        const against = againstDate(day) ?? (found.hunt.usual ? null : found.why);
        if (against) passed.push({ stand: stand.id, name: stand.name, why: against });
        const clean = (found.clean?.usual ?? 0) * day.left;
        return against ? [] : [{ stand: stand.id, clean, firm: huntWord(found) === 'yes' }];
      });
      choices.sort((a, b) => b.clean - a.clean);
      const chosen = together(choices, hunters, sheet.apart, part, wind);
      const nameOf = (id: string) => spots.find((spot) => spot.id === id)!.name;
      for (const { stand } of choices)
        if (!chosen.some((each) => each.stand === stand))
          passed.push({
            stand,
            name: nameOf(stand),
            why: 'Others are better, or may not be sat together with it.',
          });
      const picks = chosen.map(({ stand, clean, firm }) => {
        const { left, reasons } = dates.get(stand)!;
        const less = left < 0.98 ? ` Less ${formatShare(1 - left)}: ${reasons.join('; ')}.` : '';
        return {
          stand,
          name: nameOf(stand),
          clean,
          left,
          seated: clock(lawful.from - hunt.settle * 60_000),
          why: `${formatShare(clean)} of the travel comes clean${firm ? '' : ', unless deer scent more keenly than is usual'}.${less}`,
        };
      });
      const sentence =
        picks.length === 0
          ? `Stay home ${partWords(part)}: ${passed[0]?.why ?? 'no stand can be hunted.'}`
          : `${picks.map(({ name }) => name).join(' and ')} ${partWords(part)}, seated by ${picks[0]!.seated}.`;
      return [{ part, from: clock(lawful.from), to: clock(lawful.to), picks, passed, sentence }];
    });
    return {
      wind,
      parts,
      phase: [...dates.values()][0]!.phase,
      moon: [...dates.values()][0]!.moon,
      zone: zoneName(frame.longitude),
      notes: [...speedNotes(stands, wind, windSpeed, units), ...notesOf(property)],
      seconds: (performance.now() - started) / 1000,
    };
  },
};

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
