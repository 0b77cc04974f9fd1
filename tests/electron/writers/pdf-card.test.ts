import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import type { ReportPage, ReportTable } from '../../../core/analysis/report.ts';
import { encodePdf } from '../../../electron/writers/pdf/report-pdf.ts';
import { reportOf } from './report.ts';
import { artifactsOf } from './support.ts';

const hasPoppler = spawnSync('pdftotext', ['-v']).status === 0;
const folder = mkdtempSync(join(tmpdir(), 'pdf-card-test-'));
afterAll(() => rmSync(folder, { recursive: true }));

const rows = (caption: string, count: number, words: string): ReportTable => ({
  caption,
  columns: [
    { title: 'What', align: 'left' },
    { title: 'Here', align: 'left' },
  ],
  rows: Array.from({ length: count }, (_, k) => [`${caption} ${k + 1}`, words]),
});
const sentence =
  'Some line leaves your ground after a way before ground stops it, and runs on past the deer. ';

/** A card of so many sentences and table rows, each with a mark of its own by which it is found again. */
const card = (paragraphs: number, tableRows: number): ReportPage => ({
  topic: 'card',
  title: 'Stand card: Oak',
  map: { grids: ['shade'], lines: ['features', 'necks', 'corridors', 'stand-risks'], low: true },
  beside: rows('fact', 9, 'seventy yards, the ring on the map'),
  paragraphs: Array.from({ length: paragraphs }, (_, k) => `par ${k + 1}. ${sentence}`),
  tables: [
    rows('behind', tableRows, sentence),
    rows('hours', 4, 'clean'),
    rows('travel', tableRows, sentence),
  ],
  doubts: Array.from({ length: 4 }, (_, k) => `doubt ${k + 1}. ${sentence}`),
  cautions: Array.from({ length: 2 }, (_, k) => `danger ${k + 1}. ${sentence}${sentence}`),
});

async function pagesOf(page: ReportPage, paper: 'letter' | 'A4'): Promise<string[]> {
  const path = join(folder, 'card.pdf');
  writeFileSync(path, await encodePdf({ ...reportOf(), paper, pages: [page] }, artifactsOf()));
  const { stdout } = spawnSync('pdftotext', ['-layout', path, '-'], { encoding: 'utf8' });
  return stdout.split('\f').slice(0, -1);
}

/** Marks of a card that are nowhere in some text. */
function missing({ beside, paragraphs, tables, doubts, cautions }: ReportPage, text: string): string[] {
  const words = text.replace(/\s+/g, ' ');
  const marks = [
    ...[beside!, ...tables].flatMap(({ rows }) => rows.map(([mark]) => `${mark} `)),
    ...[...paragraphs, ...doubts, ...cautions].map((line) => `${line.split('.')[0]}.`),
  ];
  return marks.filter((mark) => !words.includes(mark));
}

describe.skipIf(!hasPoppler)('a stand card', () => {
  it.each(['letter', 'A4'] as const)(
    'of the usual length is one page of %s with all of its own',
    async (paper) => {
      const usual = card(6, 3);
      const pages = await pagesOf(usual, paper);
      expect(pages).toHaveLength(1);
      expect(missing(usual, pages[0]!)).toEqual([]);
      expect(pages[0]).not.toContain('annex');
    },
  );

  it('has facts of many words under its map', async () => {
    const wordy = { ...card(6, 3), beside: rows('fact', 9, sentence.repeat(5)) };
    const [own, ...annex] = await pagesOf(wordy, 'letter');
    expect(own).toContain('danger 2.');
    expect(missing(wordy, [own, ...annex].join('\n'))).toEqual([]);
  });

  it.each([
    ['letter', 6, 14],
    ['A4', 6, 30],
    ['letter', 40, 14],
  ] as const)(
    'too long for %s stays one page, says that the rest is in the annex, and loses nothing',
    async (paper, paragraphs, tableRows) => {
      const long = card(paragraphs, tableRows);
      const [own, ...annex] = await pagesOf(long, paper);
      expect(annex[0]!.split('\n').map((line) => line.trim())).toContain('Annex');
      expect(own).toContain('More on this page: see the annex, under Stand card: Oak.');
      // What keeps people safe is on the card, whatever else is not.
      expect(own).toContain('danger 2.');
      expect(missing(long, [own, ...annex].join('\n'))).toEqual([]);
    },
  );
});
