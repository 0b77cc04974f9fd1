import { formatShare } from '../../../features/units.ts';
import type { ReportPage, ReportTable } from '../../report.ts';
import { CAUTIONS } from '../cautions.ts';
import type { Facts } from '../facts.ts';
import { monthDay } from '../money.ts';
import type { SheetFound } from '../stand-findings.ts';
import { left, right, table } from '../table.ts';
import { arriving } from './stand-season.ts';

/** The season sheet, one table a window of dates; no page while nobody asked for it. */
export const seasonPage = (facts: Facts): ReportPage[] =>
  facts.found.sheet ? [pageOf(facts.found.sheet, facts)] : [];

function pageOf({ windows, lines, apart, zone }: SheetFound, facts: Facts): ReportPage {
  const nowhere = lines.every(({ choices }) => choices.length === 0);
  return {
    topic: 'season',
    title: 'Season sheet',
    map: null,
    paragraphs: [
      `Wind by part of day: which stand, with its clean share, or stay home. Winds that are not listed: stay home. Seated by and until are ${zone} on the middle day of the dates; “then leave” means that wind cannot be sat there in the next part of the day. Hunters come ${arriving(facts)}.`,
      ...(nowhere
        ? [
            `No stand can be sat in any wind of the season by a clean way in ${arriving(facts)}: stay home${facts.settings.hunt.arrive === 'foot' ? ', or ask for the sheet again with hunters driven as far as roads lead' : ''}.`,
          ]
        : []),
    ],
    tables: [
      ...windows.flatMap((window, w) =>
        table(
          `${window.name}, ${monthDay(window.from)} to ${monthDay(window.to)}`,
          [
            left('Part of day'),
            left('Wind'),
            right('Of its hours'),
            left('Stand'),
            left('Way in'),
            left('Hours'),
          ],
          lines
            .filter((line) => line.window === w && line.choices.length > 0)
            .map(({ part, wind, share, choices, seated, until, leave }) => [
              part,
              wind === 'calm' ? 'calm air' : wind,
              share === null ? 'not known' : formatShare(share),
              choices
                .map(({ name, clean, firm }) => `${name} ${formatShare(clean)}${firm ? '' : ' in doubt'}`)
                .join(', then '),
              wayWords(choices[0]!.ways),
              `${seated} to ${until}${leave ? ', then leave' : ''}`,
            ]),
        ),
      ),
      ...apartTable(apart),
    ],
    doubts: [
      'In doubt: it holds for the usual nose, not for a keener one as well. Clean shares are of the travel this program expects, not a count of deer.',
      'A forecast wind, visits logged since and the resting rule are not in a sheet on paper: ask for the day in the window.',
    ],
    cautions: [CAUTIONS.firearms, CAUTIONS.season],
  };
}

function wayWords(ways: SheetFound['lines'][number]['choices'][number]['ways']): string {
  const [way] = ways;
  if (!way || way.clean === null) return 'not known';
  const driven = way.driven > 0 ? ', driven in part' : '';
  return `${way.start}, ${Math.max(1, Math.round(way.minutes))} min${driven}`;
}

const apartTable = (apart: SheetFound['apart']): ReportTable[] =>
  table(
    'Not sat together',
    [left('Stands'), left('When'), left('Why')],
    apart.map(({ names, cases, why }) => [
      names.join(' and '),
      cases === null ? 'never' : casesWords(cases),
      why,
    ]),
  );

/** `morning N, NE; midday calm air`. */
function casesWords(cases: readonly { part: string; wind: string }[]): string {
  const parts = [...new Set(cases.map(({ part }) => part))];
  return parts
    .map((part) => {
      const winds = cases.filter((each) => each.part === part).map(({ wind }) => wind);
      return `${part} ${winds.length > 15 ? 'in nearly any wind' : winds.map((wind) => (wind === 'calm' ? 'calm air' : wind)).join(', ')}`;
    })
    .join('; ');
}
