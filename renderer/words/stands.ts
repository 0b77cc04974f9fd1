import { SECTORS } from '../../core/air/types.ts';
import { compassWord } from '../../core/features/units.ts';
import type { ApproachWay, Passing, SectorState, WalkTime } from '../../core/stands/types.ts';
import type { Observation, ScreenPlant } from '../../electron/service/contract.ts';

/** Words of stands. Nothing here says that a shot is safe. */

/** What was found behind a deer, by a sign of its own and in words. */
export const SECTOR_WORDS: Record<SectorState, { sign: string; says: string }> = {
  closed: { sign: '✕', says: 'closed' },
  unknown: { sign: '?', says: 'not known' },
  open: { sign: '!', says: 'nothing stops it close by' },
  checked: { sign: '▲', says: 'ground behind, checked' },
};
export const SECTOR_ORDER: SectorState[] = ['closed', 'unknown', 'open', 'checked'];

/** `north to east`, or all round. */
export const spanWords = (from: number, to: number): string =>
  to - from >= 359.5
    ? 'all round'
    : to - from > 315
      ? `nearly all round, ${Math.round(from % 360)}° to ${Math.round(to % 360)}°`
      : compassWord(from) === compassWord(to)
        ? `to the ${compassWord((from + to) / 2)}, ${Math.round(from % 360)}° to ${Math.round(to % 360)}°`
        : `${compassWord(from)} to ${compassWord(to)}, ${Math.round(from % 360)}° to ${Math.round(to % 360)}°`;

export const PASSING_WORDS: Record<Passing['kind'], string> = {
  corridor: 'Corridor',
  route: 'Route',
  neck: 'Neck',
  junction: 'Junction',
};

export const WALK_WORDS: Record<WalkTime, string> = {
  dawn: 'before first light, deer on their feet',
  midday: 'at midday, deer bedded',
  dark: 'after dark, deer at food',
};

export const WAY_WORDS: Record<ApproachWay['kind'], string> = {
  quickest: 'Quickest way',
  hidden: 'Most hidden way',
  balanced: 'Middle way',
  another: 'Another way',
};

/** Whether a wind can be sat, by sign and word. */
export const HUNT_SIGNS = {
  yes: { sign: '○', says: 'can be sat' },
  doubtful: { sign: '◐', says: 'in doubt' },
  no: { sign: '●', says: 'stay out' },
} as const;

/** Degrees a wind comes from, of its name; 0 for the calm. */
export const bearingOf = (wind: string): number =>
  Math.max(0, (SECTORS as readonly string[]).indexOf(wind)) * 22.5;

/** `in the morning`, `at midday`, `before sunrise`. */
export const partWords = (part: string): string =>
  part === 'before sunrise' ? part : part === 'midday' ? 'at midday' : `in the ${part}`;

export const windOrCalm = (wind: string): string => (wind === 'calm' ? 'Calm air' : `Wind ${wind}`);

export const PLANT_WORDS: Record<ScreenPlant, string> = {
  switchgrass: 'Switchgrass',
  'giant miscanthus': 'Giant miscanthus',
  conifers: 'Conifers',
  brush: 'Brush',
};

/** Who or what was on the ground. */
export const VISIT_WORDS = {
  sit: 'a sit',
  owner: 'the owner was there',
  stock: 'stock was moved',
  mowing: 'it was mowed',
  feed: 'feed was put out',
} as const;

/** How it went between deer and hunter. */
export const OUTCOMES: NonNullable<Observation['outcome']>[] = [
  'came in range',
  'passed out of range',
  'caught my scent',
  'saw or heard me',
];
