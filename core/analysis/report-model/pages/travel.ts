import type { ReportPage } from '../../report.ts';
import { CAUTIONS } from '../cautions.ts';
import { band, count, type Facts, list, position, WHOSE } from '../facts.ts';
import { left, right, shown, table } from '../table.ts';

const MOST = 12;

export function travelPage(facts: Facts): ReportPage {
  const { artifacts, settings, say } = facts;
  const { travelAreas, corridors, crossings } = artifacts;
  const necks = [...artifacts.necks].sort((a, b) => a.rank - b.rank);
  const names = new Map(travelAreas.map(({ id, name }) => [id, name]));
  const drawn = travelAreas.filter(({ source }) => source === 'drawn').length;
  return {
    topic: 'travel',
    title: 'Travel',
    map: { grids: ['shade', 'passage'], lines: ['features', 'areas', 'corridors', 'necks', 'crossings'] },
    paragraphs: [
      `Travel is computed between ${count(travelAreas.length, 'area')} (${drawn} drawn, ${travelAreas.length - drawn} found) over ${count(corridors.length, 'corridor')}. A share is a weight among these pairs, not a count of deer.`,
      `Each band is the spread over ${count(settings.travel.runs, 'run')} with the uncertain weights varied; a neck is firm when it stays among the best in every one.`,
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
            neck.landmarks.length > 0 ? list(neck.landmarks) : '–',
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
      ...table(
        shown('Crossings, the busiest first', crossings.length, MOST),
        [left('Of'), left('Name'), left('Where'), right('Share'), left('Whose ground'), left('Reasons')],
        [...crossings]
          .sort((a, b) => b.share - a.share)
          .slice(0, MOST)
          .map((c) => [
            c.kind,
            c.feature || '–',
            position(c.at),
            say.share(c.share),
            WHOSE[c.owner],
            c.reasons.join(' '),
          ]),
      ),
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
    doubts: [...artifacts.travelDoubts],
    cautions: [CAUTIONS.neighbour, CAUTIONS.roads, CAUTIONS.saws],
  };
}
