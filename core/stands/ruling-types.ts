import type { Point } from '../grid/frame.ts';
import type { ReadyGround } from './judge-way.ts';
import type { SeasonAir } from './scent-study.ts';
import type { SiteGround, SiteRules } from './site-ground.ts';
import { huntedHours } from './site-judge.ts';
import type { PartWay } from './sitting.ts';
import type { StandReach, StandSpot } from './types.ts';
import type { StandVerdict } from './verdict.ts';

export const RULINGS = ['keep', 'screen', 'new way in', 'move', 'retire'] as const;
export type Ruling = (typeof RULINGS)[number];

/** One change that was tried, and what the verdict gave with it. */
export interface TriedChange {
  ruling: Ruling;
  /** What is to be done. */
  what: string;
  /** Hours a week usable with it: the wind lets the stand be hunted and a clean way leads there. */
  hours: number;
  gained: number;
  /** Mean share of travel met clean over the hours of light, with it. */
  worth: number;
  /** Share of the hunter in view of passing deer with it; null where it does not bear on that. */
  seen: number | null;
  /** Where the stand goes, or what is planted, cut or walked; null where nothing is drawn. */
  at: Point | null;
  lines: Point[][];
  doubts: string[];
}

export interface StandRuling {
  stand: { id: string; name: string; at: Point };
  ruling: Ruling;
  /** Usable hours a week now, and the hours its wind alone allows. */
  hours: number;
  byWind: number;
  worth: number;
  /** What costs the most hours. */
  worst: { fault: StandFault; hours: number; sentence: string } | null;
  /** The smallest change that mends it, among those tried; null where none is wanted or none helps. */
  change: TriedChange | null;
  tried: TriedChange[];
  sentence: string;
  doubts: string[];
}

export type StandFault = 'way' | 'scent' | 'reach' | 'seen';

/** What was computed of a stand before. */
export interface RuledStand {
  spot: StandSpot;
  verdict: StandVerdict;
  reach: StandReach;
  ways: PartWay[];
}

/** A stand with everything a change to it is tried on. */
export interface Ruled {
  stand: RuledStand;
  others: readonly StandSpot[];
  ground: SiteGround;
  air: SeasonAir;
  rules: SiteRules;
  ready: ReadyGround;
}

/** Hours usable, and mean share of travel met clean over all hours of light, by ways that are clean. */
export function usable({ parts }: StandVerdict, ways: readonly PartWay[]): { hours: number; worth: number } {
  let [hours, worth, lawful] = [0, 0, 0];
  for (const each of parts) {
    lawful += each.lawful;
    if (ways.find((way) => way.part === each.part)?.clean === false) continue;
    hours += huntedHours(each);
    worth += huntedHours(each) * (each.clean ?? 0);
  }
  return { hours, worth: lawful > 0 ? worth / lawful : 0 };
}
