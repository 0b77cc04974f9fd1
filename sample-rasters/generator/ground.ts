/** Elevation of the invented property: carved hill country, then the works of creek, farm and railroad. */
import { carve, cubic, type Land } from './landscape.ts';
import { insideOf, nearestOf, ramp } from './lines.ts';
import { fractal, noise } from './random.ts';
import * as place from './scenario.ts';

/** m, row 0 north, at `GROUND_CELL`; heights are whole 128ths of a metre, which 32-bit floats hold exactly. */
export function makeGround(): Float32Array {
  const land = carvedLand();
  const width = place.WIDTH / place.GROUND_CELL;
  const height = place.HEIGHT / place.GROUND_CELL;
  const ground = new Float32Array(width * height);
  const scale = place.GROUND_CELL / land.cellSize;
  for (let row = 0, cell = 0; row < height; row++) {
    const y = place.HEIGHT - (row + 0.5) * place.GROUND_CELL;
    for (let column = 0; column < width; column++, cell++) {
      const x = (column + 0.5) * place.GROUND_CELL;
      const hill = cubic(
        land.z,
        land.width,
        land.height,
        (column + 0.5) * scale - 0.5,
        (row + 0.5) * scale - 0.5,
      );
      const z = works(x, y, creek(x, y, floor(x, y, benches(x, y, hill))));
      ground[cell] = Math.round(z * 128) / 128;
    }
  }
  return ground;
}

const toHollow = nearestOf(place.HOLLOWS, 10);
const toCreek = nearestOf([place.CREEK], 165);
const toRail = nearestOf([place.RAIL], 60);
const toRoad = nearestOf([place.ROAD], 16);
const toDitch = nearestOf(place.DITCHES, 6);
const toStrip = nearestOf([place.BRUSH_STRIP], 20);

const SOUTH_FLOOR = 115;
const NORTH_FLOOR = 30;

/** Metres beyond the edge of the farm's valley floor; negative on the floor. */
function beyondFloor(x: number, y: number): number {
  return Math.abs(y - place.floorLine(x)) - SOUTH_FLOOR - 30 * fractal(x / 260, y / 260, place.SEED + 50, 2);
}

/** Mean elevation of the valley floor: a terrace over the deep-cut reach, near the water over the shallow one. */
function floorElevation(x: number): number {
  const deep = ramp(x, place.SHALLOW_TO, place.DEEP_FROM);
  return place.bedElevation(x) + place.SHALLOW.depth + (place.DEEP.depth - place.SHALLOW.depth) * deep;
}

/** Runs the erosion at 10 m, then at 5 m for the fine draws. */
function carvedLand(): Land {
  const coarse = rawLand(10);
  carve(coarse, { streams: 1, creep: 450, step: 0.05, steps: 160 });
  const land = rawLand(5);
  for (let row = 0, cell = 0; row < land.height; row++) {
    for (let column = 0; column < land.width; column++, cell++) {
      if (land.fixed[cell]) continue;
      land.z[cell] = cubic(
        coarse.z,
        coarse.width,
        coarse.height,
        (column + 0.5) / 2 - 0.5,
        (row + 0.5) / 2 - 0.5,
      );
    }
  }
  carve(land, { streams: 1, creep: 450, step: 0.02, steps: 25 });
  return land;
}

/** A low swell along the future ridge between two valley floors that are given. */
function rawLand(cellSize: number): Land {
  const width = place.WIDTH / cellSize;
  const height = place.HEIGHT / cellSize;
  const count = width * height;
  const land: Land = {
    width,
    height,
    cellSize,
    z: new Float64Array(count),
    fixed: new Uint8Array(count),
    uplift: new Float64Array(count),
  };
  const { SEED: seed } = place;
  for (let row = 0, cell = 0; row < height; row++) {
    const y = place.HEIGHT - (row + 0.5) * cellSize;
    for (let column = 0; column < width; column++, cell++) {
      const x = (column + 0.5) * cellSize;
      const south = beyondFloor(x, y);
      const north =
        Math.abs(y - place.northFloorLine(x)) - NORTH_FLOOR - 15 * fractal(x / 200, y / 200, seed + 60, 2);
      const southFloor = 200 + 0.003 * x;
      const hollow = toHollow(x, y);
      const northFloor = 214 + 0.0025 * (place.WIDTH - x);
      land.uplift[cell] =
        9 *
        (1 + 0.2 * fractal(x / 420, y / 420, seed + 30, 2)) *
        (1 - 0.45 * hump(x - 1480, y - 1660, 150, 190));
      if (south < 0) {
        land.fixed[cell] = 1;
        land.z[cell] = southFloor;
      } else if (hollow.distance < 9) {
        land.fixed[cell] = 1;
        land.z[cell] = Math.max(southFloor, floorElevation(x) + 0.9) + place.HOLLOW_GRADE * hollow.along;
      } else if (north < 0) {
        land.fixed[cell] = 1;
        land.z[cell] = northFloor;
      } else if (row === height - 1) {
        land.fixed[cell] = 1;
        land.z[cell] = 238 + 6 * fractal(x / 200, 0, seed + 9, 3);
      } else {
        const swell = 16 * Math.exp(-(((y - 1690 - 60 * Math.sin(x / 500)) / 200) ** 2));
        land.z[cell] =
          Math.min(southFloor + south * 0.02, northFloor + north * 0.02) +
          8 +
          swell +
          12 * fractal(x / 330, y / 330, seed, 4, 0.55) -
          (y > 900 ? 6 * (trough(x - 1330 - (y - 950) * 0.15) + trough(x - 1830 + (y - 950) * 0.1)) : 0);
      }
    }
  }
  return land;
}

const hump = (dx: number, dy: number, sx: number, sy: number): number =>
  Math.exp(-(dx / sx) * (dx / sx) - (dy / sy) * (dy / sy));
const trough = (dx: number): number => Math.exp(-(dx / 60) * (dx / 60));

/** Shelves: around its level the hillside is drawn out flat, and made up for by steeper ground above and below. */
function benches(x: number, y: number, z: number): number {
  let out = z;
  for (const bench of place.BENCHES) {
    const dx = (x - bench.middle[0]) / bench.along;
    const dy = (y - bench.middle[1]) / bench.along;
    const mask = 1 - ramp(Math.sqrt(dx * dx + dy * dy), 0.65, 1);
    if (mask === 0) continue;
    const t = (out - bench.level) / 16;
    if (Math.abs(t) < 1) out += mask * 16 * (0.12 * t + 0.88 * t * t * t * (2.6 - 1.6 * Math.abs(t)) - t);
  }
  return out;
}

/** The valley floor: soft rises and old channels, a little higher away from the creek. */
function floor(x: number, y: number, hill: number): number {
  const beyond = beyondFloor(x, y);
  if (beyond > 40) return hill + rough(x, y);
  const away = toCreek(x, y).distance;
  const level =
    floorElevation(x) +
    0.9 * ramp(away, 0, 160) +
    0.3 * fractal(x / 90, y / 90, place.SEED + 70, 3) -
    0.35 * ramp(noise(x / 130, y / 45, place.SEED + 71), 0.35, 0.8);
  // The hill's own foot was carved to a flat floor; blend so that the toe keeps its curve.
  return level + (Math.max(hill, level) - level) * ramp(beyond, -12, 25) + rough(x, y) * ramp(beyond, 0, 30);
}

/** Hummocks, tip-up mounds and small washes under the timber. */
const rough = (x: number, y: number): number =>
  0.35 * fractal(x / 38, y / 38, place.SEED + 80, 3) + 0.06 * noise(x / 5, y / 5, place.SEED + 85);

/** The creek's bed and banks. */
function creek(x: number, y: number, z: number): number {
  if (Math.abs(y - place.floorLine(x)) > 140) return z;
  const { distance, along } = toCreek(x, y);
  if (distance > 30) return z;
  const deep = ramp(x, place.SHALLOW_TO, place.DEEP_FROM);
  const half = (place.SHALLOW.width + (place.DEEP.width - place.SHALLOW.width) * deep) / 2;
  const riffle = 0.12 * noise(along / 22, 0, place.SEED + 90);
  const bed = place.bedElevation(x) + riffle;
  // Banks stand at about 45 degrees in the deep reach and run out gently in the shallow one.
  const bank = bed + Math.max(0, distance - half + 1) * (0.22 + 0.9 * deep);
  return Math.min(z, Math.max(bank, bed));
}

/** Railroad, road, lane, pond and building sites. */
function works(x: number, y: number, ground: number): number {
  let z = ground;
  if (y > 780) z -= 0.6 * (1 - ramp(toDitch(x, y).distance, 0.5, 4));
  if (y > 870 && y < 1060 && !underpass(x, y)) {
    const rail = toRail(x, y);
    const level = place.railElevation(x);
    const out = Math.max(0, rail.distance - 4.5);
    const ditch = rail.distance > 4 && rail.distance < 7 ? 0.5 : 0;
    if (z < level) z = Math.max(z, level - out / 1.5);
    else z = Math.min(z, level - ditch + Math.max(0, out - 2) * 1.1);
  }
  if (x > 1290 && x < 1360 && y > 760 && y < 1000) {
    // The hollow's floor through the underpass and its ditch to the creek.
    const aside = toStrip(x, y).distance;
    const through = floorElevation(x) + 0.9 + 0.03 * Math.max(0, y - 930);
    if (underpass(x, y)) z = Math.min(z, through + 0.15 * aside);
    z -= 0.7 * (1 - ramp(aside, 0.5, 4));
  }
  if (y > 640 && y < 790) z = levelled(z, toRoad(x, y).distance, 3.5, 12, roadLevel(x));
  const [west, south, east, north] = place.YARD;
  const beside = Math.max(west - x, x - east, south - y, y - north);
  if (beside < 16) z = levelled(z, beside, 0, 16, roadLevel(1250) + 2);
  if (onPond(x, y)) z = Math.min(z, floorElevation(x) - 0.9);
  return z;
}

const onPond = insideOf(place.POND);
const underpass = (x: number, y: number): boolean =>
  Math.abs(x - place.UNDERPASS[0]) < 4.5 && Math.abs(y - place.UNDERPASS[1]) < 24;

const roadLevel = (x: number): number => floorElevation(x) + 2.2;

/** Levels the ground within `flat` metres and eases back to what was there by `reach`. */
const levelled = (z: number, distance: number, flat: number, reach: number, level: number): number =>
  level + (z - level) * ramp(distance, flat, reach);
