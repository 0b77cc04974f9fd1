/** Distances to lines and areas, in the sample's local metres (x east, y north from the south-west corner). */

export type XY = [x: number, y: number];

export interface Nearest {
  distance: number;
  /** Length along the line to the nearest point, m. */
  along: number;
}

const BIN = 32;

/**
 * A function for the nearest point of any of the lines, true for places within `reach` metres of one; farther
 * places may get an infinite distance. Segments are kept in square bins, so that far places cost nothing.
 */
export function nearestOf(
  lines: readonly (readonly XY[])[],
  reach: number,
): (x: number, y: number) => Nearest {
  const starts: number[] = [];
  const segments: [x: number, y: number, dx: number, dy: number, length: number][] = [];
  const bins = new Map<number, number[]>();
  const key = (column: number, row: number): number => column * 100_000 + row;
  for (const line of lines) {
    let walked = 0;
    for (let i = 1; i < line.length; i++) {
      const [x0, y0] = line[i - 1]!;
      const [x1, y1] = line[i]!;
      const [dx, dy] = [x1 - x0, y1 - y0];
      const length = Math.sqrt(dx * dx + dy * dy);
      const [low, high] = [Math.min(x0, x1) - reach, Math.max(x0, x1) + reach];
      for (let c = Math.floor(low / BIN); c <= Math.floor(high / BIN); c++) {
        for (
          let r = Math.floor((Math.min(y0, y1) - reach) / BIN);
          r <= Math.floor((Math.max(y0, y1) + reach) / BIN);
          r++
        ) {
          const bin = bins.get(key(c, r));
          if (bin) bin.push(segments.length);
          else bins.set(key(c, r), [segments.length]);
        }
      }
      segments.push([x0, y0, dx, dy, length]);
      starts.push(walked);
      walked += length;
    }
  }
  return (x, y) => {
    const bin = bins.get(key(Math.floor(x / BIN), Math.floor(y / BIN)));
    if (!bin) return FAR;
    const best = { distance: Number.POSITIVE_INFINITY, along: 0 };
    for (const k of bin) {
      const [x0, y0, dx, dy, length] = segments[k]!;
      const t = clamp(((x - x0) * dx + (y - y0) * dy) / (length * length), 0, 1);
      const ox = x - x0 - t * dx;
      const oy = y - y0 - t * dy;
      const distance = Math.sqrt(ox * ox + oy * oy);
      if (distance >= best.distance) continue;
      best.distance = distance;
      best.along = starts[k]! + t * length;
    }
    return best;
  };
}

const FAR: Nearest = { distance: Number.POSITIVE_INFINITY, along: 0 };

/** A test whether a point is inside any of the rings (even-odd rule), quick for points far away. */
export function insideOf(...rings: (readonly XY[])[]): (x: number, y: number) => boolean {
  const boxed = rings.map((ring) => ({
    ring,
    west: Math.min(...ring.map(([x]) => x)),
    east: Math.max(...ring.map(([x]) => x)),
    south: Math.min(...ring.map(([, y]) => y)),
    north: Math.max(...ring.map(([, y]) => y)),
  }));
  return (x, y) =>
    boxed.some((b) => x >= b.west && x <= b.east && y >= b.south && y <= b.north && inRing(b.ring, x, y));
}

function inRing(ring: readonly XY[], x: number, y: number): boolean {
  let odd = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [xi, yi] = ring[i]!;
    const [xj, yj] = ring[j]!;
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) odd = !odd;
  }
  return odd;
}

/** Signed area of a ring, m²; positive when it turns counter-clockwise. */
export function ringArea(ring: readonly XY[]): number {
  let twice = 0;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    twice += ring[j]![0] * ring[i]![1] - ring[i]![0] * ring[j]![1];
  }
  return twice / 2;
}

/** A smooth line through the given points (Catmull & Rom 1974), `parts` pieces a span. */
export function smooth(points: readonly XY[], parts: number): XY[] {
  const out: XY[] = [];
  for (let i = 0; i + 1 < points.length; i++) {
    const [a, b, c, d] = [
      points[Math.max(i - 1, 0)]!,
      points[i]!,
      points[i + 1]!,
      points[i + 2] ?? points[i + 1]!,
    ];
    for (let part = 0; part < parts; part++) {
      const t = part / parts;
      const mix = (k: 0 | 1): number =>
        0.5 *
        (2 * b[k] +
          (c[k] - a[k]) * t +
          (2 * a[k] - 5 * b[k] + 4 * c[k] - d[k]) * t * t +
          (3 * b[k] - a[k] - 3 * c[k] + d[k]) * t * t * t);
      out.push([mix(0), mix(1)]);
    }
  }
  out.push(points[points.length - 1]!);
  return out;
}

export const clamp = (value: number, low: number, high: number): number =>
  Math.min(Math.max(value, low), high);

/** 0 below `from`, 1 above `to`, smooth between. */
export function ramp(value: number, from: number, to: number): number {
  const t = clamp((value - from) / (to - from), 0, 1);
  return t * t * (3 - 2 * t);
}
