import { FOOT } from '../features/units.ts';

/** What screens are planted of. */
export const SCREEN_PLANTS = ['switchgrass', 'giant miscanthus', 'conifers', 'brush'] as const;
export type ScreenPlant = (typeof SCREEN_PLANTS)[number];

/** A planting in the fall of one season after it went in. */
export interface Stood {
  /** m. */
  height: number;
  /** Optical depth of a metre of it: what is left of a look through d metres is exp(-depth d). */
  depth: number;
}

interface Growth {
  /** Height in the first, the second and the third fall, ft; the last stays. */
  heights?: readonly number[];
  /** Set at this height, growing by so much a year up to so much, ft. */
  grows?: { from: number; by: number; to: number };
  /** Optical depth of a metre once it stands thick. */
  depth: number;
  source: string;
}

/** How thick a planting stands in its first, second and later seasons, against grown: our assumption. */
const THICK = [0.35, 0.75, 1];

/**
 * Heights: switchgrass 6 to 7 ft in its second season and 8 to 9 ft grown, giant miscanthus about 15 ft: common
 * practice, no source; the other seasons, all other plants and every thickness are our assumption.
 */
const GROWTH: Record<ScreenPlant, Growth> = {
  switchgrass: {
    heights: [2.5, 6.5, 8.5],
    depth: 1.2,
    source:
      'Switchgrass stands 6 to 7 ft in its second season and 8 to 9 ft grown (common practice, no source); its first season is our assumption.',
  },
  'giant miscanthus': {
    heights: [4, 9, 15],
    depth: 1.2,
    source:
      'Giant miscanthus stands about 15 ft grown (common practice, no source); its first two seasons are our assumption.',
  },
  conifers: {
    grows: { from: 1.5, by: 1.25, to: 30 },
    depth: 1.5,
    source: 'Conifers set at 1.5 ft gain 1.25 ft a year: our assumption.',
  },
  brush: {
    grows: { from: 1.5, by: 1.5, to: 10 },
    depth: 0.6,
    source: 'Brush set at 1.5 ft gains 1.5 ft a year up to 10 ft: our assumption.',
  },
};

export const growthSource = (plant: ScreenPlant): string => GROWTH[plant].source;

/**
 * A planting as it stands in the fall of a season, the first being the one it was planted in the spring of.
 *
 * @param season 1 or more; a part of a season counts as the whole before it
 */
export function stoodIn(plant: ScreenPlant, season: number): Stood {
  const { heights, grows, depth } = GROWTH[plant];
  const n = Math.floor(season);
  if (n < 1) return { height: 0, depth: 0 };
  const feet = heights
    ? heights[Math.min(n, heights.length) - 1]!
    : Math.min(grows!.to, grows!.from + grows!.by * n);
  return { height: feet * FOOT, depth: depth * THICK[Math.min(n, THICK.length) - 1]! };
}

export const isScreenPlant = (value: unknown): value is ScreenPlant =>
  (SCREEN_PLANTS as readonly unknown[]).includes(value);
