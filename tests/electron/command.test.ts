import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';

const root = join(import.meta.dirname, '..', '..');
const srtm = join(root, 'sample-rasters', 'ridge-and-valley-srtm3.tif');
let scratch: string;
beforeAll(() => {
  scratch = mkdtempSync(join(tmpdir(), 'command-'));
});
afterAll(() => rmSync(scratch, { recursive: true, force: true }));

/** Runs the headless entry as `npm run analyze` does. */
function analyze(...args: string[]) {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [join(root, 'electron', 'command.ts'), ...args],
    {
      cwd: scratch,
      encoding: 'utf8',
    },
  );
  return { status, lines: stdout.split('\n').filter(Boolean), stderr };
}

describe('the real raster: SRTM, geographic, no photo, no boundary', () => {
  let out: string;
  let run: ReturnType<typeof analyze>;
  beforeAll(() => {
    out = join(scratch, 'srtm');
    run = analyze(srtm, '--out', out);
  }, 240_000);

  test('ends well and names every file it wrote, one a line', () => {
    expect(run.stderr).not.toMatch(/went wrong/);
    expect(run.status).toBe(0);
    expect(run.lines.length).toBeGreaterThan(14);
    for (const line of run.lines) expect(existsSync(line), line).toBe(true);
    const names = run.lines.map((line) => line.slice(out.length + 1));
    for (const layer of [
      'elevation',
      'slope',
      'aspect',
      'shade',
      'filled',
      'accumulation',
      'cover',
      'resistance',
      'passage',
      'cold-air',
    ]) {
      expect(names).toContain(join('layers', `${layer}.tif`));
    }
    for (const file of [
      'property.gpkg',
      'necks.geojson',
      'crossings.geojson',
      'corridors.geojson',
      'stand-risks.geojson',
      'report.json',
      'report.pdf',
    ]) {
      expect(names).toContain(file);
    }
  });

  test('shows progress on stderr and none of it on stdout', () => {
    expect(run.stderr).toMatch(/\d+ %/);
    expect(run.lines.join('\n')).not.toMatch(/%/);
  });

  test('says what so coarse a grid cannot show, and that travel rests on terrain alone', () => {
    const report = readFileSync(join(out, 'report.json'), 'utf8');
    expect(report).toMatch(/creek bed/i);
    expect(report).toMatch(/saddle/i);
    expect(report).toMatch(/terrain alone/i);
  });

  test('leaves nothing but its results: no side files, no temporary ones', () => {
    expect(readdirSync(out).filter((name) => /-(wal|shm|journal)$|tmp|part|cache/.test(name))).toEqual([]);
  });

  test('the property file it wrote gives the same necks again', () => {
    const again = join(scratch, 'again');
    const { status, stderr } = analyze(
      join(out, 'property.gpkg'),
      ...['--out', again, '--workers', '1', '--season'],
    );
    expect(status).toBe(0);
    expect(stderr).toContain('No stand is on the map, so no season was judged');
    expect(readFileSync(join(again, 'necks.geojson'), 'utf8')).toBe(
      readFileSync(join(out, 'necks.geojson'), 'utf8'),
    );
  });
});

describe('what cannot be used is refused in plain words', () => {
  const cases: { name: string; make: (folder: string) => string; says: RegExp; fix: RegExp }[] = [
    { name: 'nothing there', make: (folder) => join(folder, 'nowhere'), says: /nowhere/, fix: /check|path/i },
    { name: 'an empty folder', make: (folder) => folder, says: /elevation/i, fix: /elevation.*tif/i },
    {
      name: 'a text file named as a raster',
      make(folder) {
        writeFileSync(join(folder, 'elevation.tif'), 'this is not a raster');
        return folder;
      },
      says: /elevation\.tif/,
      fix: /GeoTIFF/i,
    },
    {
      name: 'a raster cut short',
      make(folder) {
        writeFileSync(join(folder, 'elevation.tif'), readFileSync(srtm).subarray(0, 60_000));
        return folder;
      },
      says: /elevation\.tif/,
      fix: /again/i,
    },
    {
      name: 'a boundary that crosses itself',
      make(folder) {
        copyFileSync(srtm, join(folder, 'elevation.tif'));
        const ring = [
          [-84.3, 36.4],
          [-84.2, 36.5],
          [-84.2, 36.4],
          [-84.3, 36.5],
          [-84.3, 36.4],
        ];
        const boundary = {
          type: 'Feature',
          properties: {},
          geometry: { type: 'Polygon', coordinates: [ring] },
        };
        writeFileSync(join(folder, 'boundary.geojson'), JSON.stringify(boundary));
        return folder;
      },
      says: /boundary\.geojson/,
      fix: /cross|untangle/i,
    },
    {
      name: 'a boundary off the raster',
      make(folder) {
        copyFileSync(srtm, join(folder, 'elevation.tif'));
        const ring = [
          [10, 50],
          [10.1, 50],
          [10.1, 50.1],
          [10, 50],
        ];
        const boundary = {
          type: 'Feature',
          properties: {},
          geometry: { type: 'Polygon', coordinates: [ring] },
        };
        writeFileSync(join(folder, 'boundary.geojson'), JSON.stringify(boundary));
        return folder;
      },
      says: /boundary lies outside elevation\.tif/,
      fix: /\w/,
    },
  ];

  test.each(cases)('$name', ({ name, make, says, fix }) => {
    const folder = join(scratch, name.replaceAll(' ', '-'));
    mkdirSync(folder);
    const out = join(folder, 'out');
    const { status, stderr, lines } = analyze(make(folder), '--out', out);
    expect(stderr).not.toMatch(/went wrong|\.ts:\d/);
    expect(status).toBe(1);
    expect(stderr).toMatch(says);
    expect(stderr).toMatch(fix);
    expect(lines).toEqual([]);
    expect(existsSync(join(out, 'property.gpkg'))).toBe(false);
  });

  test('an output that cannot be written is refused before any work, and what is there stays', () => {
    const file = join(scratch, 'a-file');
    writeFileSync(file, 'keep me');
    const { status, stderr } = analyze(srtm, '--out', join(file, 'below'));
    expect(status).toBe(1);
    expect(stderr).toMatch(/a-file/);
    expect(stderr).not.toMatch(/ took /);
    expect(readFileSync(file, 'utf8')).toBe('keep me');
  });

  test.skipIf(process.getuid?.() === 0)('a read-only folder is refused', () => {
    const locked = join(scratch, 'locked');
    mkdirSync(locked);
    chmodSync(locked, 0o555);
    expect(analyze(srtm, '--out', join(locked, 'out')).status).toBe(1);
  });

  test('wrong usage ends with 2 and says how', () => {
    for (const args of [[], ['a', 'b'], ['--frobnicate'], [srtm, '--workers', 'many']]) {
      const { status, stderr } = analyze(...args);
      expect(status).toBe(2);
      expect(stderr).toMatch(/usage:/);
    }
  });
});
