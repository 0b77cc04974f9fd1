import type { Feature } from '../features/feature.ts';
import { areaOf, lengthOf } from '../features/measure.ts';
import { middleOf } from '../features/shapes.ts';
import { formatArea, formatLength, type Units } from '../features/units.ts';
import { roundUpTo } from './arithmetic.ts';
import { deskOf } from './estimate.ts';
import { ESTIMATES } from './estimates.ts';
import { CREW, doneOn, jobKindOf } from './job-kind.ts';
import type { RateOf } from './rates.ts';
import type { Crew, Job, JobKind } from './types.ts';

/** Hours are booked in halves, dollars in tens: no estimate here is finer. */
const HALF_HOUR = 0.5;
const TEN_DOLLARS = 10;

export const KIND_TITLE: Record<JobKind, string> = {
  barricade: 'Barricade',
  'hinge cut': 'Hinge cut',
  'felled bedding': 'Felled bedding',
  'cleared trail': 'Cleared trail',
  'mulched lane': 'Mulched lane',
  'screen planting': 'Screen planting',
  conifers: 'Conifers',
  opening: 'Opening',
  'food plot': 'Food plot',
  'water crossing': 'Water crossing',
  'fence lowering': 'Fence lowering',
  stand: 'Stand',
  'tower blind': 'Blind on a tower',
  'feeder to remove': 'Feeder to remove',
};

/** Every piece of work among the features, with what it takes; and the proposals this version cannot put into numbers. */
export function jobsOf(
  features: readonly Feature[],
  rate: RateOf,
  units: Units,
): { jobs: Job[]; unpriced: { id: string; name: string; kind: string }[] } {
  const jobs: Job[] = [];
  const unpriced: { id: string; name: string; kind: string }[] = [];
  const numbers = new Map<JobKind, number>();
  for (const feature of features) {
    const kind = jobKindOf(feature);
    const at = middleOf(feature.geometry);
    if (!kind || !at) {
      if (feature.status === 'proposed' && at)
        unpriced.push({ id: feature.id, name: feature.name ?? feature.kind, kind: feature.kind });
      continue;
    }
    const number = (numbers.get(kind) ?? 0) + 1;
    numbers.set(kind, number);
    const { quantities, hours, material, unknown } = ESTIMATES[kind](deskOf(feature, rate, units));
    const crew = CREW[kind];
    const booked = hours === null ? null : bookedHours(hours, crew, rate);
    const labour = booked === null ? null : booked * rate(`${crew}.pay`) + moving(crew, rate);
    const { owner, due, why } = feature.attributes;
    jobs.push({
      id: feature.id,
      name: feature.name ?? `${KIND_TITLE[kind]} ${number}`,
      kind,
      crew,
      people: crew === 'machine' ? 1 : Math.max(1, Math.round(rate(`${crew}.people`))),
      quantities,
      hours: booked,
      money: {
        labour: rounded(labour),
        material: rounded(material),
        total: labour === null || material === null ? null : rounded(labour + material),
      },
      unknown,
      at,
      done: doneOn(feature),
      built: builtInstead(feature, units),
      owner: typeof owner === 'string' && owner.trim() !== '' ? owner.trim() : null,
      due: typeof due === 'string' && /^\d{4}-\d\d-\d\d$/.test(due) ? due : null,
      why: typeof why === 'string' && why !== '' ? why : null,
    });
  }
  return { jobs, unpriced };
}

function builtInstead({ geometry, attributes }: Feature, units: Units): Job['built'] {
  const { plannedLength, plannedArea } = attributes;
  if (typeof plannedLength === 'number')
    return { planned: formatLength(plannedLength, units), built: formatLength(lengthOf(geometry), units) };
  if (typeof plannedArea === 'number')
    return { planned: formatArea(plannedArea, units), built: formatArea(areaOf(geometry), units) };
  return null;
}

/** A machine is hired for a least time; people are paid by the half hour. */
const bookedHours = (hours: number, crew: Crew, rate: RateOf): number =>
  roundUpTo(crew === 'machine' ? Math.max(hours, rate('machine.least')) : hours, HALF_HOUR);

const moving = (crew: Crew, rate: RateOf): number => (crew === 'machine' ? rate('machine.move') : 0);

const rounded = (money: number | null): number | null =>
  money === null ? null : roundUpTo(money, TEN_DOLLARS);
