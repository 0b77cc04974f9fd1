import type { Point } from '../grid/frame.ts';
import type { Owner } from '../travel/types.ts';

export interface StandRisk {
  id: string;
  /** The stand feature, or the neck it was computed for where the property has no stands. */
  subject: { type: 'stand' | 'neck'; id: string; name: string };
  at: Point;
  level: 'low' | 'caution' | 'high' | 'unknown';
  inPool: boolean;
  poolDepth: number;
  /** Path of scent in the night drainage. */
  carry: Point[];
  /** What the carry meets, in order: bedding, corridors, necks, creek bottom. */
  meets: string[];
  owner: Owner;
  /** One line that says it all. */
  verdict: string;
  reasons: string[];
  doubts: string[];
}
