import type { Edition } from './edition.ts';
import type { Facts } from './facts.ts';

/** What the report at hand says, in the form that is kept. */
export function editionOf(facts: Facts, made: string): Edition {
  const { artifacts, settings, work, found, ownedArea } = facts;
  return {
    version: settings.brief.version || '1',
    made,
    ownedArea,
    necks: artifacts.necks.map(({ rank, at, share, width, firm }) => ({ rank, at, share, width, firm })),
    stands: artifacts.features
      .filter(({ kind }) => kind === 'stand')
      .map(({ id, name }) => {
        const reach = artifacts.standReaches.find(({ spot }) => spot.id === id);
        const compared = found.compared?.find((each) => each.id === id);
        return {
          id,
          name: name ?? 'unnamed stand',
          level: artifacts.standRisks.find(({ subject }) => subject.id === id)?.level ?? null,
          inReach: reach?.shareInReach ?? null,
          inView: reach?.shareInView ?? null,
          clean: compared?.clean?.usual ?? null,
          usable: compared?.usable ?? null,
        };
      }),
    jobs: work.jobs.map(({ id, name, kind, done, hours, money, quantities }) => ({
      id,
      name,
      kind,
      done,
      hours,
      dollars: money.total,
      quantities: quantities.map(({ label, value, measure }) => ({ label, value, measure })),
    })),
    hours: work.totals.all.hours,
    dollars: work.totals.all.money,
  };
}

/** Numbers to a millionth: an edition is kept in the property file for good. */
export const asKept = (edition: Edition): Edition =>
  JSON.parse(
    JSON.stringify(edition, (_, value: unknown) =>
      typeof value === 'number' ? Math.round(value * 1e6) / 1e6 : value,
    ),
  ) as Edition;
