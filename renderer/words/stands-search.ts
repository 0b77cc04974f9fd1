import type { Ruling, SiteRow, StandRuling } from '../../electron/service/contract.ts';

/** Words of where stands should go. */

export const SEAT_WORDS: Record<SiteRow['seat'], string> = {
  tree: 'a tree',
  tower: 'a tower',
  ground: 'a blind on the ground',
};

/** Each ruling by a sign of its own and in words. */
export const RULING_WORDS: Record<Ruling, { sign: string; says: string }> = {
  keep: { sign: '✓', says: 'keep' },
  screen: { sign: '❘❘', says: 'screen' },
  'new way in': { sign: '⤳', says: 'new way in' },
  move: { sign: '→', says: 'move' },
  retire: { sign: '✕', says: 'retire' },
};

/** What shuts a place out, in a word. */
export const FAULT_WORDS: Record<SiteRow['faults'][number]['key'], string> = {
  owner: 'not the client’s',
  seat: 'no seat',
  quiet: 'closed ground',
  taken: 'a stand is there',
  reach: 'no travel in view',
  scent: 'scent',
  way: 'no clean way in',
  backstop: 'no backstop',
  less: 'others are better',
};

export const WORST_WORDS: Record<NonNullable<StandRuling['worst']>['fault'], string> = {
  way: 'the way in',
  scent: 'scent',
  reach: 'reach',
  seen: 'being seen',
};
