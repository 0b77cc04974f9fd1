import type { Grid } from '../grid/frame.ts';
import { AIR_HEAT, BUOYANCY, entrainment, RADIATIVE_RETURN, STILL_GROWTH } from './bulk.ts';

/** A layer of cold air over a ground, as it stands at one time. Cells of the ground's grid; 0 where there is none. */
export interface ColdLayer {
  /** m. */
  depth: Float64Array;
  /** Deficit times depth, K m. */
  deficit: Float64Array;
  /** Flow through the east side of each cell, m2/s, positive east. */
  eastFlow: Float64Array;
  /** Flow through the south side of each cell, m2/s, positive south. */
  southFlow: Float64Array;
  /** Sums since the start: air drawn in, and gone over the edge or warmed away, m3; heat lost and gone with it, J. */
  drawnIn: number;
  airOut: number;
  heatLost: number;
  heatOut: number;
  /** s. */
  time: number;
}

export interface ShallowOptions {
  /** W/(m2 K) by which the loss falls for each kelvin the layer has cooled. Default 4 sigma T^3. */
  radiativeReturn?: number;
  /** m/s. Default 5e-4. */
  stillGrowth?: number;
}

export function emptyLayer(cells: number): ColdLayer {
  const zeros = () => new Float64Array(cells);
  return {
    depth: zeros(),
    deficit: zeros(),
    eastFlow: zeros(),
    southFlow: zeros(),
    drawnIn: 0,
    airOut: 0,
    heatLost: 0,
    heatOut: 0,
    time: 0,
  };
}

/** A layer thinner than this stands still, m. */
const THIN = 0.02;
/** A thinner layer does not set the time step: it gives no more than it holds in any case, m. */
const SLIGHT = 0.3;
/** A layer that the ground warms ends when it is within this of the air above, K. */
const WARM = 0.05;
/** Longest time step, s. */
const LONGEST = 30;
/** Time step against the time a wave takes to cross a cell; in two dimensions 0.7 is the very limit. */
const COURANT = 0.5;
/** Weight of a side's own flow against its two neighbours in line, which damps ripples (de Almeida et al. 2012). */
const OWN = 0.8;
/**
 * Square of the Froude number up to which the layer keeps its whole inertia. Swifter flow would break into roll
 * waves; it is brought to the same balance of pull and drag in proportionally shorter time instead.
 */
const SWIFT = 1;
/** Steps after which entrainment is reckoned anew. */
const FRESH = 10;
/** Drainage runs off the map over ground at least this steep, rise over run. */
const EDGE_SLOPE = 0.005;

/**
 * Lets the layer run for a while: shallow flow of cold air under still air, driven by its deficit and the slope of
 * its top, held by drag and by the air drawn in (see `bulk.ts`). Depth, deficit and flow are kept on a staggered
 * grid; flow is stepped by the inertial scheme with implicit drag of Bates, Horritt & Fewtrell (J. Hydrology 387,
 * 2010) as damped by de Almeida et al. (Water Resources Research 48, 2012). A sill holds the layer until its top
 * stands higher, a closed hollow fills to its sill and spills, and what enters equals what stays and leaves.
 *
 * @param ground m; NaN no data, over which air leaves as over the map's edge
 * @param loss heat lost by each cell, W/m2; below 0 warms the layer away
 * @param drag of each cell
 * @param seconds how long
 */
export function runLayer(
  layer: ColdLayer,
  ground: Grid,
  loss: Float32Array,
  drag: Float32Array,
  seconds: number,
  { radiativeReturn = RADIATIVE_RETURN, stillGrowth = STILL_GROWTH }: ShallowOptions = {},
): void {
  const { width, height, cellSize } = ground.frame;
  const z = ground.cells;
  const { depth, deficit, eastFlow, southFlow } = layer;
  const count = z.length;
  const area = cellSize * cellSize;
  const slopes = edgeSlopes(ground);
  const nextEast = new Float64Array(count);
  const nextSouth = new Float64Array(count);
  const keep = new Float64Array(count); // share of the wanted outflow a cell can give
  const cold = new Float64Array(count); // deficit of the layer, K
  const edgeFlow = new Float64Array(count);
  const rate = new Float64Array(count); // entrainment
  const edges: number[] = [];
  for (let i = 0; i < count; i++) if (slopes[i]! > 0) edges.push(i);
  let left = seconds;
  let steps = 0;

  while (left > 1e-9) {
    let fastest = 1e-3;
    for (let y = 0, i = 0; y < height; y++) {
      for (let x = 0; x < width; x++, i++) {
        const held = depth[i]!;
        if (held <= SLIGHT) continue;
        // Flow is as fast as it leaves the cell it comes from.
        const leaving = Math.max(
          eastFlow[i]!,
          southFlow[i]!,
          x > 0 ? -eastFlow[i - 1]! : 0,
          y > 0 ? -southFlow[i - width]! : 0,
        );
        const speed = leaving / held;
        const wave =
          speed + Math.max(Math.sqrt(BUOYANCY * Math.max(0, deficit[i]!)), speed / Math.sqrt(SWIFT));
        if (wave > fastest) fastest = wave;
      }
    }
    const dt = Math.min(left, LONGEST, (COURANT * cellSize) / fastest);
    // Entrainment follows the shape of the top, which changes slowly.
    if (steps++ % FRESH === 0) drawRates();

    // New flow through the east and south sides.
    for (let y = 0, i = 0; y < height; y++) {
      for (let x = 0; x < width; x++, i++) {
        nextEast[i] = x < width - 1 ? stepFlow(i, i + 1, eastFlow, 1, x > 0, x < width - 2, dt) : 0;
        nextSouth[i] =
          y < height - 1 ? stepFlow(i, i + width, southFlow, width, y > 0, y < height - 2, dt) : 0;
      }
    }
    // What leaves a cell in this step may not exceed what it holds.
    for (const i of edges) edgeFlow[i] = edgeOutflow(i);
    for (let y = 0, i = 0; y < height; y++) {
      for (let x = 0; x < width; x++, i++) {
        const west = x > 0 ? nextEast[i - 1]! : 0;
        const north = y > 0 ? nextSouth[i - width]! : 0;
        const e = nextEast[i]!;
        const s = nextSouth[i]!;
        const out = Math.max(e, 0) + Math.max(s, 0) - Math.min(west, 0) - Math.min(north, 0) + edgeFlow[i]!;
        const most = (depth[i]! * cellSize) / dt;
        keep[i] = out > most ? most / out : 1;
      }
    }
    for (let i = 0; i < count; i++) {
      const e = nextEast[i]!;
      eastFlow[i] = e === 0 ? 0 : e * keep[e > 0 ? i : i + 1]!;
      const s = nextSouth[i]!;
      southFlow[i] = s === 0 ? 0 : s * keep[s > 0 ? i : i + width]!;
      cold[i] = depth[i]! > 0 ? deficit[i]! / depth[i]! : 0;
    }
    for (const i of edges) edgeFlow[i]! *= keep[i]!;
    move(dt);
    cool(dt);
    layer.time += dt;
    left -= dt;
  }

  /** Flow per metre of width from cell a to its neighbour b after a step. */
  function stepFlow(
    a: number,
    b: number,
    flow: Float64Array,
    stride: number,
    hasBefore: boolean,
    hasAfter: boolean,
    dt: number,
  ): number {
    const za = z[a]!;
    const zb = z[b]!;
    const topA = za + depth[a]!;
    const topB = zb + depth[b]!;
    const passage = Math.max(topA, topB) - Math.max(za, zb);
    if (!(passage > THIN)) return 0;
    // The deficit of both sides together: taking the side it flows from would feed a still pool's own swing.
    const held = depth[a]! + depth[b]!;
    if (depth[topA > topB ? a : b]! <= THIN) return 0;
    const slope = (topB - topA) / cellSize;
    const pull = (BUOYANCY * (deficit[a]! + deficit[b]!)) / held;
    const own = flow[a]!;
    let q = own;
    // Neighbours in line have a say where the layer is about as deep; beside a thin edge they would flood it.
    if (2 * Math.min(depth[a]!, depth[b]!) > Math.max(depth[a]!, depth[b]!)) {
      const before = hasBefore ? flow[a - stride]! : own;
      const after = hasAfter ? flow[b]! : own;
      q = OWN * own + ((1 - OWN) / 2) * (before + after);
    }
    const hold = 0.5 * (drag[a]! + drag[b]! + rate[a]! + rate[b]!);
    const quick = Math.max(1, Math.abs(slope) / (SWIFT * hold)) * dt;
    return (q - pull * passage * quick * slope) / (1 + (quick * hold * Math.abs(own)) / (passage * passage));
  }

  /** Flow off the map or into no data: even flow down the ground's own slope there, m2/s. */
  function edgeOutflow(i: number): number {
    const slope = slopes[i]!;
    const held = depth[i]!;
    if (slope === 0 || held <= THIN) return 0;
    const pull = (BUOYANCY * Math.max(0, deficit[i]!)) / held;
    return held * Math.sqrt((pull * held * slope) / (drag[i]! + entrainment(slope)));
  }

  /** Carries air and its deficit through the sides: each cell takes what its four sides bring and give. */
  function move(dt: number): void {
    const scale = dt / cellSize;
    for (let y = 0, i = 0; y < height; y++) {
      for (let x = 0; x < width; x++, i++) {
        const w = x > 0 ? eastFlow[i - 1]! : 0;
        const e = eastFlow[i]!;
        const n = y > 0 ? southFlow[i - width]! : 0;
        const s = southFlow[i]!;
        if (w === 0 && e === 0 && n === 0 && s === 0) continue;
        const here = cold[i]!;
        let come = 0;
        let chill = 0;
        let go = 0;
        if (w > 0) {
          come += w;
          chill += w * cold[i - 1]!;
        } else go -= w;
        if (e < 0) {
          come -= e;
          chill -= e * cold[i + 1]!;
        } else go += e;
        if (n > 0) {
          come += n;
          chill += n * cold[i - width]!;
        } else go -= n;
        if (s < 0) {
          come -= s;
          chill -= s * cold[i + width]!;
        } else go += s;
        depth[i] = Math.max(0, depth[i]! + (come - go) * scale);
        deficit[i]! += (chill - go * here) * scale;
      }
    }
    for (const i of edges) {
      const gone = edgeFlow[i]! * scale;
      depth[i] = Math.max(0, depth[i]! - gone);
      deficit[i]! -= gone * cold[i]!;
      layer.airOut += gone * area;
      layer.heatOut += gone * cold[i]! * area * AIR_HEAT;
    }
  }

  /** Air drawn in from above and heat lost in this step. */
  function cool(dt: number): void {
    let taken = 0;
    let lost = 0;
    for (let y = 0, i = 0; y < height; y++) {
      for (let x = 0; x < width; x++, i++) {
        if (Number.isNaN(z[i]!)) continue;
        const held = depth[i]!;
        const qx = eastFlow[i]! + (x > 0 ? eastFlow[i - 1]! : 0);
        const qy = southFlow[i]! + (y > 0 ? southFlow[i - width]! : 0);
        let drawn = loss[i]! > 0 ? stillGrowth * dt : 0;
        if (held > THIN) drawn += (dt * rate[i]! * 0.5 * Math.sqrt(qx * qx + qy * qy)) / held;
        depth[i] = held + drawn;
        taken += drawn;
        const wanted = loss[i]!;
        let gain = (wanted * dt) / AIR_HEAT;
        if (wanted > 0) gain -= Math.min(gain, (gain * radiativeReturn * deficit[i]!) / (wanted * depth[i]!));
        else if (deficit[i]! + gain < 0) gain = -deficit[i]!;
        deficit[i]! += gain;
        lost += gain;
        // Air no colder than what lies above is part of it.
        if (wanted < 0 && deficit[i]! < WARM * depth[i]!) {
          layer.airOut += depth[i]! * area;
          layer.heatOut += deficit[i]! * area * AIR_HEAT;
          depth[i] = 0;
          deficit[i] = 0;
        }
      }
    }
    layer.drawnIn += taken * area;
    layer.heatLost += lost * area * AIR_HEAT;
  }

  function drawRates(): void {
    for (let y = 0, i = 0; y < height; y++)
      for (let x = 0; x < width; x++, i++) rate[i] = Number.isNaN(z[i]!) ? 0 : entrainment(topSlope(i, x, y));
  }

  /** Steepness of the layer's top, from the neighbours there are. */
  function topSlope(i: number, x: number, y: number): number {
    const across = rise(i, x > 0 ? i - 1 : i, x < width - 1 ? i + 1 : i);
    const along = rise(i, y > 0 ? i - width : i, y < height - 1 ? i + width : i);
    return Math.sqrt(across * across + along * along);
  }
  function rise(i: number, before: number, after: number): number {
    const a = Number.isNaN(z[before]!) ? i : before;
    const b = Number.isNaN(z[after]!) ? i : after;
    if (a === b) return 0;
    return (z[b]! + depth[b]! - z[a]! - depth[a]!) / (cellSize * (a === i || b === i ? 1 : 2));
  }
}

/** Slope of the ground outwards at cells on the edge of the map or beside no data; 0 elsewhere and where it rises outwards. */
function edgeSlopes({ frame, cells }: Grid): Float64Array {
  const { width, height, cellSize } = frame;
  const slopes = new Float64Array(cells.length);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      if (Number.isNaN(cells[i]!)) continue;
      let steepest = 0;
      for (const [inX, inY] of [
        [1, 0],
        [-1, 0],
        [0, 1],
        [0, -1],
      ] as const) {
        const outX = x - inX;
        const outY = y - inY;
        const open =
          outX < 0 ||
          outY < 0 ||
          outX >= width ||
          outY >= height ||
          Number.isNaN(cells[outY * width + outX]!);
        if (!open) continue;
        const ix = x + inX;
        const iy = y + inY;
        if (ix < 0 || iy < 0 || ix >= width || iy >= height) continue;
        const inner = cells[iy * width + ix]!;
        if (Number.isNaN(inner)) continue;
        const slope = (inner - cells[i]!) / cellSize;
        if (slope > -EDGE_SLOPE) steepest = Math.max(steepest, slope, EDGE_SLOPE);
      }
      slopes[i] = steepest;
    }
  }
  return slopes;
}

/** Speed and direction at the cell centres, m/s, east and south parts; 0 where the layer is thin. */
export function layerWind(layer: ColdLayer, width: number): { east: Float32Array; south: Float32Array } {
  const count = layer.depth.length;
  const east = new Float32Array(count);
  const south = new Float32Array(count);
  for (let i = 0; i < count; i++) {
    const held = layer.depth[i]!;
    if (held <= THIN) continue;
    const west = i % width > 0 ? layer.eastFlow[i - 1]! : layer.eastFlow[i]!;
    const north = i >= width ? layer.southFlow[i - width]! : layer.southFlow[i]!;
    const hasEast = i % width < width - 1;
    const hasSouth = i + width < count;
    east[i] = (0.5 * (west + (hasEast ? layer.eastFlow[i]! : west))) / held;
    south[i] = (0.5 * (north + (hasSouth ? layer.southFlow[i]! : north))) / held;
  }
  return { east, south };
}
