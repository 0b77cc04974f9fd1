import type { Point } from '../../grid/frame.ts';
import type { Measure } from '../../plan/types.ts';
import type { StandRisk } from '../../stands/types.ts';

/** What a report said that is kept when it leaves the office, so that the next one can tell what changed. SI units. */
export interface Edition {
  /** As typed in the brief. */
  version: string;
  /** ISO date. */
  made: string;
  /** m²; null without a boundary. */
  ownedArea: number | null;
  necks: { rank: number; at: Point; share: number; width: number; firm: boolean }[];
  stands: KeptStand[];
  jobs: KeptJob[];
  /** Of everything that is to be done. */
  hours: number;
  dollars: number;
}

export interface KeptStand {
  id: string;
  name: string;
  level: StandRisk['level'] | null;
  /** Shares of all travel. */
  inReach: number | null;
  inView: number | null;
  /** Clean share, and usable hours a week; null while nobody asked. */
  clean: number | null;
  usable: number | null;
}

export interface KeptJob {
  id: string;
  name: string;
  kind: string;
  done: string | null;
  hours: number | null;
  dollars: number | null;
  quantities: { label: string; value: number | null; measure: Measure }[];
}

/**
 * The edition a report is compared with: the last of another version, else the last of the same, sent out again; null
 * for the first.
 *
 * @param kept one a version, as `withEdition` keeps them, the latest last
 */
export const lastOf = (kept: readonly Edition[], version: string): Edition | null =>
  kept.findLast((edition) => edition.version !== version) ?? kept.at(-1) ?? null;

/** Editions with one more: the newest of a version takes the place of the earlier ones. */
export const withEdition = (kept: readonly Edition[], edition: Edition): Edition[] => [
  ...kept.filter(({ version }) => version !== edition.version),
  edition,
];
