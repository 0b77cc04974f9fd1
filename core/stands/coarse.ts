/** Cells coarser than this show no ground a stand decision could rest on, m: our assumption. */
export const COARSE = 30;

/** A line about a stand, said to show large forms only where it rests on coarse cells. */
export const roughly = (cellSize: number, words: string): string =>
  cellSize > COARSE ? `Large forms only: ${words[0]!.toLowerCase()}${words.slice(1)}` : words;
