import { formatLength, type Units } from '../../core/features/units.ts';
import type { ChannelStation } from '../../core/terrain/types.ts';

type Measures = Pick<ChannelStation, 'left' | 'right' | 'width' | 'source'>;

/** Bed below its lower bank, m: what holds air is the lower side. Null where no depth is stated. */
export function bedDepth({ left, right }: Pick<ChannelStation, 'left' | 'right'>): number | null {
  if (left === null || right === null) return left ?? right;
  return Math.min(left, right);
}

export const CHANNEL_SOURCE: Record<ChannelStation['source'], string> = {
  elevation: 'measured on the elevation',
  field: 'taped in the field',
  'no banks': 'no banks to measure from',
  'cells too coarse': 'not measurable at this cell size',
};

/** `The bed lies 4.6 ft below the left bank and 6.2 ft below the right, 24 yd wide when full; measured on …` */
export function channelSentence(row: Measures, units: Units): string {
  const { left, right, width, source } = row;
  if (bedDepth(row) === null) return `How deep the bed lies: ${CHANNEL_SOURCE[source]}.`;
  const side = (depth: number | null, name: string) =>
    depth === null ? null : `${formatLength(depth, units, 'height')} below the ${name} bank`;
  const banks = [side(left, 'left'), side(right, 'right')].filter((part) => part !== null).join(' and ');
  const full = width === null ? '' : `, ${formatLength(width, units)} wide when full`;
  return `The bed lies ${banks}${full}; ${CHANNEL_SOURCE[source]}.`;
}
