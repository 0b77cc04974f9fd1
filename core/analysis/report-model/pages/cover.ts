import { COVER } from '../../../cover/types.ts';
import type { Grid } from '../../../grid/frame.ts';
import type { ReportPage } from '../../report.ts';
import { CAUTIONS } from '../cautions.ts';
import { count, type Facts, position } from '../facts.ts';
import { left, right, shown, table } from '../table.ts';

const MOST = 8;
const WORDS: Record<number, string> = {
  0: 'unknown',
  [COVER.open]: 'open',
  [COVER.brush]: 'brush',
  [COVER.deciduous]: 'deciduous timber',
  [COVER.evergreen]: 'evergreen',
  [COVER.wet]: 'wet ground',
  [COVER.water]: 'water',
  [COVER.built]: 'built',
};
const SOURCES: Record<string, string> = {
  imagery: 'Cover was read from the air photo. It shows the canopy only.',
  'land cover': 'Cover was read from public land-cover codes, whose cells are coarse.',
  'vegetation height': 'Cover was read from the height of what grows, out of a point cloud.',
  'terrain alone': 'There is no photo and no land cover: travel rests on terrain alone.',
};

export function coverPage(facts: Facts): ReportPage {
  const { artifacts, say } = facts;
  const { coverBlocks } = artifacts;
  return {
    topic: 'cover',
    title: 'Cover',
    map: { grids: ['cover'], lines: ['blocks', 'features'] },
    paragraphs: [
      SOURCES[artifacts.coverSource]!,
      unknownLine(facts),
      coverBlocks.length === 0
        ? 'No block of cover was found.'
        : `${count(coverBlocks.length, 'block')} of cover; the largest holds ${say.area(coverBlocks[0]!.area)}.`,
    ],
    tables: [
      ...classTable(facts),
      ...table(
        shown('Blocks of cover, the largest first', coverBlocks.length, MOST),
        [left('Block'), right('Area'), left('Middle')],
        coverBlocks
          .slice(0, MOST)
          .map(({ id, area, centre }) => [`block ${id}`, say.area(area), position(centre)]),
      ),
    ],
    doubts: [...artifacts.coverDoubts],
    cautions: [CAUTIONS.saws],
  };
}

function classTable({ artifacts, owned, ownedArea, frame, say }: Facts) {
  const { cells } = artifacts.cover;
  const counts = new Uint32Array(256);
  let all = 0;
  for (let i = 0; i < cells.length; i++) {
    if (owned[i] === 0) continue;
    counts[cells[i]!]!++;
    all++;
  }
  const codes = [...counts.keys()].filter((code) => counts[code]! > 0);
  return table(
    ownedArea === null ? 'Cover of the map' : 'Cover of your ground',
    [left('Cover'), right('Area'), right('Share')],
    codes
      .sort((a, b) => counts[b]! - counts[a]!)
      .map((code) => [
        WORDS[code] ?? `code ${code}`,
        say.area(counts[code]! * frame.cellSize ** 2),
        say.share(counts[code]! / all),
      ]),
  );
}

function unknownLine({ artifacts, owned, say }: Facts): string {
  const screening = unknownShare(artifacts.screening, owned);
  const footing = unknownShare(artifacts.footing, owned);
  if (screening === 0 && footing === 0) return 'Screening at deer height and footing are known all over.';
  return `Screening at deer height (1 to 5 ft) is unknown on ${say.share(screening)} of this ground and footing on ${say.share(footing)}; what is unknown is varied in every band, not guessed.`;
}

function unknownShare({ cells }: Grid, owned: Uint8Array): number {
  let unknown = 0;
  let all = 0;
  for (let i = 0; i < cells.length; i++) {
    if (owned[i] === 0) continue;
    all++;
    if (Number.isNaN(cells[i]!)) unknown++;
  }
  return all === 0 ? 0 : unknown / all;
}
