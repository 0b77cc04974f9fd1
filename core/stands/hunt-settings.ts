import { PACE } from '../travel/routes.ts';
import type { HuntedPart } from './case-verdict.ts';
import type { Legs } from './judge-way.ts';

/** What a person may set about when stands are hunted. */
export interface HuntSettings {
  /** Minutes before sunrise hunting begins and after sunset it ends by the local rule; null until they are entered. */
  lightBefore: number | null;
  lightAfter: number | null;
  /** Days the hours are counted over, MM-DD. */
  season: { from: string; to: string };
  /** Day most does are bred here, MM-DD; null takes it from the latitude. */
  rutPeak: string | null;
  /** Days a stand is left alone after a sit: our assumption. */
  rest: number;
  /** How long a sit lasts at most, h: our assumption. */
  sit: number;
  /** Deer that are not pushed walk about this fast, m/s: our assumption. */
  pace: number;
  /** How long before the first light or deer a hunter is in and quiet, minutes: our assumption. */
  settle: number;
  /** Stands nearer than this are not sat together, m: our assumption. */
  apart: number;
  /** Of the travel that would come in reach, the most that may meet the scent first: our assumption. */
  spoilt: number;
  /** Of all travel, the most that may meet the scent anywhere: our assumption. */
  alarm: number;
  /** How hunters come: on foot, or driven as far as roads lead. */
  arrive: 'foot' | 'vehicle';
  /** How able they are on foot. */
  legs: Legs;
  /** The feature they come from; null for every place of access. */
  startFrom: string | null;
  /** Parts of the day they can hunt. */
  parts: readonly HuntedPart[];
}

export const DEFAULT_HUNT: HuntSettings = {
  lightBefore: null,
  lightAfter: null,
  season: { from: '10-25', to: '11-15' },
  rutPeak: null,
  rest: 4,
  sit: 4,
  pace: PACE,
  settle: 30,
  apart: 150,
  spoilt: 0.25,
  alarm: 0.15,
  arrive: 'foot',
  legs: { pace: 1, longest: null },
  startFrom: null,
  parts: ['before sunrise', 'morning', 'midday', 'evening'],
};
