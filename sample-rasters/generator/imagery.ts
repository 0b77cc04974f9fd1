/** The invented air photo: red, green, blue and near infrared on a July mid-morning, leaves on. */
import { clamp } from './lines.ts';
import { fractal, lattice } from './random.ts';
import * as place from './scenario.ts';
import { PLANT, type Vegetation } from './vegetation.ts';

/** Red, green, blue, near infrared of a sunlit surface, and how much they change from spot to spot. */
const LOOKS: Record<number, { colour: [number, number, number, number]; mottle: number }> = {
  [PLANT.timber]: { colour: [88, 118, 74, 205], mottle: 0.13 },
  [PLANT.pine]: { colour: [62, 88, 66, 112], mottle: 0.1 },
  [PLANT.brush]: { colour: [112, 132, 80, 178], mottle: 0.1 },
  [PLANT.grass]: { colour: [146, 158, 98, 176], mottle: 0.06 },
  [PLANT.corn]: { colour: [92, 136, 70, 214], mottle: 0.03 },
  [PLANT.hay]: { colour: [168, 168, 106, 182], mottle: 0.04 },
  [PLANT.wet]: { colour: [88, 106, 72, 118], mottle: 0.1 },
  [PLANT.water]: { colour: [58, 76, 72, 26], mottle: 0.04 },
  [PLANT.paving]: { colour: [142, 142, 144, 128], mottle: 0.03 },
  [PLANT.gravel]: { colour: [182, 174, 158, 172], mottle: 0.05 },
  [PLANT.roof]: { colour: [176, 166, 160, 158], mottle: 0.03 },
};

/** Sun in the south-east, 48 degrees high. */
const SUN_EAST = Math.SQRT1_2;
const SUN_NORTH = -Math.SQRT1_2;
const SUN_RISE = Math.tan((48 * Math.PI) / 180);
/** Share of light from the sky and from leaf to leaf, by band: near infrared scatters through crowns. */
const SKYLIGHT = [0.5, 0.52, 0.6, 0.7];

const WIDTH = place.WIDTH / place.PHOTO_CELL;
const HEIGHT = place.HEIGHT / place.PHOTO_CELL;

/** Four bands a cell, interleaved, row 0 north. */
export function makeImagery(ground: Float32Array, vegetation: Vegetation): Uint8Array {
  const surface = surfaceOf(ground, vegetation.height);
  const photo = new Uint8Array(WIDTH * HEIGHT * 4);
  for (let row = 0, cell = 0; row < HEIGHT; row++) {
    for (let column = 0; column < WIDTH; column++, cell++) {
      const kind = lookOf(vegetation, cell);
      const look = LOOKS[kind]!;
      const light = kind === PLANT.water ? 0.85 : sunlight(surface, column, row);
      const patch = fractal(column / 55, row / 55, place.SEED + 300, 3) * 0.07;
      const rows = kind === PLANT.corn && (column + (row >> 3)) % 3 === 0 ? -0.05 : 0;
      const tint = 1 + look.mottle * (vegetation.tint[cell]! - 0.5) * 2 + patch + rows;
      const grain = 1 + (lattice(column, row, place.SEED + 310) - 0.5) * 0.05;
      for (let band = 0; band < 4; band++) {
        const lit = SKYLIGHT[band]! + (1 - SKYLIGHT[band]!) * light;
        photo[cell * 4 + band] = clamp(Math.round(look.colour[band]! * tint * grain * lit), 1, 255);
      }
    }
  }
  return photo;
}

/** A crown hides what lies under it: the photo shows the plant whose crown is on top. */
function lookOf({ plant, height }: Vegetation, cell: number): number {
  const here = plant[cell]!;
  const overhung = here !== PLANT.timber && here !== PLANT.pine && here !== PLANT.roof && height[cell]! > 7.5;
  return overhung ? PLANT.timber : here;
}

function surfaceOf(ground: Float32Array, height: Float32Array): Float32Array {
  const groundWidth = place.WIDTH / place.GROUND_CELL;
  const scale = place.PHOTO_CELL / place.GROUND_CELL;
  const surface = new Float32Array(height.length);
  for (let row = 0, cell = 0; row < HEIGHT; row++) {
    const groundRow = Math.floor((row + 0.5) * scale) * groundWidth;
    for (let column = 0; column < WIDTH; column++, cell++) {
      surface[cell] = ground[groundRow + Math.floor((column + 0.5) * scale)]! + height[cell]!;
    }
  }
  return surface;
}

/** 0 in cast shadow, else by the angle between sun and surface. */
function sunlight(surface: Float32Array, column: number, row: number): number {
  const cell = row * WIDTH + column;
  const here = surface[cell]!;
  for (let step = 1; step <= 16; step++) {
    const c = Math.round(column + SUN_EAST * step);
    const r = Math.round(row - SUN_NORTH * step);
    if (c >= WIDTH || r >= HEIGHT) break;
    if (surface[r * WIDTH + c]! > here + 0.3 + step * place.PHOTO_CELL * SUN_RISE) return 0;
  }
  const west = surface[cell - (column > 0 ? 1 : 0)]!;
  const east = surface[cell + (column < WIDTH - 1 ? 1 : 0)]!;
  const north = surface[cell - (row > 0 ? WIDTH : 0)]!;
  const south = surface[cell + (row < HEIGHT - 1 ? WIDTH : 0)]!;
  // Crowns are rough: their facets are steeper than leaves let light show.
  const dx = clamp((east - west) / (2 * place.PHOTO_CELL), -1.2, 1.2);
  const dy = clamp((north - south) / (2 * place.PHOTO_CELL), -1.2, 1.2);
  const incidence = (SUN_RISE - dx * SUN_EAST - dy * SUN_NORTH) / Math.sqrt(1 + dx * dx + dy * dy);
  return clamp(incidence / Math.sqrt(1 + SUN_RISE * SUN_RISE), 0, 1) * 1.25;
}
