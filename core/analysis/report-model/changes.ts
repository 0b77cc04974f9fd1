import type { Units } from '../../features/units.ts';
import { quantityInWords } from '../../plan/estimate.ts';
import type { Edition, KeptJob, KeptStand } from './edition.ts';
import { count, type Say } from './facts.ts';
import { dollars, fullDay, hours } from './money.ts';

/** One thing that is not as it was; `before` is null where it is new, `now` where it is gone. */
export interface Change {
  what: string;
  before: string | null;
  now: string | null;
}

/** Necks whose middles lie this near are taken for one, m: our assumption. */
const SAME_PLACE = 60;

/**
 * What a report says otherwise than the edition before it, as far as a reader would see it: numbers that print alike
 * are alike. Necks first, those whose share moved most leading, then stands, jobs, and the sums.
 */
export function changesSince(before: Edition, now: Edition, say: Say, units: Units): Change[] {
  const ground = (area: number | null): string => (area === null ? 'no boundary' : say.area(area));
  return [
    ...neckChanges(before, now, say),
    ...paired(before.stands, now.stands).flatMap(([was, is]) => standChanges(was, is, say)),
    ...paired(before.jobs, now.jobs).flatMap(([was, is]) => jobChanges(was, is, units)),
    ...differing('Work to be done', hours(before.hours), hours(now.hours)),
    ...differing('Money for it', dollars(before.dollars), dollars(now.dollars)),
    ...differing('Ground inside the boundary', ground(before.ownedArea), ground(now.ownedArea)),
  ];
}

/** `Neck 1, share of travel: 27% (31% before)`, `The ford: gone (water crossing, 4 h, $60 before)`. */
export const inWords = ({ what, before, now }: Change): string =>
  before === null
    ? `${what}: new, ${now}`
    : now === null
      ? `${what}: gone (${before} before)`
      : `${what}: ${now} (${before} before)`;

/** Against which edition, in words. */
export const editionName = ({ version, made }: Edition): string => `version ${version} of ${fullDay(made)}`;

const differing = (what: string, before: string, now: string): Change[] =>
  before === now ? [] : [{ what, before, now }];

/** By id: those of now in their order, then those that are gone. */
function paired<T extends { id: string }>(
  before: readonly T[],
  now: readonly T[],
): [was: T | null, is: T | null][] {
  const known = new Set(now.map(({ id }) => id));
  return [
    ...now.map((is): [T | null, T | null] => [before.find(({ id }) => id === is.id) ?? null, is]),
    ...before.filter(({ id }) => !known.has(id)).map((was): [T | null, T | null] => [was, null]),
  ];
}

type KeptNeck = Edition['necks'][number];

function neckChanges({ necks: before }: Edition, { necks: now }: Edition, say: Say): Change[] {
  const pairs = samePlaces(before, now);
  const [wasIn, isIn] = [new Set(pairs.map(([was]) => was)), new Set(pairs.map(([, is]) => is))];
  const moved = (was: KeptNeck | null, is: KeptNeck | null): number =>
    Math.abs((is?.share ?? 0) - (was?.share ?? 0));
  const share = ({ share }: KeptNeck): string => say.share(share);
  const all: [was: KeptNeck | null, is: KeptNeck | null][] = [
    ...pairs,
    ...now.filter((is) => !isIn.has(is)).map((is): [null, KeptNeck] => [null, is]),
    ...before.filter((was) => !wasIn.has(was)).map((was): [KeptNeck, null] => [was, null]),
  ];
  return all
    .toSorted((a, b) => moved(...b) - moved(...a))
    .flatMap(([was, is]): Change[] => {
      if (!was) return [{ what: `Neck ${is!.rank}, share of travel`, before: null, now: share(is!) }];
      if (!is) return [{ what: `Former neck ${was.rank}, share of travel`, before: share(was), now: null }];
      const name = `Neck ${is.rank}${is.rank === was.rank ? '' : ` (then neck ${was.rank})`}`;
      const firm = (neck: KeptNeck): string => (neck.firm ? 'firm' : 'moves with what was assumed');
      return [
        ...differing(`${name}, share of travel`, share(was), share(is)),
        ...differing(`${name}, width`, say.distance(was.width), say.distance(is.width)),
        ...differing(`${name}, how sure`, firm(was), firm(is)),
      ];
    });
}

/** Necks of both that lie in one place, the nearest pairs first, each neck in one pair. */
function samePlaces(before: readonly KeptNeck[], now: readonly KeptNeck[]): [KeptNeck, KeptNeck][] {
  const near = before
    .flatMap((was) =>
      now.map((is) => ({ was, is, off: Math.hypot(was.at[0] - is.at[0], was.at[1] - is.at[1]) })),
    )
    .filter(({ off }) => off <= SAME_PLACE)
    .sort((a, b) => a.off - b.off);
  const taken = new Set<KeptNeck>();
  return near.flatMap(({ was, is }): [KeptNeck, KeptNeck][] => {
    if (taken.has(was) || taken.has(is)) return [];
    taken.add(was).add(is);
    return [[was, is]];
  });
}

function standChanges(was: KeptStand | null, is: KeptStand | null, say: Say): Change[] {
  const risk = ({ level }: KeptStand): string => `risk at night ${level ?? 'not judged'}`;
  const share = (value: number | null): string => (value === null ? 'not known' : say.share(value));
  const usable = ({ usable }: KeptStand): string =>
    usable === null ? 'not known' : `${usable.toFixed(1)} h a week`;
  if (!was) return [{ what: is!.name, before: null, now: `a stand, ${risk(is!)}` }];
  if (!is) return [{ what: was.name, before: `a stand, ${risk(was)}`, now: null }];
  return [
    ...differing('Name of a stand', was.name, is.name),
    ...differing(is.name, risk(was), risk(is)),
    ...differing(`${is.name}, travel in range`, share(was.inReach), share(is.inReach)),
    ...differing(`${is.name}, travel in clear view`, share(was.inView), share(is.inView)),
    ...differing(`${is.name}, clean share`, share(was.clean), share(is.clean)),
    ...differing(`${is.name}, usable`, usable(was), usable(is)),
  ];
}

function jobChanges(was: KeptJob | null, is: KeptJob | null, units: Units): Change[] {
  const all = (job: KeptJob): string =>
    `${job.kind}, ${hours(job.hours)}, ${dollars(job.dollars)}${job.done ? `, done ${fullDay(job.done)}` : ''}`;
  if (!was) return [{ what: is!.name, before: null, now: all(is!) }];
  if (!is) return [{ what: was.name, before: all(was), now: null }];
  const done = (job: KeptJob): string => (job.done ? `done ${fullDay(job.done)}` : 'to be done');
  const labels = [...new Set([...is.quantities, ...was.quantities].map(({ label }) => label))];
  const quantity = (job: KeptJob, label: string): string => {
    const found = job.quantities.find((each) => each.label === label);
    return found ? quantityInWords(found.value, found.measure, units) : 'none';
  };
  return [
    ...differing('Name of a job', was.name, is.name),
    ...differing(is.name, done(was), done(is)),
    ...differing(`${is.name}, kind`, was.kind, is.kind),
    ...labels.flatMap((label) =>
      differing(`${is.name}, ${label.toLowerCase()}`, quantity(was, label), quantity(is, label)),
    ),
    ...differing(`${is.name}, time`, hours(was.hours), hours(is.hours)),
    ...differing(`${is.name}, money`, dollars(was.dollars), dollars(is.dollars)),
  ];
}

/** For the front: the first changes in words, and how many more there are. */
export function firstChanges(changes: readonly Change[], most: number): string {
  if (changes.length === 0) return 'Nothing that this report prints changed.';
  const more = changes.length - most;
  return `${changes.slice(0, most).map(inWords).join('; ')}${more > 0 ? `; and ${count(more, 'more change')}, all under The property` : ''}.`;
}
