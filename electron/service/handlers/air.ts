import { type Cloud, cloudAt } from '../../../core/air/clock.ts';
import { CRUISING, DAY_PARTS, seasonMiddle } from '../../../core/air/season.ts';
import { stabilityOf } from '../../../core/air/stability.ts';
import { sunAt, sunriseSunset } from '../../../core/air/sun.ts';
import { SECTORS } from '../../../core/air/types.ts';
import { ofKind } from '../../../core/features/feature.ts';
import { pathsOf } from '../../../core/features/shapes.ts';
import { formatLength, formatShare } from '../../../core/features/units.ts';
import { cellAt, type Point } from '../../../core/grid/frame.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { CHECK_REACH } from '../../../core/stands/deer-wind.ts';
import { NOSE_THRESHOLD } from '../../../core/stands/scent.ts';
import { creekWords } from '../../../core/stands/scent-words.ts';
import { standSubjects } from '../../../core/stands/subjects.ts';
import type { HourAir } from '../../workers/inquiries/air.ts';
import { type AirAsking, layerAt, nightOf, windsOf } from '../air-prepared.ts';
import { dayOf } from '../air-turns.ts';
import {
  betweenWords,
  coarseNotes,
  coolingNote,
  creekNote,
  NOSE_NOTE,
  nightNote,
  recordWords,
  stateWords,
  trailDoubts,
  trailWords,
  WAY_DOUBTS,
  windWords,
} from '../air-words.ts';
import { type Handlers, opened, type ServiceContext } from '../context.ts';
import type { OpenProperty } from '../open-property.ts';
import { keepOverlay } from '../overlays.ts';
import { clockOf, timeOf, zoneName } from '../standard-time.ts';

/** Slower wind counts as calm, m/s. */
export const CALM = 0.5;
const HOUR = 3_600_000;
/** A smaller share of the ground would read as none. */
const LEAST_TOLD = 0.005;

export interface HourAsked {
  date: string;
  hour: number;
  windFrom: number;
  windSpeed: number;
  cloud?: Cloud | undefined;
}

/** What the air is at an hour under a wind, made ready for the worker. */
export async function airOf(asking: AirAsking, asked: HourAsked): Promise<HourAir & { sun: number }> {
  const { longitude, latitude, convergence } = asking.property.input.frame;
  const { windSpeed, windFrom } = asked;
  const hours = timeOf(asked.date, asked.hour, longitude) / HOUR;
  const sun = sunriseSunset(hours, longitude, latitude);
  const { height } = sunAt(hours, longitude, latitude);
  const night = sun ? hours < sun.rise + 1 || hours > sun.set - 1 : height < 0;
  const cloud = cloudAt(asked.cloud ?? 0, hours, longitude);
  const kind = stabilityOf(windSpeed, height, night, 10 * cloud);
  const [winds, layer] = await Promise.all([
    windSpeed < CALM ? null : windsOf(asking, [0, 0.1]),
    layerAt(asking, hours, asked.cloud ?? 0, [0, 0.5]),
  ]);
  return {
    ground: winds && (night && kind !== 'D' ? winds.stable : winds.neutral),
    layer,
    // Winds are told by true north; the grid's is turned by the convergence.
    from: (windFrom - convergence + 720) % 360,
    speed: windSpeed < CALM ? 0 : windSpeed,
    cloud,
    kind,
    filled: filledBy(asking.property, layer.chilled),
    sun: height,
  };
}

/** Share of the still night's air that has gathered once the ground has lost so much heat, J/m2. */
function filledBy({ input }: OpenProperty, chilled: number): number {
  const { cooling, hours } = input.settings.air;
  return Math.min(1, chilled / (cooling * hours * 3600));
}

/** One request of the air: all its parts stop when it is taken back. */
const within = <T>(
  context: ServiceContext,
  of: string,
  work: (asking: AirAsking) => Promise<T>,
): Promise<T> => {
  const property = opened(context);
  return context.inquiring.within(of, (inquirer) => work({ context, property, inquirer }));
};

const overKeenest = (cells: Float32Array): Float32Array =>
  cells.map((dose) => (dose >= NOSE_THRESHOLD.low ? dose : Number.NaN));

/** The path that is walked: a drawn line, or one that is given. */
function pathOf(
  { input }: OpenProperty,
  way: { feature: string; reversed?: boolean | undefined } | { path: [number, number][] },
): Point[] {
  if ('path' in way) return way.path;
  const drawn = ofKind(input.sources.features, 'access', 'trail', 'road').find(
    ({ id }) => id === way.feature,
  );
  const paths = drawn ? pathsOf(drawn.geometry).filter((path) => path.length > 1) : [];
  if (paths.length === 0)
    throw new Problem('That is no way to walk.', { fix: 'Choose an access, a trail or a road.' });
  const path = paths.reduce((longest, next) => (next.length > longest.length ? next : longest));
  return way.reversed ? path.toReversed() : [...path];
}

export const airHandlers: Handlers<
  'air.rose' | 'air.clock' | 'air.scent' | 'air.wayScent' | 'air.turns' | 'air.stand' | 'air.trails'
> = {
  'air.rose': async (context, { season, parts }) => {
    const property = opened(context);
    const { table, span, kept } = await context.inquiring.ask(property, 'air.rose', {
      season: season === undefined ? CRUISING : season,
    });
    if (!table)
      return {
        parts: null,
        together: [],
        notes: [],
        sentence: 'No wind record: add one to see where wind comes from.',
        record: null,
      };
    const shown = table.parts.filter(({ part }) => (parts ?? DAY_PARTS).includes(part));
    const total = shown.reduce((sum, each) => sum + each.total, 0);
    const calms = shown.reduce((sum, each) => sum + each.calms, 0);
    const hours = SECTORS.map((_, k) => shown.reduce((sum, each) => sum + each.sectors[k]!.hours, 0));
    const most = hours.indexOf(Math.max(...hours));
    return {
      parts: shown,
      together: table.together,
      notes: [
        ...kept,
        ...table.notes,
        'Intervals are 95% and count the hours of one day and part as one, since hours follow one another.',
      ],
      sentence:
        total === 0
          ? 'The record has no hour in this season.'
          : `Most often from ${SECTORS[most]} (${formatShare(hours[most]! / total)} of ${total} hours); calm in ${formatShare(calms / total)}.`,
      record: span && { ...span, sentence: recordWords(span) },
    };
  },

  'air.clock': (context, asked) =>
    within(context, 'air.clock', async (asking) => {
      const { property, inquirer } = asking;
      const { units } = property.input.settings;
      const { sun, ...air } = await airOf(asking, asked);
      const { arrows, held, pools } = await inquirer.ask(property, 'air.clock', air, [0.5, 1]);
      const { longitude } = property.input.frame;
      const clock = clockOf(timeOf(asked.date, asked.hour, longitude), longitude);
      const title = `Cold air on ${asked.date} at ${clock} ${zoneName(longitude)}`;
      const { frame, depth, upEast, upSouth } = air.layer;
      const climbing = upEast!.reduce((count, u, i) => count + (u !== 0 || upSouth![i] !== 0 ? 1 : 0), 0);
      // By day there is no cold layer to speak of.
      const layer =
        held >= LEAST_TOLD
          ? `; the cold layer keeps its own flow over ${formatShare(held)} of the ground`
          : '';
      const slopes =
        climbing > 0
          ? `; ${asked.windSpeed < CALM ? 'air runs up' : 'sun-warmed slopes draw it up over'} ${formatShare(climbing / upEast!.length)} of the ground`
          : '';
      const full =
        pools && air.filled < 1
          ? `; pools hold ${formatShare(air.filled)} of what they hold at the end of the night`
          : '';
      return {
        state: air.kind,
        sun,
        arrows,
        held,
        filled: pools ? air.filled : 0,
        pools: pools && keepOverlay(property, 'air-pools', `Pools of still air at ${clock}`, pools),
        overlay: depth.some((metres) => metres > 0)
          ? keepOverlay(property, 'air-layer', title, { frame, cells: depth })
          : null,
        sentence: `At ${clock} ${zoneName(longitude)}, ${windWords(asked, units)}: ${stateWords(air.kind)}${layer}${slopes}${full}.`,
        notes: [
          coolingNote(property, asked.cloud),
          'Where air hardly moves or eddies behind a rise or a timber edge, its way is not known and none is drawn.',
        ],
      };
    }),

  'air.scent': (context, { x, y, height, ...asked }) =>
    within(context, 'air.scent', async (asking) => {
      const { property, inquirer } = asking;
      const { units } = property.input.settings;
      const { sun: _, ...air } = await airOf(asking, asked);
      const found = await inquirer.ask(
        property,
        'air.scent',
        {
          subject: {
            type: 'stand',
            id: 'spot',
            name: 'Spot',
            at: [x, y],
            seatHeight: height,
            proposed: true,
          },
          air,
          stage: property.input.settings.air.creekStage,
          units,
        },
        [0.5, 1],
      );
      const spill: [number, number] | null = found.creek?.spill
        ? [found.creek.spill[0], found.creek.spill[1]]
        : null;
      return {
        state: air.kind,
        eddying: found.eddying,
        overlay: keepOverlay(property, 'scent', `Scent, ${windWords(asked, units)}`, {
          frame: found.dilution.frame,
          cells: overKeenest(found.dilution.cells),
        }),
        verdict: found.verdict,
        carry: found.carry,
        beyond: found.beyond,
        travel: found.travel,
        bedding: found.bedding,
        creek: found.creek && {
          held: found.creek.held,
          seconds: found.creek.seconds,
          spill,
          words: creekWords(found.creek, units).join(', '),
        },
        spill,
        arrivals: found.arrivals,
        followed: found.followed,
        notes: [
          ...coarseNotes(property),
          NOSE_NOTE,
          coolingNote(property, asked.cloud),
          creekNote(property),
          ...(found.sheared === null
            ? []
            : [
                `It is carried by the wind near the ground. By a wind that grows with height as over open fields it would be over the threshold as far as ${formatLength(found.sheared, units)}, instead of ${formatLength(found.carry.usual, units)}.`,
              ]),
          ...(found.creek?.values
            ? [
                `The creek ${found.creek.spill ? 'where scent leaves it' : 'where scent comes to it'}: ${found.creek.values}.`,
              ]
            : []),
          `Scent is followed for ${Math.round(found.followed / 60)} minutes and ${formatLength(800, units)}: times are means of what came within that, and slower air is not seen beyond. It spreads as over open ground; timber spreads it faster.`,
        ],
      };
    }),

  'air.wayScent': (context, { way, pace = 1, ...asked }) =>
    within(context, 'air.wayScent', async (asking) => {
      const { property, inquirer } = asking;
      const { units } = property.input.settings;
      const path = pathOf(property, way);
      const { sun: _, ...air } = await airOf(asking, asked);
      const { dilution, stretches, ...found } = await inquirer.ask(
        property,
        'air.wayScent',
        { path, pace, air, units },
        [0.5, 1],
      );
      return {
        state: air.kind,
        overlay: keepOverlay(property, 'way-scent', `Scent of the way, ${windWords(asked, units)}`, {
          frame: dilution.frame,
          cells: overKeenest(dilution.cells),
        }),
        ...found,
        stretches: stretches.map((stretch) => ({
          ...stretch,
          path: stretch.path.map(([px, py]): [number, number] => [px, py]),
        })),
        doubts: WAY_DOUBTS,
        notes: [
          ...coarseNotes(property),
          NOSE_NOTE,
          coolingNote(property, asked.cloud),
          `The way is taken a minute at a time at ${formatLength(pace * 60, units)} a minute, and each place by its worst minute.`,
        ],
      };
    }),

  'air.turns': (context, { x, y, date, windSpeed = 0.5, cloud = 0 }) =>
    within(context, 'air.turns', (asking) =>
      dayOf(asking, { at: [x, y], date, weather: { wind: windSpeed, cloud } }),
    ),

  'air.stand': (context, { stand, season = CRUISING }) =>
    within(context, 'air.stand', async (asking) => {
      const { property, inquirer } = asking;
      const { frame, sources, settings } = property.input;
      const subjects = standSubjects(frame, sources.features, property.artifacts.necks ?? []);
      const subject = subjects.find(({ id }) => id === stand);
      if (!subject) throw new Problem('That stand is not on the map.', { fix: 'Choose one that is drawn.' });
      const noon = seasonMiddle(season, frame.longitude);
      const winds = await windsOf(asking, [0, 0.05]);
      const clock = await nightOf(asking, noon - 24, undefined, [0.05, 0.2]);
      const { cases, summary, deer, shared, notes } = await inquirer.ask(
        property,
        'air.stand',
        {
          subject,
          season,
          noon,
          place: { clock, ...winds },
          stage: settings.air.creekStage,
          units: settings.units,
        },
        [0.2, 1],
      );
      const cell = cellAt(clock.ground.frame, ...subject.at);
      const time = (hours: number | undefined) =>
        hours === undefined || Number.isNaN(hours) ? null : clockOf(hours * HOUR, frame.longitude);
      return {
        name: subject.name,
        cases: cases.map(({ part, wind, speed, share, air, finding }) => ({
          part,
          wind,
          speed,
          ...share,
          state: air,
          eddying: finding.eddying,
          carry: finding.carry.usual,
          travel: finding.travel.usual,
          bedding: finding.bedding,
          verdict: finding.verdict,
        })),
        parts: summary.parts,
        risks: summary.risks,
        deer,
        shared,
        turns: {
          begins: time(clock.turns.drainageBegins[cell]),
          ends: time(clock.turns.drainageEnds[cell]),
          upslopeBegins: time(clock.turns.upslopeBegins[cell]),
          upslopeEnds: time(clock.turns.upslopeEnds[cell]),
          sunReaches: time(clock.turns.sunReaches[cell]),
          zone: zoneName(frame.longitude),
        },
        notes: [
          ...coarseNotes(property),
          ...notes,
          NOSE_NOTE,
          nightNote(property),
          creekNote(property),
          'Each wind is taken at its mean speed and the middle cloud of its hours in the record; its hours one by one are counted under Wind.',
          `One clear day of the season stands for all; turning times are for cells of ${formatLength(clock.ground.frame.cellSize, settings.units)}.`,
        ],
      };
    }),

  'air.trails': async (context, { season }) => {
    const property = opened(context);
    const { units } = property.input.settings;
    const { trails, winds, bedding } = await context.inquiring.ask(property, 'air.trails', {
      season: season === undefined ? CRUISING : season,
    });
    return {
      trails: trails.map((trail) => ({
        ...trail,
        path: trail.path.map(([x, y]): [number, number] => [x, y]),
        sentence: trailWords(trail, units),
      })),
      winds,
      doubts: trailDoubts(property),
      bedding: bedding.map((each) => ({
        ...each,
        sentence: `Bedding here would be checked from the trail ${betweenWords(each, trails)}, ${formatLength(each.distance, units)} downwind, in ${formatShare(each.checked)} of the season's daylight hours.`,
      })),
      notes: [
        'A trail is judged the way it is drawn: walked the other way, into the wind and with it change places.',
        `A cruising buck is taken to check bedding from its downwind side, within about ${formatLength(CHECK_REACH, units)}: common practice, no source.`,
        ...(property.input.sources.wind ? [] : ['No wind record: no place for new bedding is proposed.']),
      ],
    };
  },
};
