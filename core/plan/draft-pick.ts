import { decimal } from '../features/units.ts';
import { DRAFT_AIMS, type DraftLine, type DraftPick } from './draft-types.ts';

/** Person hours of the two sizes that have a limit. */
export interface DraftHours {
  weekend: number;
  winter: number;
}

/** Nothing takes less, h: hours are booked in halves. */
const LEAST_HOURS = 0.5;
/** Sums of half hours are exact but for the last bit. */
const EPSILON = 1e-6;

/**
 * The lines of a draft in the order in which they are to be done. Each aim in turn gives its next best: the most gain for
 * an hour, needed lines reckoned in and put before it. Turns, since an hour at a stand and travel at a neck cannot be
 * exchanged: our choice. Lines whose hours are not known come last of their aim.
 */
export function orderLines(lines: readonly DraftLine[]): DraftLine[] {
  const order: DraftLine[] = [];
  const left = new Set(lines);
  const byId = idsOf(lines);
  while (left.size > 0)
    for (const aim of DRAFT_AIMS) {
      const [next] = [...left]
        .filter((line) => line.aim === aim)
        .map((line) => {
          const bundle = bundleOf(line, byId, (each) => !left.has(each));
          return { bundle, worth: worthOf(line, bundle) };
        })
        .sort((a, b) => b.worth - a.worth);
      for (const line of next?.bundle ?? []) if (left.delete(line)) order.push(line);
    }
  return order;
}

/**
 * What fits in a weekend, in a winter, and all of it. A winter begins with what the weekend holds, so that each size is
 * part of the next; a line goes in with all it needs or not at all.
 *
 * @param order lines as `orderLines` gives them
 */
export function pickSizes(order: readonly DraftLine[], hours: DraftHours): DraftPick[] {
  const weekend = fill(order, [], hours.weekend, 'weekend');
  const winter = fill(order, weekend.lines, hours.winter, 'winter');
  const all: DraftPick = {
    size: 'everything',
    budget: null,
    hours: sum(order),
    lines: order.map(({ feature }) => feature.id),
    left: [],
  };
  return [weekend, winter, all];
}

function fill(
  order: readonly DraftLine[],
  before: readonly string[],
  budget: number,
  size: 'weekend' | 'winter',
): DraftPick {
  const byId = idsOf(order);
  const taken = new Set(before.map((id) => byId.get(id)!));
  const left: DraftPick['left'] = [];
  for (const line of order) {
    if (taken.has(line)) continue;
    const bundle = bundleOf(line, byId, (each) => taken.has(each));
    const spent = sum([...taken]);
    const why = refusal(line, bundle, budget - spent, size);
    if (why) left.push({ id: line.feature.id, why });
    else for (const each of bundle) taken.add(each);
  }
  const lines = order.filter((line) => taken.has(line));
  // A line may have been refused before another brought it in as what it needs.
  const kept = new Set(lines.map(({ feature }) => feature.id));
  return {
    size,
    budget,
    hours: sum(lines),
    lines: [...kept],
    left: left.filter(({ id }) => !kept.has(id)),
  };
}

/** Why a line with what it needs does not go in; null when it does. */
function refusal(
  line: DraftLine,
  bundle: readonly DraftLine[],
  room: number,
  size: 'weekend' | 'winter',
): string | null {
  const named = (bad: DraftLine): string => (bad === line ? 'It' : `It needs “${bad.job.name}”, which`);
  const machine = size === 'weekend' ? bundle.find(({ job }) => job.crew === 'machine') : undefined;
  if (machine) return `${named(machine)} takes a machine.`;
  const late = bundle.find(({ inWinter }) => !inWinter);
  if (late) return `${named(late)} is not work for the days when timber may be cut.`;
  const unknown = bundle.find(({ job }) => job.hours === null);
  if (unknown) return `${named(unknown)} has hours that are not known.`;
  const takes = sum(bundle);
  if (takes <= room + EPSILON) return null;
  const whole = bundle.length > 1 ? 'With what it needs it' : 'It';
  return `${whole} takes ${inHours(takes)}; ${inHours(Math.max(0, room))} were left when its turn came.`;
}

const inHours = (hours: number): string => `${decimal(hours, Number.isInteger(hours) ? 0 : 1)} h`;

const idsOf = (lines: readonly DraftLine[]): Map<string, DraftLine> =>
  new Map(lines.map((line) => [line.feature.id, line]));

/** A line behind everything it needs that is not there yet. */
function bundleOf(
  line: DraftLine,
  byId: ReadonlyMap<string, DraftLine>,
  isThere: (line: DraftLine) => boolean,
): DraftLine[] {
  const bundle: DraftLine[] = [];
  const come = new Set<DraftLine>();
  const add = (each: DraftLine): void => {
    if (come.has(each) || isThere(each)) return;
    // Marked before what it needs is looked at, so that a ring of needs ends.
    come.add(each);
    for (const id of each.needs) {
      const needed = byId.get(id);
      if (needed) add(needed);
    }
    bundle.push(each);
  };
  add(line);
  return bundle;
}

const sum = (lines: readonly DraftLine[]): number =>
  lines.reduce((total, { job }) => total + (job.hours ?? 0), 0);

/** Gain for an hour; what is needed adds its own where it serves the same aim. */
function worthOf({ aim }: DraftLine, bundle: readonly DraftLine[]): number {
  if (bundle.some(({ job }) => job.hours === null)) return Number.NEGATIVE_INFINITY;
  const gain = bundle.reduce((total, line) => total + (line.aim === aim ? line.gain : 0), 0);
  return gain / Math.max(LEAST_HOURS, sum(bundle));
}
