import { cellsInside } from '../../features/cells.ts';
import { ofKind } from '../../features/feature.ts';
import { decimal, formatArea, formatLength, formatShare, formatSpeed } from '../../features/units.ts';
import type { Frame, Point } from '../../grid/frame.ts';
import type { WalkList, WorkPlan } from '../../plan/types.ts';
import type { Neck, Owner, Spread } from '../../travel/types.ts';
import type { Artifacts } from '../artifacts.ts';
import type { Settings } from '../settings.ts';
import type { Edition } from './edition.ts';
import type { StandFindings } from './stand-findings.ts';

/** Numbers as the reader of this report wants them. */
export interface Say {
  distance(metres: number): string;
  height(metres: number): string;
  area(squareMetres: number): string;
  speed(metresPerSecond: number): string;
  share(share: number): string;
  degrees(degrees: number): string;
}

/** Everything a page draws on. */
export interface Facts {
  frame: Frame;
  settings: Settings;
  artifacts: Artifacts;
  /** What the readers noted while they brought the files in. */
  notes: readonly string[];
  /** What is missing for a better answer, and what it costs. */
  missing: readonly string[];
  /** m²; null without a boundary. */
  ownedArea: number | null;
  /** 1 for cells of the client's ground; all 1 without a boundary. */
  owned: Uint8Array;
  say: Say;
  /** What is to be done, and where to walk first. */
  work: WorkPlan;
  walk: WalkList;
  /** What was computed of stands on demand. */
  found: StandFindings;
  /** The edition this one is compared with; null for the first. */
  last: Edition | null;
}

export function sayIn(units: Settings['units']): Say {
  return {
    distance: (m) => formatLength(m, units),
    height: (m) => formatLength(m, units, 'height'),
    area: (m2) => formatArea(m2, units),
    speed: (v) => formatSpeed(v, units),
    share: formatShare,
    degrees: (d) => `${decimal(d, 0)}°`,
  };
}

export function ownedCells(frame: Frame, features: Artifacts['features']): Uint8Array {
  const owned = new Uint8Array(frame.width * frame.height);
  const boundaries = ofKind(features, 'boundary');
  if (boundaries.length === 0) return owned.fill(1);
  for (const { geometry } of boundaries) {
    cellsInside(frame, geometry, (index) => {
      owned[index] = 1;
    });
  }
  return owned;
}

/** Grid coordinates to the metre, as a GPS set to UTM shows them. */
export const position = ([x, y]: Point): string => `${decimal(x, 0)} E ${decimal(y, 0)} N`;

/** The CRS in words where it is a UTM zone on WGS 84. */
export function gridName(epsg: number): string {
  const zone = epsg % 100;
  const hemisphere = { 326: 'N', 327: 'S' }[Math.floor(epsg / 100)];
  return hemisphere && zone >= 1 && zone <= 60
    ? `UTM zone ${zone}${hemisphere} (EPSG:${epsg})`
    : `EPSG:${epsg}`;
}

export const WHOSE: Record<Owner, string> = {
  inside: 'yours',
  'on the line': 'on the line',
  neighbour: 'a neighbour’s',
  unknown: 'unknown',
};

/** `17–30%`, or one number where both ends round to the same. */
export function band({ low, high }: Spread): string {
  const [from, to] = [formatShare(low), formatShare(high)];
  if (from === to) return to;
  return /^\d+%$/.test(from) ? `${from.slice(0, -1)}–${to}` : `${from} to ${to}`;
}

/** `1 neck`, `3 necks`. */
export const count = (n: number, one: string, many = `${one}s`): string =>
  `${decimal(n, 0)} ${n === 1 ? one : many}`;

/** `a`, `a and b`, `a, b and c`. */
export const list = (words: readonly string[]): string =>
  words.length <= 1 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} and ${words[words.length - 1]}`;

const ARTICLE: Record<string, string> = {
  'inside corner': 'an',
  underpass: 'an',
  'end of a fence': 'the',
  'end of a barricade': 'the',
};

/** The named ground a neck falls on: `an underpass and a draw`. */
export const fallsOn = ({ landmarks }: Pick<Neck, 'landmarks'>): string =>
  landmarks.length > 0 ? list(landmarks.map((name) => `${ARTICLE[name] ?? 'a'} ${name}`)) : '–';

/** What the user calls each feature. */
export const featureNames = (features: Artifacts['features']): Map<string, string> =>
  new Map(features.flatMap(({ id, name }) => (name ? [[id, name] as const] : [])));
