import type { LayerAt } from '../../core/air/near-ground.ts';
import { solarTime } from '../../core/air/sun.ts';
import type { FoundOf } from '../workers/inquiries/table.ts';
import type { ServiceContext } from './context.ts';
import type { OpenProperty } from './open-property.ts';

/** What is slow to make and the same for every wind: kept for the last ground and a few nights. */
interface Prepared {
  from: readonly unknown[];
  winds: Promise<FoundOf<'air.windGround'>> | null;
  nights: Map<string, Promise<FoundOf<'air.clockNight'>>>;
}

const kept = new WeakMap<OpenProperty, Prepared>();
const MOST_NIGHTS = 4;

function preparedOf(property: OpenProperty): Prepared {
  const { elevation, cover, canopy } = property.artifacts;
  const from = [elevation, cover, canopy];
  const known = kept.get(property);
  if (known && from.every((artifact, k) => artifact === known.from[k])) return known;
  const made: Prepared = { from, winds: null, nights: new Map() };
  kept.set(property, made);
  return made;
}

export function windsOf(context: ServiceContext, property: OpenProperty): Promise<FoundOf<'air.windGround'>> {
  const prepared = preparedOf(property);
  prepared.winds ??= context.inquiring.ask(property, 'air.windGround', null).catch((error) => {
    prepared.winds = null;
    throw error;
  });
  return prepared.winds;
}

/** @param noon hours since 1970 of the solar noon the night follows */
export function nightOf(
  context: ServiceContext,
  property: OpenProperty,
  noon: number,
): Promise<FoundOf<'air.clockNight'>> {
  const { nights } = preparedOf(property);
  const { cooling } = property.input.settings.air;
  const key = `${Math.round(noon)} ${cooling}`;
  const known = nights.get(key);
  if (known) return known;
  const made = context.inquiring.ask(property, 'air.clockNight', { noon, cooling }).catch((error) => {
    nights.delete(key);
    throw error;
  });
  nights.set(key, made);
  if (nights.size > MOST_NIGHTS) nights.delete(nights.keys().next().value!);
  return made;
}

/** The cold layer nearest an hour; null from noon to three in the afternoon by the sun, when the night has none. */
export async function layerAt(
  context: ServiceContext,
  property: OpenProperty,
  hours: number,
): Promise<LayerAt | null> {
  const solar = solarTime(hours, property.input.frame.longitude);
  if (solar > 12 && solar < 15) return null;
  const noon = hours - solar + (solar <= 12 ? -12 : 12);
  const { ground, wind, hours: looks } = await nightOf(context, property, noon);
  const look = looks.reduce((best, next) =>
    Math.abs(next.hours - hours) < Math.abs(best.hours - hours) ? next : best,
  );
  const { depth, deficit, east, south } = look;
  return { frame: ground.frame, depth, deficit, east, south, wind };
}
