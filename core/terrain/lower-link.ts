/**
 * Lower neighbours of a cell as a set of eight bits, in the order of NEIGHBOURS_8, and what follows from the set alone
 * (the lower link: Carr, Snoeyink & Axen, "Computing contour trees in all dimensions", Computational Geometry 24, 2003).
 */

/** Neighbours that come before the cell in the grid. */
export const EARLIER = 0xf0;
/** For each set of lower neighbours the one to follow: an earlier one where there is one. */
export const FOLLOWED = new Uint8Array(256);
/** For each set of lower neighbours how many groups it falls into, and one neighbour of each in four bits. */
export const GROUPS = new Uint8Array(256);
export const MEMBERS = new Uint16Array(256);
for (let lower = 1; lower < 256; lower++) {
  FOLLOWED[lower] = [4, 6, 5, 7, 0, 2, 3, 1].find((k) => lower & (1 << k))!;
  let seen = 0;
  for (let k = 0; k < 8; k++) {
    if (!(lower & (1 << k)) || seen & (1 << k)) continue;
    MEMBERS[lower]! |= k << (4 * GROUPS[lower]!++);
    seen |= 1 << k;
    for (let before = 0; before !== seen; ) {
      before = seen;
      // Those next to each other on the ring touch; of those two apart only the straight ones do.
      for (let m = 0; m < 8; m++) {
        const touched = [m + 1, m + 7, ...(m & 1 ? [] : [m + 2, m + 6])];
        if (lower & (1 << m) && touched.some((other) => seen & (1 << (other & 7)))) seen |= 1 << m;
      }
    }
  }
}
