import type { ClockHour, Cloud, Turns } from '../../core/air/clock.ts';
import { solarTime, sunriseSunset } from '../../core/air/sun.ts';
import { formatLength } from '../../core/features/units.ts';
import { bearingOf } from '../../core/grid/bearing.ts';
import { cellAt, type Point } from '../../core/grid/frame.ts';
import { Problem } from '../../core/grid/problem.ts';
import type { SlopeAir, TurnsAnswer } from './air-answers.ts';
import { type AirAsking, nightOf } from './air-prepared.ts';
import { coolingNote } from './air-words.ts';
import { clockOf, timeOf, zoneName } from './standard-time.ts';

const HOUR = 3_600_000;
/** Air that drains faster than this drains, and that runs up faster than that runs up, m/s: as the clock counts. */
const DRAINS = 0.1;
const CLIMBS = 0.2;
/** What follows within this goes straight over, without still air between, h. */
const SOON = 0.4;

/** What the air does at a spot through a day: the morning from the night before, the evening from the night after. */
export async function dayOf(
  asking: AirAsking,
  { at, date, weather }: { at: Point; date: string; weather: { wind: number; cloud: Cloud } },
): Promise<TurnsAnswer> {
  const { property } = asking;
  const { longitude, latitude } = property.input.frame;
  const midday = timeOf(date, 12, longitude) / HOUR;
  const noon = midday - solarTime(midday, longitude) + 12;
  const before = await nightOf(asking, noon - 24, weather, [0, 0.5]);
  const after = await nightOf(asking, noon, weather, [0.5, 1]);
  const { ground } = before;
  const cell = cellAt(ground.frame, ...at);
  if (cell < 0 || Number.isNaN(ground.cells[cell]!))
    throw new Problem('There is no ground at that spot.', { fix: 'Click on ground inside the map.' });

  const one = (turns: Turns, name: keyof Turns) => turns[name][cell]!;
  const evening = (name: 'sunLeaves' | 'upslopeEnds', early: 'sunLast' | 'upslopeLast') => {
    const late = one(after.turns, name);
    return Number.isNaN(late) ? one(before.turns, early) : late;
  };
  const times = {
    drainageEnds: afterMidnight(one(before.turns, 'drainageEnds'), noon),
    upslopeBegins: one(before.turns, 'upslopeBegins'),
    upslopeEnds: evening('upslopeEnds', 'upslopeLast'),
    drainageBegins: one(after.turns, 'drainageBegins'),
    sunReaches: one(before.turns, 'sunReaches'),
    sunLeaves: evening('sunLeaves', 'sunLast'),
  };
  const clock = (hours: number) => (Number.isNaN(hours) ? null : clockOf(hours * HOUR, longitude));
  const start = timeOf(date, 0, longitude) / HOUR;
  const turns = turnsOf(times)
    .filter(({ hours }) => hours >= start && hours < start + 24)
    .map(({ hours, from, to }) => ({ at: clock(hours)!, hour: hours - start, from, to }));
  const sun = sunriseSunset(noon, longitude, latitude);
  return {
    zone: zoneName(longitude),
    sunReaches: clock(times.sunReaches),
    sunLeaves: clock(times.sunLeaves),
    turns,
    hours: Array.from({ length: 24 }, (_, hour) => {
      const now = start + hour;
      const looks = now < noon + 3 ? before.hours : after.hours;
      return { hour, ...airAt(nearest(looks, now), cell) };
    }),
    sentence: sentenceOf(turns, sun && { rise: clock(sun.rise)!, set: clock(sun.set)! }),
    notes: [
      coolingNote(property, weather.cloud),
      `Reckoned every ten minutes on cells of ${formatLength(ground.frame.cellSize, property.input.settings.units)}; the wind of the station is not in it but as far as it mixes cold air away.`,
    ],
  };
}

const afterMidnight = (hours: number, noon: number): number => (hours > noon - 12 ? hours : Number.NaN);

function turnsOf(times: Record<'drainageEnds' | 'upslopeBegins' | 'upslopeEnds' | 'drainageBegins', number>) {
  const { drainageEnds, upslopeBegins, upslopeEnds, drainageBegins } = times;
  const soon = (a: number, b: number) => Math.abs(b - a) <= SOON;
  const turns: { hours: number; from: SlopeAir; to: SlopeAir }[] = [];
  const add = (hours: number, from: SlopeAir, to: SlopeAir) => {
    if (!Number.isNaN(hours)) turns.push({ hours, from, to });
  };
  if (soon(drainageEnds, upslopeBegins)) add(upslopeBegins, 'drains', 'upslope');
  else {
    add(drainageEnds, 'drains', 'still');
    add(upslopeBegins, 'still', 'upslope');
  }
  if (soon(upslopeEnds, drainageBegins)) add(drainageBegins, 'upslope', 'drains');
  else {
    add(upslopeEnds, 'upslope', 'still');
    add(drainageBegins, 'still', 'drains');
  }
  return turns.sort((a, b) => a.hours - b.hours);
}

const nearest = (looks: readonly ClockHour[], hours: number): ClockHour =>
  looks.reduce((best, next) => (Math.abs(next.hours - hours) < Math.abs(best.hours - hours) ? next : best));

function airAt(look: ClockHour, cell: number): { air: SlopeAir; speed: number; towards: number | null } {
  const towards = (east: number, south: number) => bearingOf(east, -south);
  const down = Math.hypot(look.east[cell]!, look.south[cell]!);
  if (look.depth[cell]! > 0.05 && down >= DRAINS)
    return { air: 'drains', speed: down, towards: towards(look.east[cell]!, look.south[cell]!) };
  const up = Math.hypot(look.upEast[cell]!, look.upSouth[cell]!);
  if (up >= CLIMBS)
    return { air: 'upslope', speed: up, towards: towards(look.upEast[cell]!, look.upSouth[cell]!) };
  return { air: 'still', speed: Math.max(up, down), towards: null };
}

const DOES: Record<SlopeAir, string> = {
  drains: 'drains',
  still: 'stands still',
  upslope: 'runs up the slope',
};

function sentenceOf(turns: TurnsAnswer['turns'], sun: { rise: string; set: string } | null): string {
  const daylight = sun ? ` Sunrise ${sun.rise}, sunset ${sun.set}.` : '';
  const [first] = turns;
  if (!first) return `The air does not turn here that day.${daylight}`;
  const words = turns.map(({ at, to }) => `from ${at} it ${DOES[to]}`);
  return `The air ${DOES[first.from]} until ${first.at}; ${words.join(', ')}.${daylight}`;
}
