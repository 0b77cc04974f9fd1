/** What grows or stands where, and how high: crown by crown, so that any window can be made alone. */
import { insideOf, nearestOf } from './lines.ts';
import { fractal, lattice, noise } from './random.ts';
import * as place from './scenario.ts';

export const PLANT = {
  timber: 0,
  pine: 1,
  brush: 2,
  grass: 3,
  corn: 4,
  hay: 5,
  wet: 6,
  water: 7,
  paving: 8,
  gravel: 9,
  roof: 10,
} as const;
export type Plant = (typeof PLANT)[keyof typeof PLANT];

/** A stand of trees or shrubs. */
interface Stand {
  /** One crown per square of this side, m. */
  spacing: number;
  radius: [number, number];
  height: [number, number];
}
const STANDS: Partial<Record<Plant, Stand>> = {
  [PLANT.timber]: { spacing: 6.5, radius: [3.2, 5.6], height: [13, 23] },
  [PLANT.pine]: { spacing: 4.2, radius: [1.9, 2.7], height: [9, 12] },
  [PLANT.brush]: { spacing: 2.6, radius: [0.8, 1.7], height: [0.5, 1.5] },
};

const toRail = nearestOf([place.RAIL], 20);
const toRoad = nearestOf([place.ROAD], 10);
const toCreek = nearestOf([place.CREEK], 24);
const toStrip = nearestOf([place.BRUSH_STRIP], 16);
const toPowerline = nearestOf([place.POWERLINE], 20);
const toLane = nearestOf([place.LANE], 4);
const toTrack = nearestOf([place.TRACK], 4);
const onRoof = insideOf(place.HOUSE, place.BARN);
const onPond = insideOf(place.POND);
const inCorn = insideOf(place.CORN_WEST, place.BEANS, place.CORN_EAST);
const inHay = insideOf(place.HAY, place.SPUR_PASTURE, ...place.SOUTH_PASTURES, ...place.NEIGHBOUR_FIELDS);
const inPines = insideOf(place.PINES, place.NORTH_PINES);
const onPoint = insideOf(place.BRUSHY_POINT);
const inThicket = insideOf(place.YOUNG_CUT, place.SOUTH_THICKET, place.EAST_THICKET);

/** The kind of cover at a place. */
function plantAt(x: number, y: number): Plant {
  if (onRoof(x, y)) return PLANT.roof;
  if (y > 870 && y < 1060) {
    const rail = toRail(x, y).distance;
    if (rail < 3) return PLANT.gravel;
    if (rail < 15 + 3 * noise(x / 15, y / 15, place.SEED + 100)) return PLANT.brush;
  }
  if (y > 640 && y < 790) {
    const road = toRoad(x, y).distance;
    if (road < 3) return PLANT.paving;
    if (road < 8) return PLANT.grass;
    const [west, south, east, north] = place.YARD;
    if (x > west - 12 && x < east + 12 && y > south - 8 && y < north + 12) return PLANT.grass;
  }
  if (onPond(x, y)) return PLANT.water;
  const onFloor = Math.abs(y - place.floorLine(x)) < 150;
  if (onFloor) {
    const creek = toCreek(x, y).distance;
    if (creek < (x > 1490 ? 4 : 3.3)) return PLANT.water;
    if (onLane(x, y)) return PLANT.gravel;
    if (inCorn(x, y)) return PLANT.corn;
    if (inHay(x, y)) return PLANT.hay;
    if (onPoint(x, y)) return PLANT.brush;
    if (creek < 11 + 9 * noise(x / 40, y / 40, place.SEED + 101)) return PLANT.timber;
    if (toStrip(x, y).distance < place.BRUSH_STRIP_WIDTH / 2) return PLANT.brush;
    if (noise(x / 60, y / 30, place.SEED + 102) > 0.58) return PLANT.wet;
    if (Math.abs(y - place.floorLine(x)) < 128) return PLANT.grass;
  }
  if (onLane(x, y)) return PLANT.gravel;
  if (inHay(x, y)) return PLANT.hay;
  if (toPowerline(x, y).distance < place.POWERLINE_WIDTH / 2) {
    return noise(x / 14, y / 14, place.SEED + 103) > 0.1 ? PLANT.brush : PLANT.grass;
  }
  if (behindFill(x, y)) return PLANT.wet;
  if (inPines(x, y)) return PLANT.pine;
  if (inThicket(x, y)) return PLANT.brush;
  // Hemlocks and pines by themselves here and there.
  return fractal(x / 120, y / 120, place.SEED + 104, 3) > 0.34 ? PLANT.pine : PLANT.timber;
}

const onLane = (x: number, y: number): boolean => toLane(x, y).distance < 2 || toTrack(x, y).distance < 1.5;

/** The soft ground where the fill holds water back above the eastern culvert. */
const behindFill = (x: number, y: number): boolean => ((x - 1840) / 14) ** 2 + ((y - 958) / 22) ** 2 < 1;

export interface Vegetation {
  plant: Uint8Array;
  /** Top of crowns, crops and roofs above the ground, m. */
  height: Float32Array;
  /** 0..1, the same all over one crown. */
  tint: Float32Array;
}

const WIDTH = place.WIDTH / place.PHOTO_CELL;
const HEIGHT = place.HEIGHT / place.PHOTO_CELL;

/** Plants and crowns on the photo's cells, row 0 north. */
export function makeVegetation(): Vegetation {
  const plant = new Uint8Array(WIDTH * HEIGHT);
  const height = new Float32Array(plant.length);
  const tint = new Float32Array(plant.length).fill(0.5);
  for (let row = 0, cell = 0; row < HEIGHT; row++) {
    for (let column = 0; column < WIDTH; column++, cell++) {
      const here = plantAt((column + 0.5) * place.PHOTO_CELL, place.HEIGHT - (row + 0.5) * place.PHOTO_CELL);
      plant[cell] = here;
      height[cell] = BARE_HEIGHT[here] ?? 0;
    }
  }
  const vegetation = { plant, height, tint };
  for (const kind of [PLANT.brush, PLANT.pine, PLANT.timber]) growStand(kind, vegetation);
  return vegetation;
}

const BARE_HEIGHT: Record<number, number> = {
  [PLANT.grass]: 0.2,
  [PLANT.hay]: 0.3,
  [PLANT.corn]: 2.2,
  [PLANT.wet]: 0.6,
  [PLANT.roof]: 6,
};

/** Stamps one crown per square of the stand's spacing, where the stem stands in its own kind of ground. */
function growStand(kind: Plant, { plant, height, tint }: Vegetation): void {
  const stand = STANDS[kind]!;
  const seed = place.SEED + 200 + 10 * kind;
  const cell = place.PHOTO_CELL;
  for (let r = 0; r < place.HEIGHT / stand.spacing; r++) {
    for (let c = 0; c < place.WIDTH / stand.spacing; c++) {
      const x = (c + lattice(c, r, seed)) * stand.spacing;
      const y = (r + lattice(c, r, seed + 1)) * stand.spacing;
      const column = Math.floor(x / cell);
      const row = Math.floor((place.HEIGHT - y) / cell);
      if (column >= WIDTH || row < 0 || row >= HEIGHT || plant[row * WIDTH + column] !== kind) continue;
      const size = lattice(c, r, seed + 2);
      const radius = stand.radius[0] + (stand.radius[1] - stand.radius[0]) * size;
      const top = stand.height[0] + (stand.height[1] - stand.height[0]) * size;
      const reach = Math.ceil(radius / cell);
      for (let j = Math.max(row - reach, 0); j <= Math.min(row + reach, HEIGHT - 1); j++) {
        for (let i = Math.max(column - reach, 0); i <= Math.min(column + reach, WIDTH - 1); i++) {
          const dx = ((i + 0.5) * cell - x) / radius;
          const dy = (place.HEIGHT - (j + 0.5) * cell - y) / radius;
          const away = dx * dx + dy * dy;
          if (away >= 1) continue;
          const crown = top * (0.62 + 0.38 * Math.sqrt(1 - away));
          const at = j * WIDTH + i;
          if (crown <= height[at]!) continue;
          height[at] = crown;
          tint[at] = lattice(c, r, seed + 3);
        }
      }
    }
  }
}
