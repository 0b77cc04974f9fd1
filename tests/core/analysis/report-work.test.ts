import { describe, expect, test } from 'vitest';
import { buildReport } from '../../../core/analysis/report-model/build-report.ts';
import type { SheetFound } from '../../../core/analysis/report-model/stand-findings.ts';
import { ownedArea } from '../../../core/features/owned-area.ts';
import type { ComparedStand } from '../../../core/stands/compare.ts';
import { standReaches } from '../../../core/stands/reaches.ts';
import { EVERY_JOB, feature, field, line, point } from '../plan/scene.ts';
import { sightGround } from '../stands/scene.ts';
import { FRAME, SETTINGS, smallArtifacts } from './report-facts.ts';

const around = [
  feature('home', 'boundary', field(-100, -100, 800, 900), {}, 'existing'),
  feature('barn', 'building', field(200, 40, 10, 10), {}, 'existing'),
  feature('yard', 'access', point(0, -50), {}, 'existing'),
  feature('oak', 'stand', point(30, 30), { weapon: 'bow' }, 'existing'),
];
const features = [...EVERY_JOB, ...around];
const brief = {
  ...SETTINGS.brief,
  client: 'A. Landowner',
  consultant: 'B. Consultant',
  changed: 'one barricade',
};
const report = buildReport(
  FRAME,
  { ...SETTINGS, brief },
  { ...smallArtifacts(), features },
  [],
  [],
  ownedArea(features),
  '2026-11-25',
);
const pages = (topic: string) => report.pages.filter((page) => page.topic === topic);
const tableOf = (topic: string, caption: RegExp) =>
  pages(topic)[0]!.tables.find((t) => caption.test(t.caption))!;

const best = {
  start: 'Yard',
  minutes: 13,
  length: 1000,
  faults: [{ key: 'neck', grave: true, sentence: 'It walks through neck 1.' }],
};
const parts = [
  {
    part: 'evening',
    lawful: 20,
    hours: { usual: 18.2, low: 12, high: 25 },
    reach: 1,
    clean: 0.12,
    winds: ['W', 'calm'],
    spoilt: [],
  },
];
const compared = {
  id: 'oak',
  name: 'The oak',
  clean: { usual: 0.12, low: 0.06, high: 0.2 },
  verdict: {
    hours: parts[0]!.hours,
    best: { part: 'evening', winds: ['W'], hours: 9, clean: 0.12 },
    spoils: [{ cause: 'scent reaches bedding', hours: 23 }],
    parts,
  },
  usable: 0.5,
  ways: [
    {
      part: 'evening',
      clean: false,
      walks: [{ time: 'dark', wind: 'W', clean: false, best, ifAllowed: null, verdict: '' }],
    },
  ],
} as unknown as ComparedStand;
const choice = {
  name: 'The oak',
  clean: 0.12,
  firm: false,
  ways: [{ clean: true, start: 'Yard', minutes: 13, driven: 0 }],
};
const sheet = {
  windows: [{ name: 'cruising', from: '10-28', to: '11-10' }],
  lines: [
    {
      window: 0,
      part: 'evening',
      wind: 'W',
      share: 0.3,
      choices: [choice],
      seated: '14:10',
      until: '17:20',
      leave: true,
    },
    {
      window: 0,
      part: 'evening',
      wind: 'E',
      share: 0.1,
      choices: [],
      seated: '14:10',
      until: '17:20',
      leave: false,
    },
  ],
  apart: [
    {
      names: ['The oak', 'The perch'],
      cases: ['W', 'calm'].map((wind) => ({ part: 'morning' as const, wind })),
      why: 'They spoil each other.',
    },
  ],
  zone: 'UTC-5',
} as unknown as SheetFound;

describe('the pages of the work', () => {
  test('the front names who, for whom, when, what changed, three findings and five jobs', () => {
    const [front] = pages('front');
    expect(front!.beside!.rows).toEqual([
      ['For', 'A. Landowner'],
      ['By', 'B. Consultant'],
      ['Date', 'Nov 25, 2026'],
      ['Version', '1, the first'],
      ['Changed since the last', 'one barricade'],
    ]);
    expect(front!.paragraphs.filter((line) => /^\d\. /.test(line))).toHaveLength(3);
    expect(tableOf('front', /first/).rows).toHaveLength(5);
    expect(front!.doubts.join()).toMatch(/not a survey/);
  });

  test('a surveyed line needs no warning', () => {
    const surveyed = { ...SETTINGS, brief: { ...brief, boundary: 'survey' as const } };
    expect(buildReport(FRAME, surveyed, smallArtifacts(), [], [], null).lineNote).toBeNull();
    expect(report.lineNote).toMatch(/not a survey/);
  });

  test('every job is on the list, has its days and a sheet of its own', () => {
    expect(tableOf('work', /to be done/).rows).toHaveLength(EVERY_JOB.length);
    expect(tableOf('calendar', /Days of each job/).rows).toHaveLength(EVERY_JOB.length);
    expect(pages('job')).toHaveLength(EVERY_JOB.length);
    for (const sheet of pages('job')) {
      expect(sheet.cautions.length, sheet.title).toBeGreaterThan(0);
      expect(sheet.paragraphs.join(), sheet.title).toContain('a phone under canopy is 15 to 30 ft off');
    }
  });

  test('start and stop of a barricade are told from what stands there', () => {
    const sheet = pages('job').find(({ title }) => title.endsWith('The barricade'))!;
    const where = sheet.tables.find(({ caption }) => caption === 'Where')!;
    expect(where.rows.map(([name]) => name)).toEqual(['Start', 'Middle', 'Stop']);
    expect(where.rows[2]![2]).toMatch(/yd .* of The (barn|oak)/);
    // It runs due east on the grid; true north lies by the convergence of the frame from that.
    const east = Math.round(90 + FRAME.convergence);
    expect(sheet.paragraphs[0]).toContain(`E (${east}° true)`);
  });

  test('a stand has a card with its range as a ring and the guarded things about it', () => {
    const card = pages('card').find(({ title }) => title.endsWith('The oak'))!;
    expect(card.map!.reach![0]!.label).toBe('30 yd');
    expect(card.paragraphs.find((text) => text.startsWith('Mapped near it'))).toMatch(/The barn \d+ yd /);
    expect(card.paragraphs.at(-1)).toMatch(/^Check on site: the tree or anchors; /);
    expect(Object.fromEntries(card.beside!.rows)).toMatchObject({
      'Ring, range kept to': '30 yd with a bow',
      'Way in and out': 'none drawn: ask for one under Stands',
    });
    expect(card.tables.map(({ caption }) => caption).join()).not.toMatch(/behind a deer/);
    expect(card.cautions.join()).toMatch(/Nothing here says a shot is safe/);
  });

  test('a stand that was looked at has its directions, the travel in range and its lanes on the card', () => {
    const reach = standReaches(
      {
        ...sightGround(
          { ...FRAME, west: 439_900, north: 4_350_160, cellSize: 2, width: 150, height: 150 },
          () => 200,
        ),
        features,
        corridors: [],
        necks: [],
        junctions: [{ ...smallArtifacts().junctions[0]!, at: [440_040, 4_350_040], share: 0.45 }],
        routes: [],
      },
      SETTINGS.stands,
      null,
      'us',
    );
    const card = buildReport(
      FRAME,
      { ...SETTINGS, brief },
      { ...smallArtifacts(), features, standReaches: reach },
      [],
      [],
      null,
    ).pages.find(({ title }) => title === 'Stand card: The oak');
    const rows = (caption: RegExp) => card!.tables.find((each) => caption.test(each.caption))!.rows;
    // Level ground stops every line a bow is shot down from a raised seat; the barn to the east lies in the way of some.
    const fire = rows(/behind a deer/);
    expect(new Set(fire.map(([, found]) => found))).toContain('checked: ground close behind');
    expect(rows(/^Travel in range/)[0]!.slice(0, 2)).toEqual(['Junction 1', '45%']);
    expect(card!.map!.sectors).toHaveLength(36);
    expect(JSON.stringify(card)).not.toMatch(/NaN|undefined|Infinity|\[object/);
  });

  test('what was computed on demand is told on the card, beside the other stands and as a season sheet; else that it is not', () => {
    const not = pages('stands')[0]!.doubts.join();
    expect(pages('season')).toEqual([]);
    const found = buildReport(
      FRAME,
      { ...SETTINGS, brief },
      { ...smallArtifacts(), features },
      [],
      [],
      null,
      '2026-11-25',
      null,
      { compared: [compared], rulings: null, sheet },
    );
    const page = (topic: string, title = '') =>
      found.pages.find((each) => each.topic === topic && each.title.includes(title))!;
    const card = page('card', 'The oak');
    expect(Object.fromEntries(card.beside!.rows)).toMatchObject({
      'Hours a week': '18.2 h (12.0 h to 25.0 h) by its wind; with a clean way in, 30 min',
      'Clean share': '12% (6% to 20%) of all travel, when hunted',
    });
    const rows = (caption: RegExp, of = card) => of.tables.find((each) => caption.test(each.caption))!.rows;
    // 1000 m are 1094 yd, over half a mile: 0.6 mi.
    expect(rows(/^Hours a week its wind.*the way in and out on foot/)).toEqual([
      [
        'evening',
        '20.0 h',
        '18.2 h (12.0 h to 25.0 h)',
        '12%',
        'W or calm air',
        'not clean, wind W, Yard, 0.6 mi: out after dark 13 min',
      ],
    ]);
    expect(card.paragraphs).toContain('Against the way in and out: It walks through neck 1.');
    expect(rows(/^Stands side by side/, page('stands'))[0]![1]).toBe('30 min');
    const season = page('season');
    expect(rows(/^cruising, Oct 28 to Nov 10$/, season)).toEqual([
      ['evening', 'W', '30%', 'The oak 12% in doubt', 'Yard, 13 min', '14:10 to 17:20, then leave'],
    ]);
    expect(rows(/^Not sat together/, season)[0]![1]).toBe('morning W, calm air');
    expect(not).toMatch(/clean share .* season sheet/);
    expect(page('stands').doubts.join()).not.toMatch(/Not in this report/);
    expect(JSON.stringify(found.pages)).not.toMatch(/NaN|undefined|Infinity|\[object/);
  });

  test('no sentence lacks its value', () => {
    expect(JSON.stringify(report.pages)).not.toMatch(/NaN|undefined|null yd|Infinity|\[object/);
  });
});

test('a line drawn twice is not a reason to call it one', () => {
  const two = buildReport(
    FRAME,
    SETTINGS,
    { ...smallArtifacts(), features: [feature('a', 'road', line([0, 0], [9, 0]))] },
    [],
    [],
    null,
  );
  const work = two.pages.find(({ topic }) => topic === 'work')!;
  expect(work.tables.find(({ caption }) => /without quantities/.test(caption))!.rows).toEqual([
    ['The a', 'road'],
  ]);
});

test('a job sheet names the stills taken beside its line, the nearest first, and no others', () => {
  const still = (id: string, x: number, y: number, more = {}) =>
    feature(
      id,
      'note',
      point(x, y),
      { photo: `p-${id}`, taken: '2026-11-20T14:00:00Z', ...more },
      'existing',
    );
  // The barricade of the scene runs 200 ft east from the corner: 20 m beside its middle, on its end, and 70 m off.
  const notes = [
    still('beside', 30, 20, { bearing: 270, text: 'The gap' }),
    still('on', 0, 0),
    still('far', 30, 70),
    feature('words', 'note', point(1, 1), { text: 'no picture' }, 'existing'),
  ];
  const { pages: all } = buildReport(
    FRAME,
    { ...SETTINGS, brief },
    { ...smallArtifacts(), features: [...features, ...notes] },
    [],
    [],
    null,
    '2026-11-25',
  );
  const sheet = all.find(({ title }) => title === 'Job sheet: The barricade')!;
  expect(sheet.pictures!.map(({ id }) => id)).toEqual(['p-on', 'p-beside']);
  expect(sheet.pictures![0]!.caption).toMatch(/^The on, taken Nov 20, 2026, on the spot$/);
  expect(sheet.pictures![1]!.caption).toMatch(
    /^The gap, taken .*, looking 270° from true north, 22 yd .* of it$/,
  );
});
