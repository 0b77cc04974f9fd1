import { formatShare } from '../../../core/features/units.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { daysOf, isWithin } from '../../../core/stands/calendar.ts';
import { HUNTED, type StandCases } from '../../../core/stands/case-verdict.ts';
import {
  type Barred,
  type CalendarInput,
  type Chance,
  hourCalendar,
} from '../../../core/stands/hour-calendar.ts';
import { lawfulPart, legalLight } from '../../../core/stands/legal-light.ts';
import { closedAt, closedWords, disturbance, quietGrounds } from '../../../core/stands/quiet-ground.ts';
import { restOf } from '../../../core/stands/resting.ts';
import { phaseOn, rutPhases } from '../../../core/stands/rut.ts';
import type { StandSpot } from '../../../core/stands/types.ts';
import { visitsOf } from '../../../core/stands/visits.ts';
import { type AskContext, type Handlers, opened } from '../context.ts';
import { allSpots, notesOf, placeOf, ruleOf } from '../hunt-basis.ts';
import type { OpenProperty } from '../open-property.ts';
import { clockOf, timeOf, zoneName } from '../standard-time.ts';
import type { HoursDay } from '../verdict-answers.ts';
import { casesOf, windOf } from '../verdict-prepared.ts';
import { casesWithWays } from '../verdict-ways.ts';
import { WALKED, wayNotes } from './verdict.ts';

const REQUEST = 'stands.hours';
/** Fewer hours of the record than this say little of a part of the day in a month: our assumption. */
const FEW = 60;

const MONTHS = 'January February March April May June July August September October November December'.split(
  ' ',
);

export const hoursHandlers: Handlers<'stands.hours'> = {
  'stands.hours': async (context, { stand, year }) => {
    const property = opened(context);
    const started = performance.now();
    const { frame, settings, sources } = property.input;
    const all = allSpots(property);
    const spots = stand === null ? all : all.filter(({ id }) => id === stand);
    if (spots.length === 0)
      throw new Problem('That stand is not on the map any more.', { fix: 'Choose another stand.' });
    const days = daysOf(settings.hunt.season, year);
    const lights = days.map((date) => legalLight(date, placeOf(property), ruleOf(property)));
    const parts = HUNTED.filter((part) => lights.some((light) => light && lawfulPart(part, light)));
    const grounds = quietGrounds(sources.features);
    const visits = visitsOf(sources.features);
    const phases = rutPhases(frame.latitude, settings.hunt.rutPeak);
    const names = Object.fromEntries(spots.map(({ id, name }) => [id, name]));
    const casesOn = await casesByDay(context, property, spots, parts);
    const barredOn = (date: string): Barred[] =>
      spots.flatMap(({ id, name, at }): Barred[] => {
        const closed = closedAt(grounds, at, date.slice(5));
        if (closed) return [{ stand: id, by: 'closed', why: `${closedWords(closed)}.` }];
        const { wait } = restOf(visits, id, date, settings.hunt.rest);
        return wait > 0
          ? [{ stand: id, by: 'rest', why: `${name} rests ${wait} more ${wait === 1 ? 'day' : 'days'}.` }]
          : [];
      });
    const inputs: CalendarInput[] = [];
    for (const [k, date] of days.entries())
      inputs.push({
        date,
        midnight: timeOf(date, 0, frame.longitude),
        light: lights[k]!,
        stands: await casesOn(date.slice(5)),
        barred: barredOn(date),
      });
    const winds = new Map<number, Awaited<ReturnType<typeof windOf>>>();
    for (const month of new Set(days.map((date) => Number(date.slice(5, 7)))))
      winds.set(month, await windOf(context, property, wholeMonth(month), REQUEST));
    const calendar = hourCalendar(
      inputs,
      (month, part) => winds.get(month)?.parts.find((each) => each.part === part) ?? null,
    );
    return {
      days: calendar.days.map((day, k): HoursDay => {
        const { date } = day;
        const light = lights[k]!;
        return {
          ...day,
          light: light && {
            from: clockOf(light.from, frame.longitude),
            to: clockOf(light.to, frame.longitude),
          },
          phase: phaseOn(phases, date.slice(5))?.name ?? null,
          disturbed: spots.flatMap(({ name, at }) => {
            const { left, reasons } = disturbance(visits, grounds, at, date);
            return left < 0.98
              ? [`${name}: visits leave ${formatShare(left)} of the travel expected (${reasons.join('; ')}).`]
              : [];
          }),
          sits: visits.flatMap((visit) =>
            visit.who === 'sit' && visit.date === date && visit.stand !== null && visit.stand in names
              ? [names[visit.stand]!]
              : [],
          ),
        };
      }),
      chances: calendar.chances,
      names,
      zone: zoneName(frame.longitude),
      doubts: doubtsOf(property, calendar.chances),
      notes: [
        ...wayNotes(property, await casesOn(days[0]!.slice(5))),
        `An hour’s share is that of the record’s hours of its month and part of the day whose wind is good for the stand, with a clean way in ${WALKED[settings.hunt.arrive]}. It is what is usual, not a forecast.`,
        `A stand rests ${settings.hunt.rest} days after a sit that is written down, and hours on closed ground are left out.`,
        ...notesOf(property),
      ],
      seconds: (performance.now() - started) / 1000,
    };
  },
};

const wholeMonth = (month: number) => {
  const two = String(month).padStart(2, '0');
  const last = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1]!;
  return { from: `${two}-01`, to: `${two}-${last}` };
};

/** The stands' cases by the day (MM-DD): days with the same ground closed share theirs, as ways keep out of it. */
async function casesByDay(
  context: AskContext,
  property: OpenProperty,
  spots: readonly StandSpot[],
  parts: (typeof HUNTED)[number][],
): Promise<(day: string) => Promise<StandCases[]>> {
  const scented = await casesOf(context, property, spots, REQUEST);
  const grounds = quietGrounds(property.input.sources.features);
  const known = new Map<string, StandCases[]>();
  return async (day) => {
    const closed = grounds.filter(({ window }) => window === null || isWithin(day, window));
    const key = closed.map(({ id }) => id).join(' ');
    const found =
      known.get(key) ?? (await casesWithWays(context, property, spots, scented, { closed, parts }, REQUEST));
    known.set(key, found);
    return found;
  };
}

/** What the record does not tell. */
function doubtsOf({ artifacts }: OpenProperty, chances: readonly Chance[]): string[] {
  if (!artifacts.wind)
    return [
      'There is no wind record, so how many of these hours have a good wind is not known: only light, rest and closed ground are. Add a record under Air.',
    ];
  const empty = monthsOf(chances.filter(({ counted }) => counted === 0));
  const thin = chances.filter(({ counted }) => counted !== null && counted > 0 && counted < FEW);
  const variable = Math.max(0, ...chances.map((each) => each.variable ?? 0));
  return [
    ...(empty ? [`The wind record has no hour of ${empty}: those hours are not known.`] : []),
    ...(thin.length > 0
      ? [
          `The wind record has fewer than ${FEW} hours in some parts of the day in ${monthsOf(thin)}: their shares say little.`,
        ]
      : []),
    ...(variable > 0.02
      ? [
          `In up to ${formatShare(variable)} of the hours the wind had no direction; they are counted as not to be hunted.`,
        ]
      : []),
    'The wind is the station’s. The day’s own wind, weather and deer decide; look at a day with its forecast wind under A day.',
  ];
}

const monthsOf = (chances: readonly Chance[]): string =>
  [...new Set(chances.map(({ month }) => MONTHS[month - 1]!))].join(' and ');
