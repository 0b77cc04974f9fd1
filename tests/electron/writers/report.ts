import type { ReportModel, ReportPage } from '../../../core/analysis/report.ts';
import { planWork } from '../../../core/plan/plan-work.ts';
import { EVERY_JOB, SETTINGS } from '../../core/plan/scene.ts';

const page = (over: Partial<ReportPage>): ReportPage => ({
  topic: 'overview',
  title: 'Home farm',
  map: null,
  paragraphs: [],
  tables: [],
  doubts: [],
  cautions: [],
  ...over,
});

/** A report of a few pages with a map, a long table and letters the typeface lacks. */
export const reportOf = (over: Partial<ReportModel['property']> = {}): ReportModel => ({
  version: 1,
  property: {
    name: 'Home farm',
    invented: true,
    epsg: 32617,
    cellSize: 2.5,
    longitude: -81.7,
    latitude: 39.3,
    ownedArea: 180000,
    ...over,
  },
  made: '2026-03-04',
  units: 'us',
  paper: 'letter',
  consultant: 'B. Consultant',
  client: 'A. Landowner',
  lineNote: 'Property line as drawn: not a survey',
  work: planWork(EVERY_JOB, SETTINGS, 'us', null, '2026-03-04'),
  walk: {
    spots: [
      {
        id: 'walk-neck-n1',
        number: 1,
        at: [439300, 4350800],
        title: 'Neck 1',
        hinges: 0.3,
        why: 'It moves; look & see.',
        look: ['trails < 1 ft wide', 'thickness'],
        photograph: ['both ways'],
        choices: [{ key: 'open', title: 'easy to pass here', sets: { kind: 'gap', value: 'ford' } }],
        found: null,
      },
    ],
    start: [439200, 4350700],
    startName: 'the yard',
    length: 300,
    elsewhere: [],
  },
  edition: {
    version: '1',
    made: '2026-03-04',
    ownedArea: 180000,
    necks: [],
    stands: [],
    jobs: [],
    hours: 0,
    dollars: 0,
  },
  pages: [
    page({
      map: {
        grids: ['shade', 'passage'],
        lines: ['drainage', 'features', 'corridors', 'necks', 'crossings', 'stand-risks'],
      },
      paragraphs: ['One neck carries 41% of travel.', 'Slope ≥ 20° → steep; 語'],
      cautions: ['Walk the ground first.'],
    }),
    page({
      topic: 'ground',
      title: 'Ground',
      map: { grids: ['forms'], lines: ['contours', 'saddles', 'benches'] },
      tables: [
        {
          caption: 'Many rows',
          columns: [
            { title: 'Row', align: 'right' },
            { title: 'Reason', align: 'left' },
          ],
          rows: Array.from({ length: 90 }, (_, index) => [
            `${index + 1}`,
            `Reason number ${index + 1} of ninety`,
          ]),
        },
      ],
      doubts: ['The grid cannot show a creek bed.'],
    }),
    page({ topic: 'methods', title: 'Methods', paragraphs: ['Slope after Horn 1981.'] }),
  ],
});
