import type { ComparedStand } from '../../stands/compare.ts';
import type { StandRuling } from '../../stands/ruling-types.ts';
import type { Apart } from '../../stands/season-sheet.ts';
import type { WayTaken } from '../../stands/stand-ways.ts';

/** The season sheet as it was told: clock times in the standard time of `zone`. */
export interface SheetFound {
  windows: readonly { name: string; from: string; to: string }[];
  lines: readonly {
    /** Index into `windows`. */
    window: number;
    part: string;
    wind: string;
    share: number | null;
    /** Best first; empty means stay home. */
    choices: readonly { name: string; clean: number; firm: boolean; ways: readonly WayTaken[] }[];
    seated: string;
    until: string;
    leave: boolean;
  }[];
  apart: readonly (Pick<Apart, 'cases' | 'why'> & { names: readonly [string, string] })[];
  zone: string;
}

/** What was computed of stands on demand and still holds; null is what nobody asked for. */
export interface StandFindings {
  compared: readonly ComparedStand[] | null;
  rulings: readonly StandRuling[] | null;
  sheet: SheetFound | null;
}

export const NOTHING_FOUND: StandFindings = { compared: null, rulings: null, sheet: null };
