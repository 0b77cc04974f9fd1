import { INK } from './theme.ts';

/** How lines that answers draw look, by the first words of their id; the plain heavy line otherwise. */
const LOOKS: Record<string, { width: number; colour: string; dash?: number[] }> = {
  'trail-into': { width: 4.2, colour: INK.tape },
  'trail-across': { width: 3, colour: INK.tape, dash: [9, 5] },
  'trail-behind': { width: 2, colour: INK.tape, dash: [1.5, 4.5] },
  'walk-meets': { width: 4.2, colour: INK.tape },
  'walk-clean': { width: 2.2, colour: INK.tape, dash: [7, 5] },
  draft: { width: 3.4, colour: INK.tape, dash: [9, 4] },
  closure: { width: 2.6, colour: INK.tape, dash: [3, 4] },
  sightline: { width: 2.6, colour: INK.tape, dash: [9, 5] },
};
const PLAIN = { width: 2.6, colour: INK.tape };

export const askedLine = (id: string): { width: number; colour: string; dash?: number[] } => {
  const [first, second] = id.split('-');
  return LOOKS[`${first}-${second}`] ?? LOOKS[first ?? ''] ?? PLAIN;
};
