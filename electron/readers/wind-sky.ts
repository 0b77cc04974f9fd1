/** Words of older reports, for the middle of what they stand for: scattered, broken, overcast; thin and dark alike. */
const WORDS = [4, 4, 4, 6, 6, 6, 8, 8, 8];

/**
 * Eighths of the sky from a total coverage code of the Integrated Surface Database: 0 to 8 are eighths; 9 is hidden
 * sky, fully covered for the balance of heat; 10 partly hidden, not told; 11 to 19 words of older reports.
 *
 * @returns NaN where it is not told
 */
export function eighthsOf(code: number): number {
  if (code >= 0 && code <= 8) return code;
  if (code === 9) return 8;
  return WORDS[code - 11] ?? Number.NaN;
}
