import { CRUISING, DAY_PARTS } from '../../../core/air/season.ts';
import { stabilityOf } from '../../../core/air/stability.ts';
import { solarTime, sunAt, sunriseSunset } from '../../../core/air/sun.ts';
import { SECTORS } from '../../../core/air/types.ts';
import { formatLength, formatShare, formatSpeed, type Units } from '../../../core/features/units.ts';
import { cellAt } from '../../../core/grid/frame.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { NOSE_THRESHOLD } from '../../../core/stands/scent.ts';
import { standSubjects } from '../../../core/stands/subjects.ts';
import type { HourAir } from '../../workers/inquiries/air.ts';
import type { AirState } from '../air-answers.ts';
import { layerAt, nightOf, windsOf } from '../air-prepared.ts';
import { type Handlers, opened, type ServiceContext } from '../context.ts';
import type { OpenProperty } from '../open-property.ts';
import { keepOverlay } from '../overlays.ts';
import { clockOf, timeOf, zoneName } from '../standard-time.ts';

/** Slower wind counts as calm, m/s. */
const CALM = 0.5;
const HOUR = 3_600_000;

const stateWords = (state: AirState): string =>
  state === 'calm drainage' ? 'calm drainage' : `stability class ${state}`;

const coolingNote = ({ input }: OpenProperty): string =>
  `Clear sky is assumed. Open ground loses ${input.settings.air.cooling} W/m² on a clear calm night (a setting).`;
const NOSE_NOTE = `A deer is taken to notice scent thinned to ${NOSE_THRESHOLD.usual} s/m³ (band ${NOSE_THRESHOLD.low} to ${NOSE_THRESHOLD.high}): our assumption.`;

interface HourAsked {
  date: string;
  hour: number;
  windFrom: number;
  windSpeed: number;
}

/** What the air is at an hour under a wind, made ready for the worker. */
async function airOf(
  context: ServiceContext,
  property: OpenProperty,
  asked: HourAsked,
): Promise<HourAir & { sun: number }> {
  const { longitude, latitude, convergence } = property.input.frame;
  const hours = timeOf(asked.date, asked.hour, longitude) / HOUR;
  const sun = sunriseSunset(hours, longitude, latitude);
  const { height } = sunAt(hours, longitude, latitude);
  const night = sun ? hours < sun.rise + 1 || hours > sun.set - 1 : height < 0;
  const kind = stabilityOf(asked.windSpeed, height, night, 0);
  const [winds, layer] = await Promise.all([
    asked.windSpeed < CALM ? null : windsOf(context, property),
    layerAt(context, property, hours),
  ]);
  return {
    ground: winds && (night && kind !== 'D' ? winds.stable : winds.neutral),
    layer,
    // Winds are told by true north; the grid's is turned by the convergence.
    from: (asked.windFrom - convergence + 720) % 360,
    speed: asked.windSpeed < CALM ? 0 : asked.windSpeed,
    kind,
    sun: height,
  };
}

function windWords({ windFrom, windSpeed }: HourAsked, units: Units): string {
  if (windSpeed < CALM) return 'calm';
  return `${formatSpeed(windSpeed, units)} from ${SECTORS[Math.round((windFrom % 360) / 22.5) % 16]}`;
}

export const airHandlers: Handlers<'air.rose' | 'air.clock' | 'air.scent' | 'air.stand'> = {
  'air.rose': async (context, { season, parts }) => {
    const property = opened(context);
    const { table, kept } = await context.inquiring.ask(property, 'air.rose', {
      season: season === undefined ? CRUISING : season,
    });
    if (!table)
      return { parts: null, notes: [], sentence: 'No wind record: add one to see where wind comes from.' };
    const shown = table.parts.filter(({ part }) => (parts ?? DAY_PARTS).includes(part));
    const total = shown.reduce((sum, each) => sum + each.total, 0);
    const calms = shown.reduce((sum, each) => sum + each.calms, 0);
    const hours = SECTORS.map((_, k) => shown.reduce((sum, each) => sum + each.sectors[k]!.hours, 0));
    const most = hours.indexOf(Math.max(...hours));
    return {
      parts: shown,
      notes: [
        ...kept,
        ...table.notes,
        'Intervals are 95% and count the hours of one day and part as one, since hours follow one another.',
      ],
      sentence:
        total === 0
          ? 'The record has no hour in this season.'
          : `Most often from ${SECTORS[most]} (${formatShare(hours[most]! / total)} of ${total} hours); calm in ${formatShare(calms / total)}.`,
    };
  },

  'air.clock': async (context, asked) => {
    const property = opened(context);
    const { units } = property.input.settings;
    const { sun, ...air } = await airOf(context, property, asked);
    const { arrows, held } = await context.inquiring.ask(property, 'air.clock', air);
    const { longitude } = property.input.frame;
    const clock = clockOf(timeOf(asked.date, asked.hour, longitude), longitude);
    const title = `Cold air on ${asked.date} at ${clock} ${zoneName(longitude)}`;
    return {
      state: air.kind,
      sun,
      arrows,
      held,
      overlay: air.layer
        ? keepOverlay(property, 'air-layer', title, { frame: air.layer.frame, cells: air.layer.depth })
        : null,
      sentence: `At ${clock} ${zoneName(longitude)}, ${windWords(asked, units)}: ${stateWords(air.kind)}; the cold layer keeps its own flow over ${formatShare(held)} of the ground.`,
      notes: [coolingNote(property)],
    };
  },

  'air.scent': async (context, { x, y, height, ...asked }) => {
    const property = opened(context);
    const { units } = property.input.settings;
    const { sun: _, ...air } = await airOf(context, property, asked);
    const found = await context.inquiring.ask(property, 'air.scent', {
      subject: { type: 'stand', id: 'spot', name: 'Spot', at: [x, y], seatHeight: height, proposed: true },
      air,
      units,
    });
    const shown = found.dilution.cells.map((dose) => (dose >= NOSE_THRESHOLD.low ? dose : Number.NaN));
    return {
      state: air.kind,
      overlay: keepOverlay(property, 'scent', `Scent, ${windWords(asked, units)}`, {
        frame: found.dilution.frame,
        cells: shown,
      }),
      verdict: found.verdict,
      carry: found.carry,
      travel: found.travel,
      bedding: found.bedding,
      spill: found.creek?.spill ? [found.creek.spill[0], found.creek.spill[1]] : null,
      arrivals: found.arrivals,
      notes: [
        NOSE_NOTE,
        coolingNote(property),
        'Scent is followed for 15 minutes and 800 m; the walk spreads as over open ground, and timber spreads it faster.',
      ],
    };
  },

  'air.stand': async (context, { stand }) => {
    const property = opened(context);
    const { frame, sources, settings } = property.input;
    const subjects = standSubjects(frame, sources.features, property.artifacts.necks ?? []);
    const subject = subjects.find(({ id }) => id === stand);
    if (!subject) throw new Problem('That stand is not on the map.', { fix: 'Choose one that is drawn.' });
    // Solar noon of the fifth of November, the middle of the cruising weeks; the year hardly matters to the sun.
    const near = Date.UTC(2023, 10, 5, 12) / HOUR - frame.longitude / 15;
    const noon = near - solarTime(near, frame.longitude) + 12;
    const { cooling } = settings.air;
    const { cases, summary, deer, shared, notes } = await context.inquiring.ask(property, 'air.stand', {
      subject,
      noon,
      cooling,
      units: settings.units,
    });
    const clock = await nightOf(context, property, noon - 24);
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
        verdict: finding.verdict,
      })),
      parts: summary.parts,
      risks: summary.risks,
      deer,
      shared,
      turns: {
        begins: time(clock.begins[cell]),
        ends: time(clock.ends[cell]),
        zone: zoneName(frame.longitude),
      },
      notes: [
        ...notes,
        NOSE_NOTE,
        coolingNote(property),
        `One clear day of the season stands for all; turning times are for cells of ${formatLength(clock.ground.frame.cellSize, settings.units)}.`,
      ],
    };
  },
};
