import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { encodeSheet } from '../../../electron/writers/pdf/sheet-pdf.ts';
import { outside } from '../../outside.ts';
import { reportOf } from './report.ts';
import { artifactsOf } from './support.ts';

const hasPoppler = spawnSync('pdftotext', ['-v']).status === 0;
const folder = mkdtempSync(join(tmpdir(), 'sheet-ticks-'));
afterAll(() => rmSync(folder, { recursive: true }));

/** Easting, northing, longitude, latitude of the crossings of the grid (tests/reference/writers/make_ticks.py). */
const { crossings } = JSON.parse(
  readFileSync(new URL('../../reference/fixtures/writers/ticks.json', import.meta.url), 'utf8'),
) as { crossings: [number, number, number, number][] };

/** The viewport of the map as the file has it (ISO 32000-2, 8.8 and 12.10): its box on the page and its corners. */
function viewportOf(pdf: string): { box: number[]; corners: [number, number][] } {
  const numbers = (key: string): number[] => {
    const found = new RegExp(`/${key} \\[([^\\]]*)\\]`).exec(pdf);
    return found![1]!.trim().split(/\s+/).map(Number);
  };
  const degrees = numbers('GPTS');
  expect(numbers('LPTS')).toEqual([0, 0, 0, 1, 1, 1, 1, 0]);
  const corners = [0, 2, 4, 6].map((k): [number, number] => [degrees[k + 1]!, degrees[k]!]);
  return { box: numbers('BBox'), corners };
}

/**
 * Where a longitude and latitude falls in the unit square whose corners, from the lower left clockwise, lie at four
 * others: the square is laid out linearly between them, and that is turned round by Newton's method.
 */
function placeOf(
  [lowLeft, upLeft, upRight, lowRight]: [number, number][],
  at: [number, number],
): [number, number] {
  const part = (u: number, v: number, k: 0 | 1): number =>
    (1 - u) * (1 - v) * lowLeft![k] +
    (1 - u) * v * upLeft![k] +
    u * v * upRight![k] +
    u * (1 - v) * lowRight![k];
  let [u, v] = [0.5, 0.5];
  for (let turn = 0; turn < 20; turn++) {
    const off = [part(u, v, 0) - at[0], part(u, v, 1) - at[1]] as const;
    const [xu, yu] = [part(1, v, 0) - part(0, v, 0), part(1, v, 1) - part(0, v, 1)];
    const [xv, yv] = [part(u, 1, 0) - part(u, 0, 0), part(u, 1, 1) - part(u, 0, 1)];
    const whole = xu * yv - xv * yu;
    u -= (off[0] * yv - off[1] * xv) / whole;
    v -= (off[1] * xu - off[0] * yu) / whole;
  }
  return [u, v];
}

/** Numbers set as ticks, with the middle of their words on the page, points from its upper left. */
function ticksOf(words: string, letter: 'E' | 'N'): { value: number; x: number; y: number }[] {
  const box = 'xMin="([\\d.]+)" yMin="([\\d.]+)" xMax="([\\d.]+)" yMax="([\\d.]+)"';
  const pattern = new RegExp(`${box}>([\\d,]+)</word>\\s*<word ${box}>${letter}<`, 'g');
  return [...words.matchAll(pattern)].map((found) => {
    const side = (k: number): number => Number(found[k]);
    return {
      value: Number(found[5]!.replaceAll(',', '')),
      x: (Math.min(side(1), side(6)) + Math.max(side(3), side(8))) / 2,
      y: (Math.min(side(2), side(7)) + Math.max(side(4), side(9))) / 2,
    };
  });
}

describe.skipIf(!hasPoppler)('the ticks of the map sheet', () => {
  it('stand where PROJ has their eastings and northings on the earth, by the file’s own registration', async () => {
    const path = join(folder, 'sheet.pdf');
    const bytes = Buffer.from(await encodeSheet(reportOf(), artifactsOf()));
    writeFileSync(path, bytes);
    const { box, corners } = viewportOf(bytes.toString('latin1'));
    const words = spawnSync('pdftotext', ['-bbox', path, '-'], { encoding: 'utf8' }).stdout;
    const pageHeight = Number(/<page width="[\d.]+" height="([\d.]+)"/.exec(words)![1]);
    const [left, low, right, high] = box as [number, number, number, number];
    const check = outside({
      room: 'writers',
      method: 'UTM grid ticks of the map sheet',
      source: 'PROJ by GDAL’s osr, through the registration of ISO 32000-2',
      unit: 'pixels at 150 dpi',
      allowed: 1,
    });
    for (const letter of ['E', 'N'] as const) {
      const ticks = ticksOf(words, letter);
      expect(ticks.length, letter).toBeGreaterThan(1);
      for (const { value, x, y } of ticks) {
        const on = crossings.filter((each) => each[letter === 'E' ? 0 : 1] === value);
        expect(on.length, `${value} ${letter}`).toBeGreaterThan(1);
        for (const [, , longitude, latitude] of on) {
          const [u, v] = placeOf(corners, [longitude, latitude]);
          const [wanted, found] =
            letter === 'E' ? [left + u * (right - left), x] : [pageHeight - (low + v * (high - low)), y];
          check.compare((found * 150) / 72, (wanted * 150) / 72);
        }
      }
    }
    check.done();
  });
});
