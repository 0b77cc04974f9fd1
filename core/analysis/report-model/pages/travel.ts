import { barricadeSentences } from '../../../travel/barricade-words.ts';
import type { ReportPage } from '../../report.ts';
import { CAUTIONS } from '../cautions.ts';
import { band, count, type Facts, fallsOn, featureNames, position, WHOSE } from '../facts.ts';
import { left, right, shown, table } from '../table.ts';

const MOST = 12;

export function travelPage(facts: Facts): ReportPage {
  const { artifacts, settings, say } = facts;
  const { travelAreas, corridors } = artifacts;
  const necks = [...artifacts.necks].sort((a, b) => a.rank - b.rank);
  const names = new Map(travelAreas.map(({ id, name }) => [id, name]));
  const drawn = travelAreas.filter(({ source }) => source === 'drawn').length;
  return {
    topic: 'travel',
    title: 'Travel',
    map: { grids: ['shade', 'passage'], lines: ['features', 'areas', 'corridors', 'necks', 'crossings'] },
    paragraphs: [
      `Travel is computed between ${count(travelAreas.length, 'area')} (${drawn} drawn, ${travelAreas.length - drawn} found) over ${count(corridors.length, 'corridor')}. A share is a weight among these pairs, not a count of deer.`,
      `Each band is the spread over ${count(settings.travel.runs, 'run')} with the uncertain weights varied; a neck is firm when it stays among the best whatever is changed.`,
    ],
    tables: [
      ...table(
        shown('Necks, the best first', necks.length, MOST),
        [
          right('Rank'),
          left('Where'),
          left('Falls on'),
          right('Width'),
          right('Share'),
          right('Band'),
          left('Whose ground'),
          left('Firm'),
        ],
        necks
          .slice(0, MOST)
          .map((neck) => [
            String(neck.rank),
            position(neck.at),
            fallsOn(neck),
            say.distance(neck.width),
            say.share(neck.share),
            band(neck.spread),
            WHOSE[neck.owner],
            neck.firm ? 'yes' : 'no',
          ]),
      ),
      ...table(
        'Why',
        [right('Neck'), left('Reasons')],
        necks
          .slice(0, MOST)
          .filter(({ reasons }) => reasons.length > 0)
          .map(({ rank, reasons }) => [String(rank), reasons.join(' ')]),
      ),
      ...junctionTable(facts),
      ...crossingTable(facts),
      ...planTables(facts),
      ...table(
        shown('Corridors, the busiest first', corridors.length, MOST),
        [left('From'), left('To'), right('Length'), right('Cost in easy ground'), right('Share')],
        [...corridors]
          .sort((a, b) => b.share - a.share)
          .slice(0, MOST)
          .map((c) => [
            names.get(c.from) ?? `area ${c.from}`,
            names.get(c.to) ?? `area ${c.to}`,
            say.distance(c.length),
            say.distance(c.cost),
            say.share(c.share),
          ]),
      ),
    ],
    doubts: [...artifacts.travelDoubts, ...artifacts.planTravel.doubts],
    cautions: [CAUTIONS.neighbour, CAUTIONS.roads, CAUTIONS.saws],
  };
}

function junctionTable({ artifacts, say }: Facts) {
  const { junctions } = artifacts;
  return table(
    shown('Junctions, where three or more strands meet', junctions.length, MOST),
    [
      right('Rank'),
      left('Where'),
      right('Share that passes'),
      right('Band'),
      left('Arms by bearing'),
      left('Whose ground'),
    ],
    junctions
      .slice(0, MOST)
      .map((junction) => [
        String(junction.rank),
        position(junction.at),
        say.share(junction.share),
        junction.spread ? band(junction.spread) : '–',
        junction.arms.map(({ bearing, share }) => `${say.degrees(bearing)}: ${say.share(share)}`).join(', '),
        WHOSE[junction.owner],
      ]),
  );
}

function crossingTable({ artifacts, say }: Facts) {
  const { crossings, features } = artifacts;
  const names = featureNames(features);
  return table(
    shown('Crossings, the busiest first', crossings.length, MOST),
    [left('Of'), left('Name'), left('Where'), right('Share'), left('Whose ground'), left('Reasons')],
    [...crossings]
      .sort((a, b) => b.share - a.share)
      .slice(0, MOST)
      .map((c) => [
        c.kind,
        names.get(c.feature) ?? '–',
        position(c.at),
        say.share(c.share),
        WHOSE[c.owner],
        c.reasons.join(' '),
      ]),
  );
}

/** What the proposed features would do; nothing where none is proposed. */
function planTables({ artifacts, settings, say }: Facts) {
  const { necks, barricades, closures, goal } = artifacts.planTravel;
  const proposed = artifacts.features.some(({ status }) => status === 'proposed');
  const ranks = new Map(artifacts.necks.map(({ id, rank }) => [id, rank]));
  return [
    ...table(
      'Barricades as proposed',
      [left('Barricade'), left('Holds'), right('Travel across it now'), right('Once built'), left('Why')],
      barricades.map((b) => [
        b.name,
        b.holds ? 'yes' : 'no',
        say.share(b.before),
        say.share(b.after),
        barricadeSentences(b, settings.units).join(' '),
      ]),
    ),
    ...table(
      'Necks before and after the proposed work',
      [right('Neck'), right('Now'), right('Once built')],
      proposed
        ? necks
            .slice(0, MOST)
            .map(({ id, before, after }) => [
              String(ranks.get(id) ?? id),
              say.share(before),
              say.share(after),
            ])
        : [],
    ),
    ...table(
      `What else would gather travel at neck ${goal === null ? '' : (ranks.get(goal) ?? goal)}`,
      [
        left('Close from'),
        left('To'),
        right('Length'),
        right('Slips through now'),
        right('Neck now'),
        right('Once closed'),
        left('Whose ground'),
      ],
      closures.map((c) => [
        position(c.path[0]!),
        position(c.path[c.path.length - 1]!),
        say.distance(c.length),
        say.share(c.leak),
        say.share(c.neckBefore),
        say.share(c.neckAfter),
        WHOSE[c.owner],
      ]),
    ),
  ];
}
