import type { Point } from '../grid/frame.ts';

/** Degrees between corners of an arc. */
const CORNER = 2;

/** A point of a circle; bearing in degrees clockwise from grid north. */
const onCircle = ([x, y]: Point, bearing: number, radius: number): Point => [
  x + Math.sin((bearing * Math.PI) / 180) * radius,
  y + Math.cos((bearing * Math.PI) / 180) * radius,
];

/** Corners of an arc from one bearing clockwise to another, both ends included. */
export function arc(at: Point, from: number, to: number, radius: number): Point[] {
  const pieces = Math.max(1, Math.ceil((to - from) / CORNER));
  return Array.from({ length: pieces + 1 }, (_, k) =>
    onCircle(at, from + ((to - from) * k) / pieces, radius),
  );
}

/** A closed slice of a disk, counter-clockwise. */
export const wedge = (at: Point, from: number, to: number, radius: number): Point[] => [
  at,
  ...arc(at, from, to, radius).reverse(),
  at,
];
