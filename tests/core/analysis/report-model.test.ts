import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import type { ReportModel, ReportPage, ReportTopic } from '../../../core/analysis/report.ts';
import { buildReport } from '../../../core/analysis/report-model/build-report.ts';
import { CAUTIONS } from '../../../core/analysis/report-model/cautions.ts';
import { LAYER_ARTIFACT, TABLE_ARTIFACT } from '../../../electron/service/catalog.ts';
import { FRAME, SETTINGS, smallArtifacts } from './report-facts.ts';

const MADE = '2026-01-31';
const build = (
  changes: Partial<ReturnType<typeof smallArtifacts>> = {},
  units: 'us' | 'metric' = 'us',
  owned: number | null = 80_000,
) =>
  buildReport(
    FRAME,
    { ...SETTINGS, units },
    { ...smallArtifacts(), ...changes },
    ['NAD83 was taken as WGS 84.'],
    ['No field notes.'],
    owned,
    MADE,
  );
const page = (report: ReportModel, topic: ReportTopic): ReportPage =>
  report.pages.find((p) => p.topic === topic)!;
const tableOf = (p: ReportPage, caption: RegExp) => p.tables.find((t) => caption.test(t.caption))!;
const text = (p: ReportPage): string => JSON.stringify(p);

const schema = JSON.parse(
  readFileSync(new URL('../../../core/analysis/report-model/report.schema.json', import.meta.url), 'utf8'),
);
// Zod reads the JSON Schema (draft 2020-12) and checks by it: a reader that is not ours.
const bySchema = z.fromJSONSchema(schema);

describe('the published schema', () => {
  test('a report is valid by it, after a trip through JSON', () => {
    const result = bySchema.safeParse(JSON.parse(JSON.stringify(build())));
    expect(result.error?.issues).toBeUndefined();
  });

  test.each([
    ['a topic nobody knows', '"topic":"overview"', '"topic":"weather"'],
    ['a missing page title', '"title":"Ground",', ''],
    ['a number in a table', '"rows":[["1"', '"rows":[[1'],
    ['a date in words', MADE, 'January'],
    ['an unknown field', '"version":1', '"version":1,"extra":true'],
    ['another version', '"version":1', '"version":2'],
  ])('%s is refused', (_name, right, wrong) => {
    const report = JSON.stringify(build());
    expect(report).toContain(right);
    expect(bySchema.safeParse(JSON.parse(report.replace(right, wrong))).success).toBe(false);
  });
});

describe('shape of the report', () => {
  test('one page a topic, in the order of the work', () => {
    expect(build().pages.map(({ topic }) => topic)).toEqual([
      'front',
      'overview',
      'ground',
      'cover',
      'travel',
      'air',
      'stands',
      'work',
      'calendar',
      'first',
      'walk',
      'glossary',
      'methods',
    ]);
  });

  test('every row of every table has as many cells as columns', () => {
    for (const { tables } of build().pages)
      for (const t of tables) for (const row of t.rows) expect(row, t.caption).toHaveLength(t.columns.length);
  });

  test('maps name layers and tables the service knows', () => {
    for (const { map } of build().pages) {
      for (const grid of map?.grids ?? []) expect(Object.keys(LAYER_ARTIFACT)).toContain(grid);
      for (const line of map?.lines ?? []) expect(Object.keys(TABLE_ARTIFACT)).toContain(line);
    }
  });

  test('no sentence lacks its value', () => {
    expect(JSON.stringify(build())).not.toMatch(/NaN|undefined|null yd|Infinity|\[object/);
  });
});

describe('numbers, counted by hand', () => {
  const report = build();

  test('invented ground says so first', () => {
    expect(page(report, 'overview').paragraphs[0]).toMatch(/invented/);
    expect(report.property.invented).toBe(true);
  });

  test('necks in yards, with share, band, owner and firmness', () => {
    // 18.288 m is 20 yd and 36.576 m is 40 yd, exactly.
    const rows = tableOf(page(report, 'travel'), /^Necks/).rows;
    expect(rows[0]).toEqual([
      '1',
      '440,030 E 4,350,020 N',
      'a saddle and an inside corner',
      '20 yd',
      '40%',
      '25–50%',
      'a neighbour’s',
      'yes',
    ]);
    expect(rows[1]!.slice(3)).toEqual(['40 yd', '30%', 'under 1% to 40%', 'yours', 'no']);
  });

  test('the overview leads with the best neck on the client’s ground, not with the neighbour’s better one', () => {
    expect(text(page(report, 'overview'))).toContain(
      'The best on your ground is neck 2: 40 yd wide, with 30% of all travel.',
    );
  });

  test('crossings under the name the user gave, not under an id', () => {
    const rows = tableOf(page(report, 'travel'), /^Crossings/).rows;
    expect(rows[0]!.slice(0, 2)).toEqual(['creek', 'Stony Run']);
    expect(text(page(report, 'overview'))).toContain('the busiest is at the creek (Stony Run)');
    expect(JSON.stringify(report)).not.toContain('creek-1');
  });

  test('junctions, with every arm', () => {
    const rows = tableOf(page(report, 'travel'), /^Junctions/).rows;
    expect(rows[0]!.slice(2)).toEqual(['45%', '–', '10°: 45%, 130°: 25%, 250°: 20%', 'yours']);
  });

  test('a barricade that deer walk round is refused on its page and on the first one', () => {
    const rows = tableOf(page(report, 'travel'), /^Barricades/).rows;
    // 80 and 300 m are 87 and 328 yd.
    expect(rows[0]).toEqual([
      'Felled tops',
      'no',
      '20%',
      '2%',
      'Deer get by close at hand. It costs a deer as much as 87 yd round its west end, 328 yd over it, in easy ground; there is no way under it.',
    ]);
    expect(text(page(report, 'overview'))).toContain(
      '“Felled tops” does not hold: the cheapest for a deer is to go round its west end.',
    );
    expect(page(report, 'travel').doubts).toContain('a doubt of the plan');
  });

  test('what else to close: 45.72 m are 50 yd, for neck 2', () => {
    const closures = tableOf(page(report, 'travel'), /^What else/);
    expect(closures.caption).toMatch(/neck 2$/);
    expect(closures.rows[0]!.slice(2)).toEqual(['50 yd', '5%', '30%', '35%', 'yours']);
  });

  test('channels by the middle of their lower bank: 10 of 8, 10 and 12 ft', () => {
    const fine = buildReport({ ...FRAME, cellSize: 2.5 }, SETTINGS, smallArtifacts(), [], [], null, MADE);
    expect(tableOf(page(fine, 'ground'), /^Channels/).rows).toEqual([
      ['d1', '10 ft', '30 ft', 'the elevation'],
    ]);
  });

  test('on coarse cells a valley is not passed off as a channel', () => {
    expect(tableOf(page(report, 'ground'), /^Channels/)).toBeUndefined();
  });

  test('drainage lines by order', () => {
    expect(tableOf(page(report, 'ground'), /order/).rows).toEqual([
      ['1', '2', '200 yd', '10 acres'],
      ['2', '1', '50 yd', '12 acres'],
    ]);
  });

  test('saddles in feet, an unmeasured width said so', () => {
    expect(tableOf(page(report, 'ground'), /^Saddles/).rows[0]!.slice(2)).toEqual([
      '394 ft',
      '20 ft',
      '40 ft and 60 ft',
      'not measurable',
    ]);
  });

  test('areas are counted on the client’s half only', () => {
    // Eight cells of a hectare; four open, four timber; four gentle, four steep; one of the two pool cells.
    expect(tableOf(page(report, 'cover'), /^Cover of your ground/).rows.map((r) => [r[0], r[2]])).toEqual([
      ['open', '50%'],
      ['deciduous timber', '50%'],
    ]);
    expect(tableOf(page(report, 'ground'), /^Slope of your ground/).rows.map((r) => r[2])).toEqual([
      '50%',
      '0%',
      '50%',
      '0%',
    ]);
    expect(text(page(report, 'air'))).toContain('Still pools cover 2.5 acres of your ground');
    expect(text(page(build({}, 'metric'), 'air'))).toContain('Still pools cover 1.0 ha of your ground');
    expect(tableOf(page(build({}, 'metric'), 'cover'), /^Cover of your ground/).rows[0]![1]).toBe('4.0 ha');
    // Cells 0 to 13 of the west half: 13 steps of a foot.
    expect(text(page(report, 'ground'))).toContain('13 ft of relief');
    expect(text(page(report, 'cover'))).toContain('unknown on 50% of this ground and footing on 0%');
  });

  test('wind by sector with calms apart', () => {
    const { rows } = tableOf(page(report, 'air'), /wind blows from/);
    expect(rows).toHaveLength(18);
    expect(rows.find(([from]) => from === 'SW')).toEqual(['SW', '2', '50%', '15.0 mph']);
    expect(rows.find(([from]) => from === 'N')).toEqual(['N', '1', '25%', '5.0 mph']);
    expect(rows.find(([from]) => from === 'calm')).toEqual(['calm', '1', '25%', '–']);
    expect(text(page(report, 'air'))).toContain('2020-01-01');
  });

  test('wind of the cruising weeks by part of day, with intervals', () => {
    const season = tableOf(page(report, 'air'), /^Wind from Oct 25 to Nov 15/);
    expect(season.rows).toEqual([
      [
        'morning',
        '10',
        '20% (6% to 51%)',
        'SW 50% (10% to 60%), W 30% (10% to 60%)',
        '10.0 mph',
        '50%',
        '1.5',
      ],
    ]);
    expect(page(report, 'air').paragraphs.join(' ')).toMatch(
      /Wind: [\d,]+ hourly records from .* of all hours; cloud is told in .* a gust is told in none/,
    );
    expect(page(report, 'air').doubts).toContain('a doubt of the wind');
  });

  test('the deer’s wind by how often it blows, and where new bedding would be checked', () => {
    const winds = tableOf(page(report, 'air'), /deer’s wind/);
    // 80 m are 87 yd (NIST SP 811, appendix B: 1 yd = 0.9144 m).
    expect(winds.rows).toEqual([
      ['W', '40%', '30%', '60%', 'Pines 87 yd'],
      ['N', '10%', '20%', '50%', 'none'],
    ]);
    const bedding = tableOf(page(report, 'air'), /New bedding/);
    expect(bedding.rows).toEqual([['A', '440,100 E 4,350,100 N', 'Pines to Beans', '66 yd', '31%']]);
    expect(page(report, 'air').doubts.join(' ')).toContain('common practice, no source');
  });

  test('metric when asked', () => {
    const metric = build({}, 'metric');
    expect(tableOf(page(metric, 'travel'), /^Necks/).rows[0]![3]).toBe('18 m');
    expect(JSON.stringify(metric.pages.slice(0, 6))).not.toMatch(/\d (yd|mi|mph|acres?)\b/);
  });
});

describe('what it does not know, and what it warns of', () => {
  test('doubts of every stage reach their page', () => {
    const report = build();
    expect(page(report, 'overview').doubts).toContain('No field notes.');
    expect(page(report, 'overview').doubts).toContain(
      'Neck 2 hangs on what was assumed; look before building on it.',
    );
    expect(page(report, 'ground').doubts).toContain('a doubt of the ground');
    expect(page(report, 'stands').doubts).toContain('night only');
  });

  test('without wind, boundary, necks or stands it says so in place of numbers', () => {
    const bare = build(
      { wind: null, windSeason: null, features: [], necks: [], crossings: [], corridors: [], standRisks: [] },
      'us',
      null,
    );
    expect(page(bare, 'air').doubts.join()).toMatch(/no wind record/);
    expect(tableOf(page(bare, 'air'), /the wind blows|part of day/)).toBeUndefined();
    expect(text(page(bare, 'overview'))).toContain('No boundary was given');
    expect(text(page(bare, 'overview'))).toContain('No neck was found');
    const unowned = build({ features: [] }, 'us', null);
    expect(text(page(unowned, 'overview'))).toContain('2 necks ranked, 1 firm.');
    expect(text(page(bare, 'stands'))).toContain('There is no stand and no neck');
    expect(bySchema.safeParse(JSON.parse(JSON.stringify(bare))).success).toBe(true);
  });

  test('cautions stand where the work is, and no shot is ever called safe', () => {
    const report = build();
    expect(page(report, 'stands').cautions).toEqual([CAUTIONS.firearms, CAUTIONS.climbing, CAUTIONS.season]);
    expect(page(report, 'ground').cautions.join()).toMatch(/permit/);
    expect(page(report, 'travel').cautions.join()).toMatch(/railroad/);
    expect(page(report, 'cover').cautions.join()).toMatch(/forester/);
    const words = JSON.stringify(report).replaceAll('Nothing here says a shot is safe', '');
    expect(words).not.toMatch(/\bsafe (shot|to shoot|backstop|direction)|shot is safe/i);
  });

  test('the methods page names a source for every method and every assumption', () => {
    const { tables } = page(build(), 'methods');
    for (const t of tables) {
      const at = t.columns.findIndex(({ title }) => /source/i.test(title));
      for (const row of t.rows) expect(row[at]!.length, row[0]).toBeGreaterThan(3);
    }
    expect(tables[1]!.rows[1]).toEqual(['Fence', '25', '10', '60', 'm', 'our assumption']);
  });
});
