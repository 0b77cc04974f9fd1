import type { Frame, Point } from './frame.ts';
import { ringArea, simplifyPath } from './simplify.ts';

/**
 * Outlines of labelled patches along cell edges, in frame coordinates. Outer rings run counter-clockwise and
 * holes clockwise (RFC 7946), each closed. A ring that touches itself at a corner is cut there, so every ring is
 * simple; a patch found with 4 neighbours has exactly one outer ring and its rings make a valid polygon, one
 * found with 8 may have several outer rings that touch at corners.
 *
 * @param labels 0 is background; labels above `count` are passed over
 * @param count highest label wanted
 * @param tolerance straightens the steps (Douglas-Peucker), m; 0 keeps every corner. Rings are straightened one
 *   by one, so neighbours may overlap by as much.
 * @returns the rings of label k at place k - 1: the outer ones by size, then the holes
 */
export function outlines(frame: Frame, labels: Int32Array, count: number, tolerance = 0): Point[][][] {
  const { width, height, west, north, cellSize } = frame;
  const rings: Point[][][] = Array.from({ length: count }, () => []);
  const seen = new Uint8Array(width * height); // north sides already walked

  const labelAt = (x: number, y: number): number =>
    x < 0 || y < 0 || x >= width || y >= height ? 0 : labels[y * width + x]!;

  const finish = (corners: number[], label: number): void => {
    const ring: Point[] = [];
    for (let k = 0; k < corners.length; k++) {
      const corner = corners[k]!;
      const y = Math.floor(corner / (width + 1));
      ring.push([west + (corner - y * (width + 1)) * cellSize, north - y * cellSize]);
    }
    ring.push([ring[0]![0], ring[0]![1]]);
    const simple = tolerance > 0 ? simplifyPath(ring, tolerance) : ring;
    rings[label - 1]!.push(simple.length >= 4 ? simple : ring);
  };

  for (let y0 = 0, i = 0; y0 < height; y0++) {
    for (let x0 = 0; x0 < width; x0++, i++) {
      const label = labels[i]!;
      // Every ring, outer or hole, has the north side of some cell of the patch in it.
      if (label <= 0 || label > count || seen[i] || labelAt(x0, y0 - 1) === label) continue;
      // Walk with the patch on the left: west along a north side. Headings: 0 E, 1 S, 2 W, 3 N.
      let x = x0 + 1;
      let y = y0;
      let heading = 2;
      const startX = x;
      const startY = y;
      let corners: number[] = [];
      const pinches = new Map<number, number>();
      do {
        if (heading === 2) seen[y * width + x - 1] = 1;
        x += heading === 0 ? 1 : heading === 2 ? -1 : 0;
        y += heading === 1 ? 1 : heading === 3 ? -1 : 0;
        // The two cells ahead of the corner, left and right of the heading.
        const aheadX = heading === 0 ? x : heading === 2 ? x - 1 : x;
        const aheadY = heading === 1 ? y : heading === 3 ? y - 1 : y;
        const left =
          heading === 0
            ? labelAt(aheadX, y - 1)
            : heading === 2
              ? labelAt(aheadX, y)
              : heading === 1
                ? labelAt(x, aheadY)
                : labelAt(x - 1, aheadY);
        const right =
          heading === 0
            ? labelAt(aheadX, y)
            : heading === 2
              ? labelAt(aheadX, y - 1)
              : heading === 1
                ? labelAt(x - 1, aheadY)
                : labelAt(x, aheadY);
        const before = heading;
        if (left !== label) heading = (heading + 3) & 3;
        else if (right === label) heading = (heading + 1) & 3;
        if (heading === before) continue;
        const corner = y * (width + 1) + x;
        if (left !== label && right === label) {
          // Two cells of the patch meet at this corner only: cut the ring here when it comes back.
          const at = pinches.get(corner);
          if (at !== undefined && at < corners.length && corners[at] === corner) {
            finish(corners.slice(at), label);
            corners = corners.slice(0, at);
          }
          pinches.set(corner, corners.length);
        }
        corners.push(corner);
      } while (x !== startX || y !== startY || heading !== 2);
      if (corners.length > 0) finish(corners, label);
    }
  }
  for (const list of rings) {
    if (list.length < 2) continue;
    const areas = new Map(list.map((ring) => [ring, ringArea(ring)]));
    list.sort((a, b) => areas.get(b)! - areas.get(a)!);
  }
  return rings;
}
