import { formatLength, formatShare, type Units } from '../../core/features/units.ts';
import type { Junction } from '../../core/travel/types.ts';
import { list, ownerWords } from './sentences.ts';

const POINTS = ['north', 'northeast', 'east', 'southeast', 'south', 'southwest', 'west', 'northwest'];

/** The nearest of eight points for a bearing clockwise from north, degrees. */
export const compassPoint = (bearing: number): string =>
  POINTS[Math.round((((bearing % 360) + 360) % 360) / 45) % 8]!;

export const junctionSentence = (
  { share, reach, owner }: Pick<Junction, 'share' | 'reach' | 'owner'>,
  units: Units,
): string =>
  `${formatShare(share)} of all travel passes within ${formatLength(reach, units)} of one spot, ${ownerWords(owner)}.`;

/** `3 strands meet: north, southeast and west` */
export const junctionTitle = ({ arms }: Pick<Junction, 'arms'>): string =>
  `${arms.length} strands meet: ${list(arms.map(({ bearing }) => compassPoint(bearing)))}`;
