import { describe, expect, test } from 'vitest';
import { buildReport } from '../../../core/analysis/report-model/build-report.ts';
import { changesSince, inWords } from '../../../core/analysis/report-model/changes.ts';
import { type Edition, lastOf, withEdition } from '../../../core/analysis/report-model/edition.ts';
import { sayIn } from '../../../core/analysis/report-model/facts.ts';
import { FOOT } from '../../../core/features/units.ts';
import { EVERY_JOB, feature, line, point } from '../plan/scene.ts';
import { FRAME, SETTINGS, smallArtifacts } from './report-facts.ts';

const stand = feature('oak', 'stand', point(30, 30), { weapon: 'bow' }, 'existing');
const build = (
  features: ReturnType<typeof smallArtifacts>['features'],
  kept: readonly Edition[] = [],
  over: { version?: string; necks?: ReturnType<typeof smallArtifacts>['necks'] } = {},
) =>
  buildReport(
    FRAME,
    { ...SETTINGS, brief: { ...SETTINGS.brief, version: over.version ?? '1' } },
    { ...smallArtifacts(), features, ...(over.necks ? { necks: over.necks } : {}) },
    [],
    [],
    180_000,
    '2026-11-25',
    null,
    undefined,
    kept,
  );
const said = (before: Edition, now: Edition): string[] =>
  changesSince(before, now, sayIn('us'), 'us').map(inWords);

describe('what changed since the last report', () => {
  const first = build([...EVERY_JOB, stand]);

  test('the first says that it is the first; an unchanged second that nothing changed', () => {
    expect(first.pages[0]!.beside!.rows.at(-1)).toEqual(['Version', '1, the first']);
    const second = build([...EVERY_JOB, stand], [first.edition], { version: '2' });
    expect(second.pages[0]!.beside!.rows.slice(-2)).toEqual([
      ['Version', '2'],
      ['Since version 1 of Nov 25, 2026', 'Nothing that this report prints changed.'],
    ]);
    expect(second.pages[1]!.tables.map(({ caption }) => caption).join()).not.toContain('What changed');
  });

  test('a longer barricade, a job that is gone, one that is new and one that is done are told with their numbers', () => {
    const longer = feature('barricade', 'barricade', line([0, 0], [260 * FOOT, 0]), { height: 5 * FOOT });
    const done = feature(
      'felled',
      'bedding',
      EVERY_JOB[2]!.geometry,
      { done: '2026-11-20', method: 'fell' },
      'existing',
    );
    const more = feature('second', 'trail', line([0, 700], [91.44, 700]));
    const features = [
      ...EVERY_JOB.filter(({ id }) => !['barricade', 'ford', 'felled'].includes(id)),
      longer,
      done,
      more,
      stand,
    ];
    const second = build(features, [first.edition], { version: '2' });
    const lines = said(first.edition, second.edition);
    // 200 ft are 66 2/3 yd, 260 ft are 86 2/3 yd.
    expect(lines).toContain('The barricade, length: 87 yd (67 yd before)');
    expect(lines.find((words) => words.startsWith('The ford: gone (water crossing, '))).toMatch(
      / h, \$[\d,]+ before\)$/,
    );
    expect(lines.find((words) => words.startsWith('The second: new, cleared trail, '))).toBeDefined();
    expect(lines).toContain('The felled: done Nov 20, 2026 (to be done before)');
    expect(lines.some((words) => words.startsWith('Work to be done: '))).toBe(true);
    // The front has the first three and says where all stand.
    expect(second.pages[0]!.beside!.rows.at(-1)![1]).toMatch(
      new RegExp(`; and ${lines.length - 3} more changes, all under The property\\.$`),
    );
    const table = second.pages[1]!.tables.find(
      ({ caption }) => caption === 'What changed since version 1 of Nov 25, 2026',
    )!;
    expect(table.rows).toHaveLength(lines.length);
    expect(table.rows).toContainEqual(['The barricade, length', '67 yd', '87 yd']);
  });

  test('necks are known by where they lie: ranks may change places, one may go and another come', () => {
    const [neck] = smallArtifacts().necks;
    const at = (x: number, rank: number, share: number) => ({
      ...neck!,
      id: `n${rank}`,
      rank,
      share,
      at: [440_000 + x, 4_350_000] as [number, number],
    });
    const before = build([], [], { necks: [at(0, 1, 0.31), at(200, 2, 0.12), at(400, 3, 0.08)] });
    const now = build([], [], { necks: [at(210, 1, 0.33), at(10, 2, 0.27), at(900, 3, 0.05)] });
    expect(said(before.edition, now.edition)).toEqual([
      'Neck 1 (then neck 2), share of travel: 33% (12% before)',
      'Former neck 3, share of travel: gone (8% before)',
      'Neck 3, share of travel: new, 5%',
      'Neck 2 (then neck 1), share of travel: 27% (31% before)',
    ]);
  });

  test('numbers that print alike are alike', () => {
    const [neck] = smallArtifacts().necks;
    const a = build([], [], { necks: [{ ...neck!, share: 0.312 }] });
    const b = build([], [], { necks: [{ ...neck!, share: 0.308 }] });
    expect(said(a.edition, b.edition)).toEqual([]);
  });

  test('it is compared with the last of another version, or the last sent out where the version stayed', () => {
    const edition = (version: string, made: string): Edition => ({ ...first.edition, version, made });
    let kept: Edition[] = [];
    expect(lastOf(kept, '1')).toBeNull();
    for (const [version, made] of [
      ['1', '2026-01-01'],
      ['1', '2026-01-02'],
      ['2', '2026-02-01'],
      ['2', '2026-02-02'],
    ] as const)
      kept = withEdition(kept, edition(version, made));
    expect(kept.map(({ made }) => made)).toEqual(['2026-01-02', '2026-02-02']);
    expect(lastOf(kept, '2')!.made).toBe('2026-01-02');
    expect(lastOf(kept, '3')!.made).toBe('2026-02-02');
    expect(lastOf([edition('1', '2026-01-02')], '1')!.made).toBe('2026-01-02');
  });
});
