import type { FoundOf } from '../workers/inquiries/table.ts';
import { type AirAsking, windsOf } from './air-prepared.ts';
import { airOf, CALM, type HourAsked } from './handlers/air.ts';
import type { OpenProperty } from './open-property.ts';

/** The air of one hour, ready for any spot. */
type HandAir = FoundOf<'hand.air'> & { hour: Omit<Awaited<ReturnType<typeof airOf>>, 'sun'> };

interface Kept {
  key: string;
  from: readonly unknown[];
  air: HandAir;
}

/** The last hour asked of every property: the pointer goes from spot to spot in the same air. */
const kept = new WeakMap<OpenProperty, Kept>();

/** The air of an hour, made once for all the spots asked in it. */
export async function handAirOf(asking: AirAsking, asked: HourAsked): Promise<HandAir> {
  const { property, inquirer } = asking;
  const { elevation, cover, canopy, poolDepth } = property.artifacts;
  const from = [elevation, cover, canopy, poolDepth];
  const { date, hour, windFrom, windSpeed, cloud } = asked;
  const { cooling, hours } = property.input.settings.air;
  const key = JSON.stringify([date, hour, windFrom, windSpeed, cloud, cooling, hours]);
  const known = kept.get(property);
  if (known?.key === key && from.every((artifact, k) => artifact === known.from[k])) return known.air;
  // One after the other: what else is under the hand keeps a worker to itself.
  if (windSpeed >= CALM) await windsOf(asking, [0, 0.2]);
  const { sun: _, ...air } = await airOf(asking, asked);
  const made = { ...(await inquirer.ask(property, 'hand.air', air, [0.8, 1])), hour: air };
  kept.set(property, { key, from, air: made });
  return made;
}
