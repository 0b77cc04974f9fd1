import type { Point } from '../grid/frame.ts';
import type { Window } from './calendar.ts';
import type { HuntedPart } from './case-verdict.ts';
import { type Light, lawfulPart } from './legal-light.ts';
import { closedAt, closedIn, closedWords, type QuietGround } from './quiet-ground.ts';
import type { Choice, SeasonSheet } from './season-sheet.ts';

/** One line of the sheet as it is read: in this window, at this part of the day, with this wind. */
export interface SheetRow {
  /** Index of the date window. */
  window: number;
  part: HuntedPart;
  wind: string;
  share: number | null;
  /** Best first; empty means stay home. */
  choices: Choice[];
  /** Moments in milliseconds on the window's middle day: be seated by, and hunt until. */
  seated: number;
  until: number;
  /** Leave before the next part of the day: the same wind cannot be hunted there then. */
  leave: boolean;
  home: string | null;
}

const NEXT: Partial<Record<HuntedPart, HuntedPart>> = {
  'before sunrise': 'morning',
  morning: 'midday',
  midday: 'evening',
};

export interface SheetMoments {
  /** Light of the middle day of each window; null where the sun does not rise or set. */
  lights: readonly (Light | null)[];
  /** Minutes to be seated before the first deer. */
  settle: number;
  stands: readonly { id: string; at: Point }[];
  grounds: readonly QuietGround[];
}

/**
 * The sheet laid out by date window: stands on ground that is closed then are left out, and every line says when to be
 * seated and until when to hunt. Parts of the day without lawful light have no line.
 */
export function sheetRows(
  { windows, cases }: SeasonSheet,
  { lights, settle, stands, grounds }: SheetMoments,
): SheetRow[] {
  const closed = windows.map((window) => closedStands(window, stands, grounds));
  return windows.flatMap((_, w) =>
    cases.flatMap(({ part, wind, shares, choices, home }): SheetRow[] => {
      const open = choices.filter(({ stand }) => !closed[w]!.has(stand));
      const light = lights[w];
      const lawful = light ? lawfulPart(part, light) : null;
      if (!lawful) return [];
      const after = cases.find((each) => each.part === NEXT[part] && each.wind === wind);
      const shut = choices.find(({ stand }) => closed[w]!.has(stand));
      return [
        {
          window: w,
          part,
          wind,
          share: shares[w] ?? null,
          choices: open,
          seated: lawful.from - settle * 60_000,
          until: lawful.to,
          leave:
            open.length > 0 &&
            after !== undefined &&
            !after.choices.some(({ stand }) => stand === open[0]!.stand),
          home: open.length > 0 ? null : shut ? `${closed[w]!.get(shut.stand)}.` : home,
        },
      ];
    }),
  );
}

function closedStands(
  window: Window,
  stands: SheetMoments['stands'],
  grounds: readonly QuietGround[],
): Map<string, string> {
  const shut = grounds.filter((ground) => closedIn(ground, window));
  // Whichever day it is closed on: a line of the sheet speaks for the whole window.
  return new Map(
    stands.flatMap(({ id, at }) => {
      const ground = closedAt(
        shut.map((each) => ({ ...each, window: null })),
        at,
        window.from,
      );
      const found = ground && shut.find((each) => each.id === ground.id);
      return found ? [[id, closedWords(found)] as const] : [];
    }),
  );
}
