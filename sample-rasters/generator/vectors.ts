/** Boundary and features as GeoJSON in longitude and latitude (RFC 7946). */
import type { Feature, FeatureCollection, Geometry } from 'geojson';
import proj4 from 'proj4';
import { insideOf, nearestOf, ringArea, type XY } from './lines.ts';
import * as place from './scenario.ts';

const NOTE = 'Invented property: ground, photo, wind, names and lines are made up; its place is nominal.';
const toGlobe = proj4('+proj=utm +zone=17 +datum=WGS84 +units=m +no_defs', 'WGS84');

type Attributes = Record<string, string | number | boolean | null>;

export function makeBoundary(): FeatureCollection & { note: string } {
  return collection([
    feature('boundary', 'boundary', place.NAME, area(place.BOUNDARY), { survey: false, invented: true }),
  ]);
}

export function makeFeatures(): FeatureCollection & { note: string } {
  const { DEEP, SHALLOW } = place;
  const split = place.CREEK.findIndex(([x]) => x < (place.DEEP_FROM + place.SHALLOW_TO) / 2);
  return collection([
    feature('road-county', 'road', 'County road', line(place.ROAD), { class: 'county', width: 6 }),
    feature('lane-farm', 'road', 'Farm lane', line(place.LANE), { class: 'lane', width: 3 }),
    feature('track-hollow', 'road', 'Track up the hollow', line(place.TRACK), { class: 'track', width: 2.5 }),
    feature('trail-saddle', 'trail', 'Old logging trail', line(place.TRAIL), { width: 1.5 }),
    feature('rail', 'railroad', 'Branch line', line(place.RAIL), { width: 9, bank: 5 }),
    feature('gap-underpass', 'gap', 'Stock underpass', point(place.UNDERPASS), {
      type: 'underpass',
      width: 9,
      crosses: 'rail',
    }),
    ...place.CULVERTS.map((at, i) =>
      feature(`gap-culvert-${i + 1}`, 'gap', `Pipe culvert ${i + 1}`, point(at), {
        type: 'culvert',
        width: 0.9,
        crosses: 'rail',
      }),
    ),
    feature('creek-deep', 'creek', 'Tallow Fork, deep-cut reach', line(place.CREEK.slice(0, split + 1)), {
      width: DEEP.width,
      depth: DEEP.depth,
    }),
    feature('creek-shallow', 'creek', 'Tallow Fork, shallow reach', line(place.CREEK.slice(split)), {
      width: SHALLOW.width,
      depth: SHALLOW.depth,
    }),
    feature('gap-ford', 'gap', 'Lane ford', point(crossing(place.LANE, place.CREEK)), {
      type: 'ford',
      width: 5,
      crosses: 'creek-shallow',
    }),
    feature('powerline', 'powerline', 'Power-line strip', line(place.POWERLINE), {
      width: place.POWERLINE_WIDTH,
    }),
    feature('fence-east', 'fence', 'East line fence', line(place.EAST_FENCE), { height: 1.2, wire: 'woven' }),
    ...place.RAIL_FENCES.map((fence, i) =>
      feature(
        `fence-rail-${i + 1}`,
        'fence',
        `Railroad fence, ${i === 0 ? 'hill' : 'creek'} side`,
        line(fence),
        {
          height: 2.7,
          wire: 'woven',
        },
      ),
    ),
    ...place.RAIL_FENCE_GAPS.map((at, i) =>
      feature(`gap-fence-rail-${i + 1}`, 'gap', 'Opening to the underpass', point(at), {
        type: 'gate',
        width: 9,
        crosses: `fence-rail-${i + 1}`,
      }),
    ),
    feature('gap-fence', 'gap', 'Lowered span', point(place.FENCE_GAP), {
      type: 'lowered',
      width: 4,
      crosses: 'fence-east',
    }),
    feature('crop-corn-west', 'crop', 'West corn field', area(place.CORN_WEST), { crop: 'corn' }),
    feature('crop-beans', 'crop', 'Bean field', area(place.BEANS), { crop: 'beans' }),
    feature('crop-corn-east', 'crop', 'East corn field', area(place.CORN_EAST), { crop: 'corn' }),
    feature('crop-hay', 'crop', 'Upland hay field', area(place.HAY), { crop: 'hay' }),
    feature('food-corn-west', 'food', 'West corn field', area(place.CORN_WEST), { crop: 'corn' }),
    feature('food-corn-east', 'food', 'East corn field', area(place.CORN_EAST), { crop: 'corn' }),
    feature('food-hay', 'food', 'Upland hay field', area(place.HAY), { crop: 'hay' }),
    feature('bed-cut', 'bedding', 'Briar cut on the hollow bench', area(place.YOUNG_CUT), {}),
    feature('bed-pines', 'bedding', 'Pines on the south bench', area(place.PINES), {}),
    feature('bed-north', 'bedding', 'Pines north of the saddle', area(place.NORTH_PINES), {}),
    feature('bed-south', 'bedding', 'Thicket beyond the road', area(place.SOUTH_THICKET), {}),
    feature('bed-east', 'bedding', 'Thicket in the east hollow', area(place.EAST_THICKET), {}),
    feature('pond', 'pond', 'Farm pond', area(place.POND), {}),
    feature('house', 'building', 'House', area(place.HOUSE), { height: 6 }),
    feature('barn', 'building', 'Barn', area(place.BARN), { height: 7 }),
    feature('access-yard', 'access', 'Yard', point(place.ACCESS), { type: 'parking' }),
    ...place.STANDS.map(({ id, name, at, seatHeight, weapon, range }) =>
      feature(id, 'stand', name, point(at), { seatHeight, weapon, range }),
    ),
    feature(
      'barricade-hillside',
      'barricade',
      'Felled tops on the open hillside',
      line(place.BARRICADE),
      { width: 4, height: 1.5 },
      'proposed',
    ),
  ]);
}

function feature(
  id: string,
  kind: string,
  name: string,
  geometry: Geometry,
  attributes: Attributes,
  status = 'existing',
): Feature {
  return { type: 'Feature', id, properties: { kind, name, status, ...attributes }, geometry };
}

const collection = (features: Feature[]): FeatureCollection & { note: string } => ({
  type: 'FeatureCollection',
  note: NOTE,
  features,
});

/** Degrees to seven places, about a centimetre. */
function globe([x, y]: XY): XY {
  const [longitude, latitude] = toGlobe.forward([place.WEST + x, place.SOUTH + y]) as XY;
  return [Number(longitude.toFixed(7)), Number(latitude.toFixed(7))];
}

const withinMap = insideOf([
  [0, 0],
  [place.WIDTH, 0],
  [place.WIDTH, place.HEIGHT],
  [0, place.HEIGHT],
]);

const point = (at: XY): Geometry => ({ type: 'Point', coordinates: globe(at) });
/** The one piece of a line that lies on the map, cut at its edge. */
function line(points: readonly XY[]): Geometry {
  const on: XY[] = [];
  // A line of two points that crosses the whole map has neither of them on it.
  const crosses = points.length === 2 && !points.some((end) => withinMap(...end));
  const path = crosses ? [points[0]!, halfWay(points[0]!, points[1]!), points[1]!] : points;
  path.forEach((point, index) => {
    const before = path[index - 1];
    const inside = withinMap(...point);
    if (before && inside !== withinMap(...before))
      on.push(inside ? edgeOf(point, before) : edgeOf(before, point));
    if (inside) on.push(point);
  });
  return { type: 'LineString', coordinates: on.map(globe) };
}

const halfWay = (a: XY, b: XY): XY => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];

/** Where the way from a point on the map to one off it leaves the map, to a hundredth of a metre. */
function edgeOf(inside: XY, outside: XY): XY {
  let [on, off] = [inside, outside];
  while (Math.hypot(on[0] - off[0], on[1] - off[1]) > 0.01) {
    const middle = halfWay(on, off);
    if (withinMap(...middle)) on = middle;
    else off = middle;
  }
  return on;
}

/** Rings counter-clockwise and closed, as RFC 7946 asks. */
function area(ring: readonly XY[]): Geometry {
  const open = sameXY(ring[0]!, ring[ring.length - 1]!) ? ring.slice(0, -1) : [...ring];
  const turned = ringArea(open) >= 0 ? open : open.reverse();
  return { type: 'Polygon', coordinates: [[...turned, turned[0]!].map(globe)] };
}

const sameXY = (a: XY, b: XY): boolean => a[0] === b[0] && a[1] === b[1];

/** The point of one line nearest to another. */
function crossing(a: readonly XY[], b: readonly XY[]): XY {
  const toLine = nearestOf([b], 50);
  const away = a.map(([x, y]) => toLine(x, y).distance);
  return a[away.indexOf(Math.min(...away))]!;
}
