import { numberOr, ofKind } from '../../../core/features/feature.ts';
import { pathsOf } from '../../../core/features/shapes.ts';
import type { Point } from '../../../core/grid/frame.ts';
import { Problem } from '../../../core/grid/problem.ts';
import { pathLength } from '../../../core/grid/simplify.ts';
import { cautionsOf } from '../../../core/plan/cautions.ts';
import { along } from '../../../core/stands/reach.ts';
import { isScreenPlant } from '../../../core/stands/screen-growth.ts';
import { besidePath, crescent } from '../../../core/stands/screen-shapes.ts';
import type { Hidden } from '../../../core/stands/screen-trial.ts';
import { eyeHeight } from '../../../core/stands/spot.ts';
import type { StandSpot } from '../../../core/stands/types.ts';
import { MINDS } from '../../../core/stands/watchers.ts';
import { type Handlers, opened } from '../context.ts';
import type { RequestParams } from '../contract.ts';
import type { OpenProperty } from '../open-property.ts';
import { spotAsked } from '../spot-asked.ts';

type Asked = RequestParams<'stands.screen'>;

/** Top of somebody standing, m. */
const PERSON = 1.7;
/** A way is looked at from this many places at most. */
const PLACES = 30;

/** Bearing from the stand to where most travel near by passes, degrees from grid north; null with none near. */
function towardsTravel({ artifacts }: OpenProperty, [x, y]: Point): number | null {
  let [east, north] = [0, 0];
  for (const { path, share } of artifacts.routes ?? [])
    for (const { at, length } of along(path, 10)) {
      const distance = Math.hypot(at[0] - x, at[1] - y);
      if (distance < 1 || distance > MINDS) continue;
      const weight = (share * length * (1 - distance / MINDS)) / distance;
      east += (at[0] - x) * weight;
      north += (at[1] - y) * weight;
    }
  return east === 0 && north === 0 ? null : ((Math.atan2(east, north) * 180) / Math.PI + 360) % 360;
}

const lineOf = (
  property: OpenProperty,
  id: string | null,
  what: string,
): { name: string; paths: Point[][] } => {
  const feature = property.input.sources.features.find((each) => each.id === id);
  const paths = feature ? pathsOf(feature.geometry) : [];
  if (!feature || paths.length === 0)
    throw new Problem(`No ${what} was given.`, { fix: `Choose a ${what} that is drawn as a line.` });
  return { name: feature.name ?? `the ${feature.kind}`, paths };
};

/** Places along a way, evenly. */
function placesOf(paths: readonly Point[][]): Point[] {
  const length = paths.reduce((sum, path) => sum + pathLength(path), 0);
  const step = Math.max(10, length / PLACES);
  return paths.flatMap((path) => [...along(path, step)].map(({ at }) => at));
}

const standHidden = (spot: StandSpot): Hidden[] => [
  { name: `Somebody standing at ${spot.name}`, places: [spot.at], height: PERSON },
  { name: `The hunter in the seat of ${spot.name}`, places: [spot.at], height: eyeHeight(spot) },
];

/** The lines to be tried and, of a crescent, where it opens, degrees from true north. */
function candidatesOf(property: OpenProperty, asked: Asked, spot: StandSpot | null) {
  const { convergence } = property.input.frame;
  if (asked.shape === 'crescent') {
    const towards = towardsTravel(property, spot!.at);
    const opens = asked.opens ?? ((towards ?? 0) + 180 + convergence) % 360;
    const line = crescent(spot!.at, asked.radius, opens - convergence, asked.gap);
    return { candidates: [{ name: 'crescent', lines: [line] }], opens: (opens + 360) % 360 };
  }
  if (asked.shape === 'drawn')
    return {
      candidates: [{ name: 'drawn', lines: lineOf(property, asked.screen, 'screen').paths }],
      opens: null,
    };
  const { paths } = lineOf(property, asked.way, 'way');
  const sides = asked.side ? [asked.side] : (['left', 'right'] as const);
  return {
    candidates: sides.map((side) => ({
      name: side as string,
      lines: paths.map((path) => besidePath(path, side === 'right' ? asked.offset : -asked.offset)),
    })),
    opens: null,
  };
}

export const screenHandlers: Handlers<'stands.screen'> = {
  'stands.screen': async (context, asked) => {
    const property = opened(context);
    const started = performance.now();
    const { stands: settings, units } = property.input.settings;
    const ofStand = asked.shape === 'crescent' || (asked.shape === 'drawn' && asked.way === null);
    const { stand, at, seatHeight, weapon, range } = asked;
    const spot = ofStand ? spotAsked(property, { stand, at, seatHeight, weapon, range }) : null;
    const drawn =
      asked.shape === 'drawn'
        ? ofKind(property.input.sources.features, 'screen').find(({ id }) => id === asked.screen)
        : undefined;
    const stated = drawn?.attributes.species;
    const plant = asked.plant ?? (isScreenPlant(stated) ? stated : 'switchgrass');
    const rows = drawn ? numberOr(drawn.attributes.rows, asked.rows) : asked.rows;
    const rowSpacing = drawn ? numberOr(drawn.attributes.rowSpacing, asked.rowSpacing) : asked.rowSpacing;
    const width = rows * rowSpacing;
    const { candidates, opens } = candidatesOf(property, asked, spot);
    const way = asked.way === null ? null : lineOf(property, asked.way, 'way');
    const hidden = spot
      ? standHidden(spot)
      : [{ name: `Somebody on ${way!.name}`, places: placesOf(way!.paths), height: PERSON }];
    const { trials } = await context.inquiring.ask(property, 'stands.screen', {
      candidates,
      plant,
      width,
      hidden,
      spot,
      leaves: settings.leaves,
      units,
    });
    const [best] = trials;
    const age = drawn ? numberOr(drawn.attributes.age, null) : null;
    return {
      trial: best!.trial,
      lines: {
        type: 'FeatureCollection',
        features: best!.lines.map((coordinates, k) => ({
          type: 'Feature',
          id: `screen-${k}`,
          geometry: { type: 'LineString', coordinates },
          properties: { says: plant },
        })),
      },
      plant,
      width,
      length: best!.lines.reduce((sum, line) => sum + pathLength(line), 0),
      opens,
      side: asked.shape === 'beside' ? best!.name : null,
      attributes: {
        species: plant,
        rows,
        rowSpacing,
        ...(plant === 'switchgrass'
          ? { plant: 'seed' }
          : plant === 'giant miscanthus'
            ? { plant: 'rhizomes' }
            : {}),
      },
      notes: [
        'Season 1 is the fall after it is planted in spring; season 0 is without it. Looks are from deer’s eyes within 250 m, the nearer counting more, with the ground and cover of today.',
        ...(age === null
          ? []
          : [`It was planted ${age} years ago: this fall is season ${Math.floor(age) + 1}.`]),
        ...(opens === null || asked.opens !== null
          ? []
          : ['The crescent opens away from the travel near by; turn it to where you come in.']),
      ],
      cautions: [...cautionsOf('screen planting')],
      seconds: (performance.now() - started) / 1000,
    };
  },
};
