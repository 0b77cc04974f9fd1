import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { roundBelow } from '../../../electron/writers/pdf/map-furniture.ts';
import { thinned } from '../../../electron/writers/pdf/map-thinning.ts';
import { sayable } from '../../../electron/writers/pdf/paper.ts';
import { encodePdf } from '../../../electron/writers/pdf/report-pdf.ts';
import { outside } from '../../outside.ts';
import { reportOf } from './report.ts';
import { artifactsOf } from './support.ts';

const hasPoppler = spawnSync('pdftotext', ['-v']).status === 0;
if (!hasPoppler) console.warn('poppler-utils is not installed: the words of the PDF are not read back here');
const hasQpdf = spawnSync('qpdf', ['--version']).status === 0;
if (!hasQpdf) console.warn('qpdf is not installed: the PDF is not checked with it here');

const folder = mkdtempSync(join(tmpdir(), 'pdf-test-'));
const path = join(folder, 'report.pdf');
let bytes: Buffer;
beforeAll(async () => {
  bytes = Buffer.from(await encodePdf(reportOf(), artifactsOf()));
  writeFileSync(path, bytes);
});
afterAll(() => rmSync(folder, { recursive: true }));

const run = (...command: string[]): string => {
  const { stdout, stderr, status } = spawnSync(command[0]!, command.slice(1), { encoding: 'utf8' });
  expect(status, stderr).toBe(0);
  return stdout;
};

describe('the PDF', () => {
  it('is tagged, titled, bookmarked and carries its typeface', () => {
    const text = bytes.toString('latin1');
    expect(text.startsWith('%PDF-1.7')).toBe(true);
    for (const mark of [
      '/Marked true',
      '/StructTreeRoot',
      '/Lang (en-US)',
      '/DisplayDocTitle true',
      '/Outlines',
      '/FontFile2',
    ]) {
      expect(text, mark).toContain(mark);
    }
    // A figure that a reader cannot see is told in words.
    expect(text.match(/\/S \/Figure/g)).toHaveLength(2);
    expect(text.match(/\/Alt \(Map of /g)).toHaveLength(2);
    expect(text).toContain('/S /TH');
    // No standard face is leaned on, since those are not in the file.
    expect(text).not.toContain('/Helvetica');
  });

  it.skipIf(!hasPoppler)(
    'has letter pages with the name, the mark and a number on each, and all that was to be said',
    () => {
      const info = run('pdfinfo', path);
      expect(info).toMatch(/Page size:\s+612 x 792 pts \(letter\)/);
      expect(info).toMatch(/Tagged:\s+yes/);
      expect(info).toMatch(/Title:\s+Home farm \(invented example\): habitat scouting report/);
      const count = Number(/Pages:\s+(\d+)/.exec(info)![1]);
      expect(count).toBeGreaterThan(3);
      for (let number = 1; number <= count; number++) {
        const words = run('pdftotext', '-f', `${number}`, '-l', `${number}`, '-layout', path, '-');
        expect(words).toContain('Home farm');
        expect(words).toContain('INVENTED EXAMPLE');
        expect(words).toContain(`Page ${number} of ${count}`);
      }
      const all = run('pdftotext', '-layout', path, '-');
      for (let row = 1; row <= 90; row++) expect(all).toContain(`Reason number ${row} of ninety`);
      expect(all).toContain('One neck carries 41% of travel.');
      expect(all).toContain('Slope at least 20° to steep; ?');
      expect(all).toContain('Walk the ground first.');
      expect(all).toContain('The grid cannot show a creek bed.');
      expect(all).toContain('on the map is about');
      // The heading of a table comes again on every page it runs over.
      expect(all.match(/Row\s+Reason/g)!.length).toBeGreaterThan(1);
    },
  );

  it.skipIf(!hasPoppler)('gives each topic one page and what has no room there the annex', () => {
    const titles = [...reportOf().pages.map(({ title }) => title), 'Annex'];
    for (const [index, title] of titles.entries()) {
      const words = run('pdftotext', '-f', `${index + 1}`, '-l', `${index + 1}`, '-layout', path, '-');
      expect(words.split('\n').map((line) => line.trim())).toContain(title);
    }
  });

  it.skipIf(!hasPoppler)('says nothing of invention for a real property', async () => {
    const real = join(folder, 'real.pdf');
    writeFileSync(real, await encodePdf(reportOf({ invented: false }), artifactsOf()));
    expect(run('pdftotext', real, '-')).not.toMatch(/invented/i);
  });

  it.skipIf(!hasQpdf)('is sound by qpdf', () => {
    const check = outside({
      room: 'writers',
      method: 'Soundness of the report as a file',
      source: 'qpdf --check',
      unit: 'files with an error',
      allowed: 0,
    });
    check.same(/No syntax or stream encoding errors found/.test(run('qpdf', '--check', path)), true);
    check.done();
  });

  it('draws a property without a boundary, without lines and of one cell', async () => {
    const { frame, cells } = artifactsOf().elevation;
    const bare = { ...artifactsOf({ ...frame, width: 1, height: 1 }), features: [], necks: [], contours: [] };
    expect(cells.length).toBeGreaterThan(1);
    await expect(encodePdf(reportOf(), bare)).resolves.toBeInstanceOf(Uint8Array);
  });
});

describe('marks on a figure of wide country', () => {
  const row = (properties: Record<string, unknown>) => ({
    type: 'Feature' as const,
    geometry: { type: 'Point' as const, coordinates: [0, 0] },
    properties,
  });

  it('are the largest ones, and the legend says so', () => {
    const saddles = Array.from({ length: 90 }, (_, index) => row({ rise: (index * 37) % 90 }));
    const { rows, note } = thinned('saddles', saddles, 5);
    expect(rows.map(({ properties }) => properties!.rise)).toEqual(
      Array.from({ length: 40 }, (_, i) => 89 - i),
    );
    expect(note).toBe(', the most marked 40');
    expect(thinned('saddles', saddles.slice(0, 40), 5)).toEqual({ rows: saddles.slice(0, 40), note: '' });
  });

  it('leave out contours between and small drains as the scale shrinks', () => {
    const contours = [row({ index: true }), row({ index: false })];
    expect([5, 20, 50].map((scale) => thinned('contours', contours, scale).rows.length)).toEqual([2, 1, 0]);
    expect(thinned('contours', contours, 20).note).toBe(', index lines only');
    const drains = [row({ order: 1 }), row({ order: 2 })];
    expect([5, 31].map((scale) => thinned('drainage', drains, scale).rows.length)).toEqual([2, 1]);
    expect(thinned('necks', drains, 500).rows).toEqual(drains);
  });
});

describe('helpers of the page', () => {
  it('round a length down to 1, 2 or 5 times a power of ten', () => {
    expect([0.4, 1, 3.9, 7, 49, 51, 1234].map(roundBelow)).toEqual([0.2, 1, 2, 5, 20, 50, 1000]);
  });

  it('spell out what the typeface has no sign for', () => {
    expect(sayable('≥ 3 → “x” – 5 m² °')).toBe('at least  3 to “x” – 5 m² °');
  });
});
