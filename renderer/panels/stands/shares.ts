import { formatShare } from '../../../core/features/units.ts';
import type { CaseRow } from '../../../electron/service/contract.ts';

/** Words of shares of travel. What is not known is said; a share of nothing is a share. */

type Band = NonNullable<CaseRow['clean']>;

export const shareOrUnknown = (share: number | null, unknown = 'not known'): string =>
  share === null ? unknown : formatShare(share);

/** `31% (12% to 48%)`. */
export const bandWords = ({ usual, low, high }: Band): string =>
  `${formatShare(usual)} (${formatShare(low)} to ${formatShare(high)})`;

/** `6.5 h`, `40 min`, `none`. */
export const hoursWords = (hours: number): string => {
  if (hours < 1 / 120) return 'none';
  return hours < 0.995
    ? `${Math.round(hours * 60)} min`
    : `${hours < 9.95 ? hours.toFixed(1) : hours.toFixed(0)} h`;
};

export const hoursOrUnknown = (hours: number | null | undefined): string =>
  hours === null || hours === undefined ? 'not known' : hoursWords(hours);

/** Hours gained, or lost with a minus. */
export const gainWords = (hours: number): string =>
  hours < 0 ? `−${hoursWords(-hours)}` : hoursWords(hours);
