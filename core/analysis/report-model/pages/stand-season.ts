import { formatShare } from '../../../features/units.ts';
import type { Band } from '../../../stands/clean-share.ts';
import type { ComparedStand } from '../../../stands/compare.ts';
import type { PartWay } from '../../../stands/sitting.ts';
import { listWinds } from '../../../stands/verdict.ts';
import type { ReportTable } from '../../report.ts';
import type { Facts } from '../facts.ts';
import { left, right, table } from '../table.ts';

/** What was computed of stands on demand, as their pages tell it. */

/** `31% (12% to 48%)`. */
export const banded = ({ usual, low, high }: Band): string =>
  `${formatShare(usual)} (${formatShare(low)} to ${formatShare(high)})`;
/** Hours a week. */
const weekly = (hours: number): string =>
  hours < 1 / 120 ? 'none' : hours < 1 ? `${Math.round(hours * 60)} min` : `${hours.toFixed(1)} h`;
function weeklyBand(band: Band | null): string {
  if (band === null) return 'not known';
  const [usual, low, high] = [band.usual, band.low, band.high].map(weekly);
  return low === high ? usual! : `${usual} (${low} to ${high})`;
}

/** Stands side by side, the most usable hours first. */
export const comparedTable = ({ found }: Facts): ReportTable[] =>
  table(
    'Stands side by side: hours a week that the wind and a clean way in allow, and the share of travel met before it meets the scent',
    [
      left('Stand'),
      right('Usable'),
      right('By wind alone'),
      right('Clean share when hunted'),
      left('Best'),
      left('Dearest loss'),
      left('Way in'),
    ],
    [...(found.compared ?? [])]
      .sort((a, b) => (b.usable ?? 0) - (a.usable ?? 0))
      .map(({ name, usable, verdict, clean, ways }) => [
        name,
        usable === null ? 'not known' : weekly(usable),
        weeklyBand(verdict.hours),
        clean ? banded(clean) : 'none',
        verdict.best ? `${verdict.best.part}, ${listWinds(verdict.best.winds)}` : 'none',
        verdict.spoils[0]?.cause ?? 'none',
        wayInWords(ways),
      ]),
  );

export const rulingsTable = ({ found }: Facts): ReportTable[] =>
  table(
    'What to do with each stand: the smallest change tried that mends its worst fault, with the hours a week it gains',
    [left('Stand'), left('Ruling'), left('Worst fault'), left('Change'), right('Gains')],
    (found.rulings ?? []).map(({ stand, ruling, worst, change }) => [
      stand.name,
      ruling,
      worst?.sentence ?? 'none',
      change?.what ?? 'none',
      change ? weekly(change.gained) : '–',
    ]),
  );

/** What its worst losses are, in a sentence; none where nothing is lost. */
export function lostWords({ verdict }: ComparedStand): string[] {
  const lost = verdict.spoils
    .slice(0, 2)
    .map(({ cause, hours }) => `${verdict.hours ? `${weekly(hours)} a week` : 'some winds'} to: ${cause}`);
  return lost.length > 0 ? [`Lost ${lost.join('; ')}.`] : [];
}

/** Hours its wind lets it be hunted, and of them those with a clean way in. */
export function weeklyOf(hours: Band, usable: number | null): string {
  if (weekly(hours.usual) === 'none') return 'none: in no hour of light does its wind suit';
  const byWay = usable === null ? '' : `; with a clean way in, ${weekly(usable)}`;
  return `${weeklyBand(hours)} by its wind${byWay}`;
}

/** Part by part of the day: hours, winds and the way in and out. */
export const seasonTable = (stand: ComparedStand, facts: Facts): ReportTable[] =>
  table(
    `Hours a week its wind lets it be hunted, and the way in and out ${arriving(facts)}`,
    [
      left('Part of day'),
      right('Of light'),
      right('Can be hunted'),
      right('Clean'),
      left('With wind'),
      left('Way in and out'),
    ],
    stand.verdict.parts
      .filter(({ lawful }) => lawful > 0)
      .map(({ part, lawful, hours, clean, winds }) => [
        part,
        weekly(lawful),
        weeklyBand(hours),
        clean === null ? 'none' : formatShare(clean),
        winds.length === 0 ? 'none' : listWinds(winds),
        partWay(stand, part, facts),
      ]),
  );

/** How hunters come, in words. */
export const arriving = ({ settings }: Facts): string =>
  settings.hunt.arrive === 'foot' ? 'on foot' : 'driven as far as roads lead';

const WALKED = { dawn: 'in before light', midday: 'in by day', dark: 'out after dark' } as const;

const walksOf = ({ ways }: ComparedStand, { say }: Facts) =>
  ways.flatMap(({ part, walks }) =>
    walks.map(({ time, wind, clean, best, verdict }) => ({
      part,
      when: WALKED[time],
      /** In the commonest wind the part can be hunted in. */
      way: [
        clean === null ? 'not known' : clean ? 'clean' : 'not clean',
        wind === 'calm' ? 'calm air' : `wind ${wind}`,
        ...(best ? [best.start, say.distance(best.length)] : []),
      ].join(', '),
      minutes: best ? ` ${Math.max(1, Math.round(best.minutes))} min` : '',
      against: clean ? null : (best?.faults.find(({ grave }) => grave)?.sentence ?? verdict),
    })),
  );

/** `not clean, wind W, Yard, 0.8 mi: in by day 25 min, out after dark 26 min`. */
function partWay(stand: ComparedStand, part: string, facts: Facts): string {
  const walks = walksOf(stand, facts).filter((walk) => walk.part === part);
  const ways = [...new Set(walks.map(({ way }) => way))];
  return ways.length === 0
    ? '–'
    : ways
        .map((way) => {
          const same = walks.filter((walk) => walk.way === way);
          return `${way}: ${same.map(({ when, minutes }) => `${when}${minutes}`).join(', ')}`;
        })
        .join('; ');
}

/** What speaks against its ways in and out, each reason once. */
export function againstWays(stand: ComparedStand, facts: Facts): string[] {
  const walks = walksOf(stand, facts).filter(({ against }) => against);
  const reasons = [...new Set(walks.map(({ against }) => against!))];
  return reasons.map((reason) => {
    const parts = walks
      .filter(({ against }) => against === reason)
      .map(({ part, when }) => `${part} ${when}`);
    return `Against the way ${parts.length === walksOf(stand, facts).length ? 'in and out' : `(${parts.join(', ')})`}: ${reason}`;
  });
}

function wayInWords(ways: readonly PartWay[]): string {
  if (ways.every(({ clean }) => clean === null)) return 'not known';
  const clean = ways.filter((way) => way.clean);
  if (clean.length === 0) return 'never clean';
  return clean.length === ways.length ? 'clean' : `clean: ${clean.map(({ part }) => part).join(', ')}`;
}
