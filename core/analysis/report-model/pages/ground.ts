import type { ReportPage } from '../../report.ts';
import { CAUTIONS } from '../cautions.ts';
import { count, type Facts, position } from '../facts.ts';
import { left, right, shown, table } from '../table.ts';

const MOST = 8;
/** Bounds of the slope classes, degrees, and their words. */
const SLOPES = [
  { below: 5, word: 'gentle, under 5°' },
  { below: 15, word: 'rolling, 5 to 15°' },
  { below: 25, word: 'steep, 15 to 25°' },
  { below: 90.1, word: 'very steep, over 25°' },
];

export function groundPage(facts: Facts): ReportPage {
  const { artifacts, say } = facts;
  const { drainageLines, saddles, benches, draws, ridges } = artifacts;
  return {
    topic: 'ground',
    title: 'Ground',
    map: { grids: ['shade'], lines: ['contours', 'drainage', 'ridges', 'saddles', 'benches', 'features'] },
    paragraphs: [
      reliefLine(facts),
      `${count(ridges.length, 'ridge line')}, ${count(saddles.length, 'saddle')}, ${count(benches.length, 'bench', 'benches')} and ${count(draws.length, 'draw')} on the map; ${count(drainageLines.length, 'drainage line')}.`,
    ],
    tables: [
      ...slopeTable(facts),
      ...orderTable(facts),
      ...channelTable(facts),
      ...table(
        shown('Saddles, the most marked first', saddles.length, MOST),
        [
          left('Saddle'),
          left('Where'),
          right('Elevation'),
          right('Rise to the lower top'),
          right('Fall to each side'),
          right('Width'),
        ],
        saddles
          .slice(0, MOST)
          .map((s) => [
            s.id,
            position(s.at),
            say.height(s.elevation),
            say.height(s.rise),
            `${say.height(s.falls[0])} and ${say.height(s.falls[1])}`,
            s.width === null ? 'not measurable' : say.distance(s.width),
          ]),
      ),
      ...table(
        shown('Benches, the largest first', benches.length, MOST),
        [
          left('Bench'),
          left('Where'),
          right('Area'),
          right('Length'),
          right('Width'),
          right('Slope above'),
          right('Slope below'),
        ],
        [...benches]
          .sort((a, b) => b.area - a.area)
          .slice(0, MOST)
          .map((b) => [
            b.id,
            position(b.centre),
            say.area(b.area),
            say.distance(b.length),
            say.distance(b.width),
            say.degrees(b.slopeAbove),
            say.degrees(b.slopeBelow),
          ]),
      ),
      ...table(
        shown('Draws, the longest first', draws.length, MOST),
        [left('Draw'), left('Head'), right('Length'), right('Depth below its shoulders'), right('Fall')],
        [...draws]
          .sort((a, b) => b.length - a.length)
          .slice(0, MOST)
          .map((d) => [
            d.id,
            position(d.path[0]!),
            say.distance(d.length),
            say.height(d.depth),
            say.height(d.relief),
          ]),
      ),
    ],
    doubts: [...artifacts.groundDoubts],
    cautions: [CAUTIONS.steep, CAUTIONS.water],
  };
}

function reliefLine({ artifacts, owned, ownedArea, say }: Facts): string {
  const { cells } = artifacts.elevation;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < cells.length; i++) {
    const z = cells[i]!;
    if (owned[i] === 0 || Number.isNaN(z)) continue;
    if (z < low) low = z;
    if (z > high) high = z;
  }
  if (high < low) return 'There is no elevation on this ground.';
  const whose = ownedArea === null ? 'The map' : 'Your ground';
  return `${whose} runs from ${say.height(low)} to ${say.height(high)} in elevation, ${say.height(high - low)} of relief.`;
}

function slopeTable({ artifacts, owned, ownedArea, frame, say }: Facts) {
  const { cells } = artifacts.slope;
  const counts = SLOPES.map(() => 0);
  let known = 0;
  for (let i = 0; i < cells.length; i++) {
    const slope = cells[i]!;
    if (owned[i] === 0 || Number.isNaN(slope)) continue;
    known++;
    counts[SLOPES.findIndex(({ below }) => slope < below)]!++;
  }
  return table(
    ownedArea === null ? 'Slope of the map' : 'Slope of your ground',
    [left('Slope'), right('Area'), right('Share')],
    known === 0
      ? []
      : SLOPES.map(({ word }, k) => [
          word,
          say.area(counts[k]! * frame.cellSize ** 2),
          say.share(counts[k]! / known),
        ]),
  );
}

function orderTable({ artifacts, say }: Facts) {
  const { drainageLines } = artifacts;
  const orders = [...new Set(drainageLines.map(({ order }) => order))].sort((a, b) => a - b);
  return table(
    'Drainage lines by order (1 is a head, two of one order make the next)',
    [right('Order'), right('Lines'), right('Length in all'), right('Largest catchment')],
    orders.map((order) => {
      const lines = drainageLines.filter((line) => line.order === order);
      return [
        String(order),
        String(lines.length),
        say.distance(lines.reduce((sum, { length }) => sum + length, 0)),
        say.area(lines.reduce((most, { catchment }) => Math.max(most, catchment), 0)),
      ];
    }),
  );
}

const LEAST_STATIONS = 3;
/** On coarser cells what looks like a channel is a valley, m. */
const CHANNEL_CELL = 10;

/** How deep the channels are cut, by drainage line: whether a bottom can hold air hangs on it. */
function channelTable({ artifacts, frame, say }: Facts) {
  if (frame.cellSize > CHANNEL_CELL) return [];
  const byLine = new Map<string, { depth: number; width: number; field: boolean }[]>();
  for (const { line, left: l, right: r, width, source } of artifacts.channels) {
    if (l === null || r === null || width === null) continue;
    const stations = byLine.get(line) ?? [];
    stations.push({ depth: Math.min(l, r), width, field: source === 'field' });
    byLine.set(line, stations);
  }
  const reaches = [...byLine]
    .filter(([, stations]) => stations.length >= LEAST_STATIONS)
    .map(([line, stations]) => ({
      line,
      depth: median(stations.map(({ depth }) => depth)),
      width: median(stations.map(({ width }) => width)),
      field: stations.every(({ field }) => field),
    }))
    .sort((a, b) => b.depth - a.depth);
  return table(
    shown('Channels below their lower bank, the deepest first', reaches.length, MOST),
    [left('Drainage line'), right('Depth, middle value'), right('Width'), left('From')],
    reaches
      .slice(0, MOST)
      .map(({ line, depth, width, field }) => [
        line,
        say.height(depth),
        say.height(width),
        field ? 'the field' : 'the elevation',
      ]),
  );
}

const median = (values: number[]): number => values.sort((a, b) => a - b)[values.length >> 1]!;
