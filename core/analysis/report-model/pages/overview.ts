import type { Neck } from '../../../travel/types.ts';
import type { ReportPage, ReportTable } from '../../report.ts';
import { CAUTIONS } from '../cautions.ts';
import { changesSince, editionName } from '../changes.ts';
import type { Edition } from '../edition.ts';
import { count, type Facts, fallsOn, featureNames, gridName, list, WHOSE } from '../facts.ts';
import { left, right, table } from '../table.ts';

/** The property as a whole: what was read, where travel is squeezed, what is missing. */
export function overviewPage(facts: Facts, edition: Edition): ReportPage {
  const { frame, settings, artifacts, notes, missing, ownedArea, say } = facts;
  const { necks } = artifacts;
  const place = `${Math.abs(frame.latitude).toFixed(4)}° ${frame.latitude < 0 ? 'S' : 'N'}, ${Math.abs(frame.longitude).toFixed(4)}° ${frame.longitude < 0 ? 'W' : 'E'}`;
  const ground =
    ownedArea === null
      ? 'No boundary was given, so the whole map is taken as the property'
      : `${say.area(ownedArea)} inside the boundary`;
  return {
    topic: 'overview',
    title: 'The property',
    map: {
      grids: ['shade', 'passage'],
      lines: ['drainage', 'features', 'corridors', 'necks', 'crossings', 'stand-risks'],
    },
    paragraphs: [
      ...(settings.invented
        ? ['This property is invented: ground, photo, wind, lines and names are made up to show the program.']
        : []),
      `${ground}; the map is centred on ${place}, in ${gridName(frame.epsg)}, with cells of ${frame.cellSize} m.`,
      neckLine(necks, facts),
      crossingLine(facts),
      standLine(facts),
      ...planLines(facts),
    ],
    tables: [
      ...table(
        'Where travel is squeezed',
        [
          right('Rank'),
          left('Falls on'),
          right('Width'),
          right('Share of travel'),
          left('Whose ground'),
          left('Firm'),
        ],
        [...necks]
          .sort((a, b) => a.rank - b.rank)
          .slice(0, 5)
          .map((neck) => [
            String(neck.rank),
            fallsOn(neck),
            say.distance(neck.width),
            say.share(neck.share),
            WHOSE[neck.owner],
            neck.firm ? 'yes' : 'no',
          ]),
      ),
      ...changesTable(facts, edition),
      ...table(
        'What was read',
        [left('Note')],
        notes.map((note) => [note]),
      ),
    ],
    doubts: [...missing, ...softNecks(necks), UNWALKED],
    cautions: [CAUTIONS.map, CAUTIONS.line, CAUTIONS.season],
  };
}

const changesTable = ({ last, say, settings }: Facts, edition: Edition): ReportTable[] =>
  last === null
    ? []
    : table(
        `What changed since ${editionName(last)}`,
        [left('What'), left('Before'), left('Now')],
        changesSince(last, edition, say, settings.units).map(({ what, before, now }) => [
          what,
          before ?? 'none',
          now ?? 'none',
        ]),
      );

export function neckLine(necks: readonly Neck[], { say, ownedArea }: Facts): string {
  if (necks.length === 0) return 'No neck was found: nothing on this map squeezes travel into one place.';
  const owned = necks.filter(({ owner }) => owner === 'inside');
  const best = [...(owned.length > 0 ? owned : necks)].sort((a, b) => a.rank - b.rank)[0]!;
  const firm = necks.filter((neck) => neck.firm).length;
  const kept = owned.length > 0 ? 'The best on your ground' : 'The best';
  const named = best.landmarks.length > 0 ? `, at ${fallsOn(best)}` : '';
  return `${count(necks.length, 'neck')} ranked, ${ownedArea === null ? '' : `${owned.length} on your ground, `}${firm} firm. ${kept} is neck ${best.rank}${named}: ${say.distance(best.width)} wide, with ${say.share(best.share)} of all travel.`;
}

export function crossingLine({ artifacts, say }: Facts): string {
  const [first] = [...artifacts.crossings].sort((a, b) => b.share - a.share);
  const name = first && featureNames(artifacts.features).get(first.feature);
  if (!first) return 'No corridor crosses a road, railroad, creek, fence or the line.';
  return `${count(artifacts.crossings.length, 'crossing')} of roads, railroads, creeks, fences and the line; the busiest is at the ${first.kind}${name ? ` (${name})` : ''}, with ${say.share(first.share)} of all travel.`;
}

export function standLine({ artifacts }: Facts): string {
  const { standRisks } = artifacts;
  if (standRisks.length === 0) return 'No stand was given and no neck found, so nothing is said of scent.';
  const of = standRisks[0]!.subject.type === 'stand' ? 'stand' : 'neck';
  const high = standRisks.filter(({ level }) => level === 'high');
  const judged = standRisks.filter(({ level }) => level !== 'unknown').length;
  if (judged === 0) return `The elevation is too coarse to judge the night air at any ${of}.`;
  return high.length === 0
    ? `On a clear calm night none of ${count(judged, of)} stands in still cold air or drains scent onto bedding.`
    : `On a clear calm night ${high.length} of ${count(judged, of)} would be drowned in cold air or drain scent onto bedding: ${list(high.map(({ subject }) => subject.name))}.`;
}

/** Proposed work that does not do what it is for. */
export function planLines({ artifacts }: Facts): string[] {
  return artifacts.planTravel.barricades
    .filter(({ holds }) => !holds)
    .map(
      ({ name, cheapest }) =>
        `As proposed, “${name}” does not hold: the cheapest for a deer is to go ${cheapest}.`,
    );
}

const UNWALKED =
  'No photo shows a fence gap, a cut bank, a culvert’s bore or how thick the ground is at deer height: walk to the spots the answer hangs on.';

/** Necks that should not be built on before someone looked. */
function softNecks(necks: readonly Neck[]): string[] {
  const soft = necks.filter(({ firm }) => !firm).map(({ rank }) => String(rank));
  if (soft.length === 0) return [];
  return [
    `${soft.length === 1 ? 'Neck' : 'Necks'} ${list(soft)} ${soft.length === 1 ? 'hangs' : 'hang'} on what was assumed; look before building on ${soft.length === 1 ? 'it' : 'them'}.`,
  ];
}
