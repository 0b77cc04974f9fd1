import { type Cloud, cloudAt } from '../../core/air/clock.ts';
import type { LayerAt } from '../../core/air/near-ground.ts';
import { solarTime } from '../../core/air/sun.ts';
import { CLOCK_WIND } from '../../core/stands/scent-study.ts';
import type { FoundOf } from '../workers/inquiries/table.ts';
import type { ServiceContext } from './context.ts';
import type { Inquirer, SharedWork } from './inquiring.ts';
import type { OpenProperty } from './open-property.ts';

/** What is slow to make and the same for every wind: kept for the last ground and a few nights. */
interface Prepared {
  from: readonly unknown[];
  winds: SharedWork<FoundOf<'air.windGround'>> | null;
  nights: Map<string, SharedWork<FoundOf<'air.clockNight'>>>;
}

const kept = new WeakMap<OpenProperty, Prepared>();
const MOST_NIGHTS = 6;

/** Wind and cloud a day is reckoned under: what is left of a breeze after sunset, and a clear sky. */
const CLEAR_AND_CALM: { wind: number; cloud: Cloud } = { wind: CLOCK_WIND, cloud: 0 };

function preparedOf(property: OpenProperty): Prepared {
  const { elevation, cover, canopy } = property.artifacts;
  const from = [elevation, cover, canopy];
  const known = kept.get(property);
  if (known && from.every((artifact, k) => artifact === known.from[k])) return known;
  const made: Prepared = { from, winds: null, nights: new Map() };
  kept.set(property, made);
  return made;
}

/** What one request of the air asks with. */
export interface AirAsking {
  context: ServiceContext;
  property: OpenProperty;
  inquirer: Inquirer;
}

type Span = readonly [number, number];

/** The ground made ready for wind from any side. */
export function windsOf({ context, property, inquirer }: AirAsking, span?: Span) {
  const prepared = preparedOf(property);
  if (!prepared.winds || prepared.winds.failed())
    prepared.winds = context.inquiring.begin((each) => each.ask(property, 'air.windGround', null));
  return inquirer.share(prepared.winds, span);
}

/**
 * The air of the day that follows a solar noon.
 *
 * @param noon hours since 1970
 */
export function nightOf(
  { context, property, inquirer }: AirAsking,
  noon: number,
  weather = CLEAR_AND_CALM,
  span?: Span,
) {
  const { nights } = preparedOf(property);
  const { cooling } = property.input.settings.air;
  const key = `${Math.round(noon)} ${cooling} ${weather.wind} ${weather.cloud}`;
  let night = nights.get(key);
  if (!night || night.failed()) {
    const question = { noon, cooling, ...weather };
    night = context.inquiring.begin((each) => each.ask(property, 'air.clockNight', question));
    nights.set(key, night);
    if (nights.size > MOST_NIGHTS) nights.delete(nights.keys().next().value!);
  }
  return inquirer.share(night, span);
}

/** What cold and warm ground does to the air at an hour. */
export async function layerAt(
  asking: AirAsking,
  hours: number,
  cloud: Cloud,
  span?: Span,
): Promise<LayerAt & { chilled: number }> {
  const { longitude } = asking.property.input.frame;
  const solar = solarTime(hours, longitude);
  // A day of the clock begins at three in the afternoon.
  const noon = hours - solar + (solar < 15 ? -12 : 12);
  const { ground, wind, hours: looks } = await nightOf(asking, noon, { ...CLEAR_AND_CALM, cloud }, span);
  const look = looks.reduce((best, next) =>
    Math.abs(next.hours - hours) < Math.abs(best.hours - hours) ? next : best,
  );
  return { ...look, frame: ground.frame, wind, cloud: cloudAt(cloud, look.hours, longitude) };
}
