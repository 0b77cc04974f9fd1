import { type Block, heightAt } from './block.ts';

/**
 * A parallel look at the block, as block diagrams are drawn: nothing shrinks with distance, so lengths across the
 * view keep one scale and what stands behind what is exact.
 */
export interface Camera {
  /** Ground in the middle of the view, frame coordinates, m. */
  centre: [number, number];
  /** The way it looks, degrees clockwise from grid north. */
  bearing: number;
  /** How far it looks down, degrees: 90 is a map. */
  tilt: number;
  /** Pixels a metre across the view. */
  scale: number;
  /** How many times taller heights are drawn. */
  taller: number;
}

export interface Size {
  width: number;
  height: number;
}

/** The height that lies at the camera's centre, m: the middle of the block's. */
export const levelOf = (block: Block): number => (block.low + block.high) / 2;

/** Terms of the projection, worked out once a view. */
export function termsOf(camera: Camera, size: Size, level: number) {
  const turn = (camera.bearing * Math.PI) / 180;
  const tilt = (camera.tilt * Math.PI) / 180;
  return {
    sin: Math.sin(turn),
    cos: Math.cos(turn),
    /** Pixels up the view for a metre away, and for a metre up. */
    away: camera.scale * Math.sin(tilt),
    up: camera.scale * camera.taller * Math.cos(tilt),
    level,
    middle: [size.width / 2, size.height / 2] as const,
  };
}
export type Terms = ReturnType<typeof termsOf>;

/** Where a place of the ground at a height is drawn, px from the upper left, and how far away it is, m. */
export function project(
  camera: Camera,
  terms: Terms,
  [x, y]: readonly [number, number],
  z: number,
): { x: number; y: number; away: number } {
  const [dx, dy] = [x - camera.centre[0], y - camera.centre[1]];
  const right = dx * terms.cos - dy * terms.sin;
  const away = dx * terms.sin + dy * terms.cos;
  return {
    x: terms.middle[0] + right * camera.scale,
    y: terms.middle[1] - away * terms.away - (z - terms.level) * terms.up,
    away,
  };
}

/** The ground under a column of the view: a line from its near end to its far end, where it lies on the block. */
export interface Ray {
  /** Place at distance 0, and the step of one metre away. */
  x0: number;
  y0: number;
  dx: number;
  dy: number;
  near: number;
  far: number;
}

/** Null where the column misses the block. */
export function rayOf(block: Block, camera: Camera, terms: Terms, column: number): Ray | null {
  const right = (column - terms.middle[0]) / camera.scale;
  const x0 = camera.centre[0] + right * terms.cos;
  const y0 = camera.centre[1] - right * terms.sin;
  const [dx, dy] = [terms.sin, terms.cos];
  let [near, far] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  const clip = (from: number, step: number, least: number, most: number): void => {
    if (Math.abs(step) < 1e-9) {
      if (from < least || from > most) far = Number.NEGATIVE_INFINITY;
      return;
    }
    const [a, b] = [(least - from) / step, (most - from) / step];
    near = Math.max(near, Math.min(a, b));
    far = Math.min(far, Math.max(a, b));
  };
  clip(x0, dx, block.west, block.west + block.columns * block.cell);
  clip(y0, dy, block.north - block.rows * block.cell, block.north);
  return near < far ? { x0, y0, dx, dy, near, far } : null;
}

/** Steps along a column so short that neither a cell nor a pixel row is jumped, m. */
export const strideOf = (block: Block, terms: Terms): number =>
  Math.max(block.cell / 3, Math.min(block.cell * 0.75, 0.8 / terms.away));

/** The nearest ground drawn at a pixel; null where there is none. */
export function pick(
  block: Block,
  camera: Camera,
  size: Size,
  [px, py]: readonly [number, number],
): [number, number] | null {
  const terms = termsOf(camera, size, levelOf(block));
  const ray = rayOf(block, camera, terms, px);
  if (!ray) return null;
  const stride = strideOf(block, terms);
  for (let away = ray.near; away <= ray.far; away += stride) {
    const [x, y] = [ray.x0 + ray.dx * away, ray.y0 + ray.dy * away];
    const z = heightAt(block, x, y);
    if (terms.middle[1] - away * terms.away - (z - terms.level) * terms.up <= py) return [x, y];
  }
  return null;
}

/** Whether ground nearer to the eye hides a place, by more than 2 px. */
export function isHidden(block: Block, camera: Camera, size: Size, at: readonly [number, number]): boolean {
  const terms = termsOf(camera, size, levelOf(block));
  const mark = project(camera, terms, at, heightAt(block, ...at));
  const ray = rayOf(block, camera, terms, mark.x);
  if (!ray || Number.isNaN(mark.y)) return true;
  const stride = strideOf(block, terms);
  for (let away = ray.near; away < mark.away - stride; away += stride) {
    const z = heightAt(block, ray.x0 + ray.dx * away, ray.y0 + ray.dy * away);
    if (terms.middle[1] - away * terms.away - (z - terms.level) * terms.up < mark.y - 2) return true;
  }
  return false;
}
