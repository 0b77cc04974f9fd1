import type { CameraFound } from '../../core/stands/camera.ts';
import type { ComparedStand } from '../../core/stands/compare.ts';
import type { StandRuling } from '../../core/stands/ruling-types.ts';
import type { SiteFault } from '../../core/stands/site-judge.ts';

/** Answers about where stands should go: SI numbers and sentences in the user's units. */

export type { ComparedStand } from '../../core/stands/compare.ts';

export interface StandCompareAnswer {
  stands: ComparedStand[];
  sentences: string[];
  cautions: string[];
  notes: string[];
  seconds: number;
}

export type { Ruling, StandRuling, TriedChange } from '../../core/stands/ruling-types.ts';

export interface StandRulingsAnswer {
  rulings: StandRuling[];
  cautions: string[];
  notes: string[];
  seconds: number;
}

export interface SiteRow extends ComparedStand {
  seat: 'tree' | 'tower' | 'ground';
  /** Of the travel in clear view, the share with ground close behind the deer. */
  backed: number | null;
  /** Mean share of all travel met clean over the hours of light, by clean ways in and with ground behind the deer. */
  value: number;
  /** The same were every way in clean. */
  potential: number;
  faults: { key: SiteFault; sentence: string }[];
  reasons: string[];
}

export interface StandSearchAnswer {
  /** Whose travel was searched on, in words. */
  plan: string;
  /** With nothing against them; and with nothing against them but the way in. The best first. */
  sites: SiteRow[];
  ifWay: SiteRow[];
  /** Places that look good on a map and are not proposed, the most travelled first. */
  passed: {
    name: string;
    at: [number, number];
    share: number;
    faults: { key: SiteFault; sentence: string }[];
  }[];
  sentences: string[];
  doubts: string[];
  cautions: string[];
  notes: string[];
  seconds: number;
}

export interface StandCamerasAnswer extends CameraFound {
  seconds: number;
}

export interface StandsSearchAnswers {
  'stands.cameras': StandCamerasAnswer;
  'stands.compare': StandCompareAnswer;
  'stands.rulings': StandRulingsAnswer;
  'stands.search': StandSearchAnswer;
}
