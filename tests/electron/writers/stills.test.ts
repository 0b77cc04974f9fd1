import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { encodePdf } from '../../../electron/writers/pdf/report-pdf.ts';
import { withRoom } from '../../../electron/writers/pdf/stills.ts';
import { fixture } from '../readers/support.ts';
import { reportOf } from './report.ts';
import { artifactsOf } from './support.ts';

const folder = mkdtempSync(join(tmpdir(), 'stills-'));
afterAll(() => rmSync(folder, { recursive: true }));
const hasPoppler = spawnSync('pdfimages', ['-v']).status === 0;

const bytes = readFileSync(fixture('photos/placed.jpg').path);
const names = (count: number) =>
  Array.from({ length: count }, (_, k) => ({ id: `p${k}`, caption: `Still ${k}` }));
const base = reportOf();
const report = {
  ...base,
  pages: [{ ...base.pages[0]!, topic: 'job' as const, map: null, tables: [], pictures: names(3) }],
};

describe('stills from the walk in the report', () => {
  it.skipIf(!hasPoppler)(
    'are in the file as they were taken, with their words; what is not at hand is said',
    async () => {
      const stills = new Map([
        ['p0', { type: 'image/jpeg', bytes }],
        ['p1', { type: 'image/jpeg', bytes: bytes.subarray(0, 40) }],
      ]);
      const path = join(folder, 'stills.pdf');
      writeFileSync(path, await encodePdf(report, artifactsOf(), stills));
      spawnSync('pdfimages', ['-all', path, join(folder, 'out')]);
      // Poppler takes the picture out again, byte for byte the one that went in.
      expect(readFileSync(join(folder, 'out-000.jpg')).equals(bytes)).toBe(true);
      const words = spawnSync('pdftotext', [path, '-'], { encoding: 'utf8' }).stdout;
      expect(words).toContain('Still 0');
      expect(words).not.toContain('Still 1');
      expect(words).toContain('2 more from the walk near here');
    },
  );

  it('take no more room than a mail allows, and only kinds a page can carry', () => {
    const large = { type: 'image/jpeg', bytes: new Uint8Array(3.5e6) };
    const stills = new Map([
      ['p0', large],
      ['p1', large],
      ['p2', { type: 'image/heic', bytes: new Uint8Array(10) }],
      ['p3', { type: 'image/png', bytes: new Uint8Array(10) }],
    ]);
    expect([...withRoom(names(4), stills).keys()]).toEqual(['p0', 'p3']);
  });
});
