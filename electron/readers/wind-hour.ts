/** One record of wind as a reader finds it. */
export interface WindHour {
  /** Hours since 1970-01-01T00Z, to the nearest. */
  hour: number;
  /** How far the observation was from that hour, h. */
  off: number;
  /** Degrees from true north, NaN in a calm or where it varies; m/s; deg C; eighths; m/s. */
  direction: number;
  speed: number;
  temperature: number;
  sky: number;
  gust: number;
  /** m; NaN where not told. */
  ceiling: number;
}

/** What a reader made of one file. */
export interface WindFile {
  hours: WindHour[];
  /** Records in the file. */
  read: number;
  /** Why records were left out, and how many. */
  dropped: Map<string, number>;
  notes: string[];
}

export const drop = (file: WindFile, why: string): void => {
  file.dropped.set(why, (file.dropped.get(why) ?? 0) + 1);
};

export const emptyFile = (): WindFile => ({ hours: [], read: 0, dropped: new Map(), notes: [] });
