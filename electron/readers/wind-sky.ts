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

/** Words of aviation reports for how much is covered, in the middle of the eighths they stand for; VV is hidden sky. */
const COVER_WORDS: Record<string, number> = {
  CLR: 0,
  SKC: 0,
  NSC: 0,
  NCD: 0,
  CAVOK: 0,
  FEW: 1.5,
  SCT: 3.5,
  BKN: 6,
  OVC: 8,
  VV: 8,
};

/**
 * Eighths of the sky from the text of a table: a number of eighths, of a hundred where the column says so, or the word
 * of a report.
 *
 * @returns NaN where it is neither
 */
export function eighthsOfText(text: string, hundredths: boolean): number {
  const word = COVER_WORDS[/^[A-Z]+/.exec(text.toUpperCase())?.[0] ?? ''];
  if (word !== undefined) return word;
  const value =
    text === '' ? Number.NaN : Number(text.replace(',', '.').replace('%', '')) / (hundredths ? 12.5 : 1);
  return value >= 0 && value <= 8 ? value : Number.NaN;
}
