import { computed, effect, signal, untracked } from '@preact/signals';
import type { Point } from '../../core/grid/frame.ts';
import type { CreekStage } from '../../core/stands/types.ts';
import { USUAL_SEAT } from '../words/air.ts';
import { startAim } from './aiming.ts';
import { airLeaf, daySun, hourAir, hourScent, spotTurns } from './air-asks.ts';
import { propertyKey, summary } from './session.ts';
import { cloudOfDay } from './sky.ts';
import { stands } from './stand-list.ts';
import { choose, stage } from './view.ts';

/** The clock of the air: a day, an hour and a wind, and whose scent is followed; playing steps it hour by hour. */

/** The middle of the cruising weeks of this year, an hour before the usual sunrise then. */
export const day = signal(`${new Date().getFullYear()}-11-05`);
/** Whole hours of standard time, 0..23. */
export const hour = signal(6);
/** Degrees from true north the wind comes from, and m/s; none at all is a calm. */
export const wind = signal({ from: 270, speed: 0 });
export const playing = signal(false);
export const arrowsOn = signal(true);

export type ScentSource = { stand: string } | { at: Point };
export const source = signal<ScentSource | null>(null);
/** Height of the seat at a spot, m; a stand brings its own. */
export const seat = signal(USUAL_SEAT);

/** Where scent is let go and from what height; null where none is, or its stand is gone. */
export const release = computed((): { at: Point; height: number; name: string | null } | null => {
  const of = source.value;
  if (!of) return null;
  if ('at' in of) return { at: of.at, height: seat.value, name: null };
  const stand = stands.value.find(({ id }) => id === of.stand);
  return stand ? { at: stand.at, height: stand.seat, name: stand.name } : null;
});

export const aimScent = (): void =>
  startAim({
    title: 'Scent',
    places: ['Click where the person sits or stands.'],
    done: ([at]) => {
      source.value = { at: at! };
    },
  });

export interface HourAsked {
  date: string;
  hour: number;
  windFrom: number;
  windSpeed: number;
  /** Share of the sky covered, for all hours or hour by hour. */
  cloud: number | number[];
}
export const asked = computed(
  (): HourAsked => ({
    date: day.value,
    hour: hour.value,
    // A calm comes from nowhere: its answers are the same for every bearing.
    windFrom: wind.value.speed > 0 ? wind.value.from : 0,
    windSpeed: wind.value.speed,
    cloud: cloudOfDay(wind.value),
  }),
);

/** Steps by whole hours, over midnight into the next day or the one before. */
export function stepHour(by: number): void {
  const next = hour.peek() + by;
  const days = Math.floor(next / 24);
  if (days !== 0) day.value = shiftDay(day.peek(), days);
  hour.value = next - 24 * days;
}

function shiftDay(date: string, days: number): string {
  const at = new Date(`${date}T00:00:00Z`);
  at.setUTCDate(at.getUTCDate() + days);
  return at.toISOString().slice(0, 10);
}

const AHEAD = 3;
const nextHours = (now: HourAsked): HourAsked[] =>
  Array.from({ length: AHEAD }, (_, k) => now.hour + 1 + k).map((next) => ({
    ...now,
    date: next < 24 ? now.date : shiftDay(now.date, 1),
    hour: next % 24,
  }));

/** How high the creeks stand, a setting of the property. */
export const creekStage = computed(() => {
  const air = summary.value?.settings.air as { creekStage?: CreekStage } | undefined;
  return air?.creekStage ?? 'dry';
});

/** The air step's own products must be there before the air of an hour can be asked. */
export const airReady = computed(
  () => summary.value?.layers.some(({ name }) => name === 'cold-air') ?? false,
);
/** Scent is held against travel, beds and creeks: these must be there as well. */
export const scentReady = computed(() => {
  const known = summary.value?.tables.map(({ name }) => name) ?? [];
  return airReady.value && ['areas', 'routes', 'channels'].every((name) => known.includes(name));
});
const open = computed(() => stage.value === 'air' && airLeaf.value === 'clock' && airReady.value);

/** Changes with all that an answer of the air rests on but its own question. */
const basis = computed(() => {
  const property = summary.value;
  const of = property?.layers.find(({ name }) => name === 'cold-air')?.key;
  return `${propertyKey.value} ${of} ${property?.units}`;
});
export const scentBasis = computed(() => {
  const keys = (summary.value?.tables ?? [])
    .filter(({ name }) => ['areas', 'routes', 'channels', 'features'].includes(name))
    .map(({ key }) => key);
  keys.push(creekStage.value);
  return `${basis.value} ${keys.join(' ')}`;
});

effect(() => {
  void basis.value;
  untracked(() => hourAir.forget());
});
effect(() => {
  void scentBasis.value;
  untracked(() => hourScent.forget());
});
effect(() => {
  void propertyKey.value;
  source.value = null;
  playing.value = false;
});
effect(() => {
  void basis.value;
  if (!open.value) return;
  const now = asked.value;
  untracked(() => hourAir.want(now, nextHours(now)));
});
effect(() => {
  void scentBasis.value;
  if (!open.value || !scentReady.value) return;
  const from = release.value;
  const now = asked.value;
  if (!from) {
    untracked(() => hourScent.forget());
    return;
  }
  const of = ({ date, hour: at, windFrom, windSpeed, cloud }: HourAsked) => ({
    x: from.at[0],
    y: from.at[1],
    height: from.height,
    date,
    hour: at,
    windFrom,
    windSpeed,
    cloud,
  });
  // A whole day of scent is long: it is asked ahead only while the clock plays.
  const next = playing.value ? nextHours(now).slice(0, 2) : [];
  untracked(() => hourScent.want(of(now), next.map(of)));
});
effect(() => {
  void basis.value;
  untracked(() => spotTurns.forget());
});
// When the air turns where scent is let go, under this wind of the station. A whole day of air is long to make: it waits
// until the hour wanted is on the map, and gives way to the next one.
effect(() => {
  void basis.value;
  const busy = hourAir.waiting.value || hourScent.waiting.value || playing.value;
  const from = open.value ? release.value : null;
  const date = day.value;
  const windSpeed = wind.value.speed;
  const cloud = cloudOfDay(wind.value);
  untracked(() => {
    const turns = from && { x: from.at[0], y: from.at[1], date, windSpeed, cloud };
    if (!turns) spotTurns.forget();
    else if (busy) {
      if (spotTurns.progress.peek() !== null) spotTurns.takeBack();
    } else if (JSON.stringify(turns) !== JSON.stringify(spotTurns.asked.peek())) void spotTurns.put(turns);
  });
});
effect(() => {
  if (stage.value === 'air' && summary.value) {
    const date = day.value;
    untracked(() => void daySun.put({ date }));
  }
});

/** How long an hour stays on the map while playing, ms; slower where motion is to be kept low. */
const pace = (): number => (window.matchMedia('(prefers-reduced-motion: reduce)').matches ? 2500 : 1100);

// Playing waits for its answers: an hour is passed only once it was shown.
effect(() => {
  if (!playing.value) return;
  if (!open.value) {
    playing.value = false;
    return;
  }
  if (hourAir.waiting.value || hourScent.waiting.value) return;
  void hour.value;
  const timer = setTimeout(() => {
    if (hour.peek() >= 23) playing.value = false;
    else stepHour(1);
  }, pace());
  return () => clearTimeout(timer);
});

export function play(): void {
  if (!playing.peek() && hour.peek() >= 23) hour.value = 0;
  playing.value = !playing.peek();
}

// The pictures of dawn would be taken for the hour's own air.
effect(() => {
  if (stage.value !== 'air') return;
  const night = airLeaf.value === 'night';
  untracked(() => {
    for (const layer of ['cold-air', 'pools', 'pool-marks', 'carries'] as const) choose(layer, { on: night });
  });
});
