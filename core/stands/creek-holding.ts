import { creekHolds, type Holding } from '../air/creek.ts';
import { formatLength, type Units } from '../features/units.ts';
import type { ChannelStation } from '../terrain/types.ts';
import { type CreekWater, waterDepth } from './creek-stage.ts';

/** Whether depth and width of a channel are known at a station. */
export const measured = ({ left, right, width }: ChannelStation): boolean =>
  left !== null && right !== null && width !== null;

/**
 * Whether a station of a channel holds air: between the banks, the lower of the two, and the water where it is known.
 *
 * @param crossWind m/s across the channel
 * @param deficit how much colder the air in it is, K
 */
export function holdingAt(
  station: ChannelStation,
  { crossWind, deficit }: { crossWind: number; deficit: number },
  water: CreekWater | undefined,
  units: Units,
): Holding {
  const { left, right, width, at } = station;
  const deep = water ? waterDepth(water, at) : 0;
  const depth = left === null || right === null ? null : Math.max(0, Math.min(left, right) - deep);
  const holding = creekHolds({ depth, width, crossWind, deficit }, units);
  if (deep === 0 || depth === null) return holding;
  return { ...holding, words: `${holding.words}, over ${formatLength(deep, units, 'height')} of water` };
}
