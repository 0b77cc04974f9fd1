/** At most `most` of the rows, evenly thinned so that both ends stay. */
export function thinned<T>(rows: readonly T[], most: number): T[] {
  if (rows.length <= most) return [...rows];
  return Array.from({ length: most }, (_, n) => rows[Math.round((n * (rows.length - 1)) / (most - 1))]!);
}
