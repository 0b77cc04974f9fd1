import { pathsOf } from '../../../core/features/shapes.ts';
import { formatArea, formatLength, formatShare } from '../../../core/features/units.ts';
import { cellAt, type Point } from '../../../core/grid/frame.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { thinned } from '../../../core/grid/thinned.ts';
import { SIGHT, sightLine } from '../../../core/terrain/sight.ts';
import { type Place, type SunTimes, sunPosition, sunTimes } from '../../../core/terrain/sun.ts';
import { polygonOf } from '../../writers/rings.ts';
import { type Handlers, opened } from '../context.ts';
import type { SightlineAnswer, SunAnswer } from '../contract.ts';
import type { OpenProperty } from '../open-property.ts';
import { keepOverlay } from '../overlays.ts';
import { clockOf, timeOf, zoneName } from '../standard-time.ts';
import { toFetch } from '../to-fetch.ts';

const BARE_GROUND =
  'Over bare ground, with the earth’s curve and refraction; trees and brush are not reckoned with.';
const SCREENED =
  'Through what stands on the ground. How much of the view a metre of it takes is our assumption where screening was not measured.';

/** Most places of a profile the window gets. */
const PROFILE = 400;

/** The middle of the property, at the height of its ground there. */
function placeOf({ input }: OpenProperty): Place {
  const { frame, sources } = input;
  const { longitude, latitude } = frame;
  const middle =
    sources.elevation.cells[Math.floor(frame.height / 2) * frame.width + Math.floor(frame.width / 2)]!;
  return { longitude, latitude, elevation: Number.isNaN(middle) ? 0 : middle };
}

const SUN_LABELS: [keyof SunTimes, string][] = [
  ['dawn', 'First civil light'],
  ['sunrise', 'Sunrise'],
  ['noon', 'Sun at its highest'],
  ['sunset', 'Sunset'],
  ['dusk', 'Last civil light'],
];

export const groundHandlers: Handlers<
  | 'ground.catchment'
  | 'ground.view'
  | 'ground.sightline'
  | 'ground.wayView'
  | 'ground.sun'
  | 'ground.shadow'
  | 'ground.drainage'
  | 'ground.toFetch'
> = {
  'ground.catchment': async (context, { x, y }) => {
    const property = opened(context);
    const { units } = property.input.settings;
    const { rings, ...found } = await context.inquiring.ask(property, 'ground.catchment', { at: [x, y] });
    const { area, snapped, reachesEdge } = found;
    const moved =
      snapped === null
        ? 'no drainage line is near'
        : `on the drainage line ${formatLength(snapped, units)} from the click`;
    const beyond = reachesEdge ? '; more may come from beyond the map' : '';
    return {
      ...found,
      outline: polygonOf(rings),
      sentence: `${formatArea(area, units)} drain to this spot (${moved})${beyond}.`,
    };
  },

  'ground.view': async (context, { x, y, observerHeight, targetHeight, radius, through }) => {
    const property = opened(context);
    const { units } = property.input.settings;
    const screened = through === 'vegetation';
    const { seen, clear, glimpsed } = await context.inquiring.ask(property, 'ground.view', {
      at: [x, y],
      options: { observerHeight, targetHeight, radius, refraction: SIGHT.refraction },
      screened,
      measured: screened ? property.input.sources.vegetation : null,
    });
    const overlay = keepOverlay(
      property,
      screened ? 'screened-view' : 'view',
      screened ? 'View through cover' : 'View over bare ground',
      seen,
    );
    const within = `within ${formatLength(radius, units)}`;
    return {
      overlay,
      clear,
      glimpsed,
      sentence: screened
        ? `${formatArea(clear, units)} in clear view ${within}, ${formatArea(glimpsed, units)} with glimpses.`
        : `${formatArea(clear, units)} in view ${within}.`,
      note: screened ? SCREENED : BARE_GROUND,
    };
  },

  'ground.wayView': async (context, { feature, observerHeight, targetHeight, radius }) => {
    const property = opened(context);
    const { sources, settings } = property.input;
    const way = sources.features.find(({ id }) => id === feature);
    const path = way ? pathsOf(way.geometry).flat() : [];
    if (!way || path.length < 2 || /Polygon/.test(way.geometry.type)) {
      throw new Problem('That is not a way that can be walked.', {
        fix: 'Choose a road, a trail or an access drawn as a line.',
      });
    }
    // A line of sight is the same both ways: the walker's height stands at the way, the deer's eye on the ground.
    const { share, seenFrom, areas } = await context.inquiring.ask(property, 'ground.wayView', {
      path,
      options: { observerHeight, targetHeight, radius, refraction: SIGHT.refraction },
    });
    const name = way.name ?? `the ${way.kind}`;
    const [most] = areas;
    return {
      overlay: keepOverlay(property, 'way-view', `Sees ${name}`, share),
      seenFrom,
      areas,
      sentence:
        most && most.share > 0
          ? `${name} is in view from ${formatArea(seenFrom, settings.units)} within ${formatLength(radius, settings.units)}; ${most.name} sees up to ${formatShare(most.share)} of it.`
          : `${name} is in view from ${formatArea(seenFrom, settings.units)} within ${formatLength(radius, settings.units)}, and from no area of travel.`,
      note: BARE_GROUND,
    };
  },

  'ground.sightline': async (
    context,
    { from, to, observerHeight, targetHeight },
  ): Promise<SightlineAnswer> => {
    const { input } = opened(context);
    const { units } = input.settings;
    const options = { ...SIGHT, observerHeight, targetHeight, radius: Number.POSITIVE_INFINITY };
    const { visible, profile, obstruction } = sightLine(input.sources.elevation, from, to, options);
    const length = profile.at(-1)!.distance;
    const known = (at: Point) => {
      const index = cellAt(input.frame, ...at);
      return index >= 0 && !Number.isNaN(input.sources.elevation.cells[index]!);
    };
    const sentence = visible
      ? `In sight over ${formatLength(length, units)}.`
      : obstruction
        ? `Hidden: ${formatLength(obstruction.distance, units)} out the ground stands ${formatLength(obstruction.above, units, 'height')} into the line.`
        : known(from) && known(to)
          ? 'The ground at an end lies at the rim of the elevation; nothing can be said.'
          : 'The ground at an end is not known; nothing can be said.';
    return {
      visible,
      profile: thinned(profile, PROFILE).map(({ distance, ground }) => ({
        distance,
        ground: Number.isNaN(ground) ? null : ground,
      })),
      length,
      obstruction,
      sentence,
      note: BARE_GROUND,
    };
  },

  'ground.sun': async (context, { date }): Promise<SunAnswer> => {
    const place = placeOf(opened(context));
    const [year, month, day] = date.split('-').map(Number) as [number, number, number];
    const times = sunTimes(year, month, day, place);
    return {
      times: SUN_LABELS.map(([event, label]) => {
        const time = times[event];
        return {
          event,
          label,
          utc: time === null ? null : new Date(Math.round(time / 1000) * 1000).toISOString(),
          standard: time === null ? null : clockOf(time, place.longitude),
        };
      }),
      zone: zoneName(place.longitude),
      note: 'Over a level horizon, in standard time by longitude: add an hour for daylight saving time, and check the clock near a zone’s line.',
    };
  },

  'ground.shadow': async (context, { date, hour }) => {
    const property = opened(context);
    const place = placeOf(property);
    const { azimuth, altitude } = sunPosition(timeOf(date, hour, place.longitude), place);
    const { lit, share } = await context.inquiring.ask(property, 'ground.shadow', {
      azimuth: azimuth - property.input.frame.convergence,
      altitude,
    });
    const clock = clockOf(timeOf(date, hour, place.longitude), place.longitude);
    const zone = zoneName(place.longitude);
    return {
      overlay: keepOverlay(property, 'shadow', `Shade on ${date} at ${clock} ${zone}`, lit),
      sun: { azimuth, altitude },
      share,
      sentence:
        altitude > 0
          ? `At ${clock} ${zone} the terrain keeps ${formatShare(share)} of the ground in the shade; the sun stands ${altitude.toFixed(0)}° high.`
          : `At ${clock} ${zone} the sun is down.`,
    };
  },

  'ground.drainage': async (context) => {
    const { artifacts, input } = opened(context);
    const { drainageStart, drainageLines } = artifacts;
    if (!drainageStart || !drainageLines) return null;
    const { area, how } = drainageStart;
    const why = {
      'set by the user': 'as you set it',
      'constant drop': 'chosen by the constant-drop test on this ground',
      'common size': 'a common size, since this ground does not settle it',
    }[how];
    return {
      area,
      how,
      lines: drainageLines.length,
      sentence: `Drainage lines start where ${formatArea(area, input.settings.units)} drain to: ${why}.`,
    };
  },

  'ground.toFetch': async (context) => toFetch(opened(context)),
};
