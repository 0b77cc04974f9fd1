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
const banded = ({ usual, low, high }: Band): string =>
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

/** The verdict on one stand in sentences. */
export function verdictWords({ clean, usable, verdict }: ComparedStand): string {
  const lost = verdict.spoils
    .slice(0, 2)
    .map(({ cause, hours }) => `${verdict.hours ? `${weekly(hours)} a week` : 'some winds'} to: ${cause}`);
  return [
    clean
      ? `Clean share when hunted: ${banded(clean)} of all travel comes in reach and view before it meets the scent.`
      : 'In no wind does travel come in reach before it meets the scent.',
    huntedWords(verdict.hours, usable),
    lost.length > 0 ? `Lost ${lost.join('; ')}.` : '',
  ]
    .filter((line) => line !== '')
    .join(' ');
}

function huntedWords(hours: Band | null, usable: number | null): string {
  if (!hours) return 'Without a wind record nobody knows how many hours a week it can be hunted.';
  if (weekly(hours.usual) === 'none') return 'In none of the hours of light does its wind let it be hunted.';
  const byWay = usable === null ? '' : `; with a clean way in, ${weekly(usable)}`;
  return `Its wind lets it be hunted ${weeklyBand(hours)} a week${byWay}.`;
}

export function seasonTables(stand: ComparedStand, facts: Facts): ReportTable[] {
  return [
    ...table(
      'When its wind lets it be hunted, hours a week of the season',
      [left('Part of day'), right('Of light'), right('Can be hunted'), right('Clean'), left('With wind')],
      stand.verdict.parts
        .filter(({ lawful }) => lawful > 0)
        .map(({ part, lawful, hours, clean, winds }) => [
          part,
          weekly(lawful),
          weeklyBand(hours),
          clean === null ? 'none' : formatShare(clean),
          winds.length === 0 ? 'none' : listWinds(winds),
        ]),
    ),
    ...waysTable(stand, facts),
  ];
}

/** How hunters come, in words. */
export const arriving = ({ settings }: Facts): string =>
  settings.hunt.arrive === 'foot' ? 'on foot' : 'driven as far as roads lead';

function waysTable({ ways }: ComparedStand, facts: Facts): ReportTable[] {
  const { say } = facts;
  return table(
    `The way in and out ${arriving(facts)}, each in the commonest wind the stand can be hunted in`,
    [
      left('For'),
      left('Walked'),
      left('Wind'),
      left('Clean'),
      left('From'),
      right('Time'),
      right('Length'),
      left('Against it'),
    ],
    ways.flatMap(({ part, walks }) =>
      walks.map(({ time, wind, clean, best, verdict }) => [
        part,
        { dawn: 'before light', midday: 'midday', dark: 'after dark' }[time],
        wind === 'calm' ? 'calm air' : wind,
        clean === null ? 'not known' : clean ? 'yes' : 'no',
        best?.start ?? '–',
        best ? `${Math.max(1, Math.round(best.minutes))} min` : '–',
        best ? say.distance(best.length) : '–',
        clean ? 'nothing grave' : (best?.faults.find(({ grave }) => grave)?.sentence ?? verdict),
      ]),
    ),
  );
}

function wayInWords(ways: readonly PartWay[]): string {
  if (ways.every(({ clean }) => clean === null)) return 'not known';
  const clean = ways.filter((way) => way.clean);
  if (clean.length === 0) return 'never clean';
  return clean.length === ways.length ? 'clean' : `clean: ${clean.map(({ part }) => part).join(', ')}`;
}
