import { compassWord, formatLength, formatShare, type Units } from '../../core/features/units.ts';
import type { Junction } from '../../core/travel/types.ts';
import { list, ownerWords } from './sentences.ts';

export const junctionSentence = (
  { share, reach, owner }: Pick<Junction, 'share' | 'reach' | 'owner'>,
  units: Units,
): string =>
  `${formatShare(share)} of all travel passes within ${formatLength(reach, units)} of one spot, ${ownerWords(owner)}.`;

/** `3 strands meet: north, southeast and west` */
export const junctionTitle = ({ arms }: Pick<Junction, 'arms'>): string =>
  `${arms.length} strands meet: ${list(arms.map(({ bearing }) => compassWord(bearing)))}`;
