import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { encodeGeoTiff } from '../../../electron/writers/geotiff.ts';
import { levelsOf } from '../../../electron/writers/overviews.ts';
import { frame, gridOf, hasGdal } from './support.ts';

const folder = mkdtempSync(join(tmpdir(), 'cog-test-'));
afterAll(() => rmSync(folder, { recursive: true }));

/** GDAL's own validator of the layout (osgeo_utils, the script published with GDAL). */
const SCRIPT = `
import json, sys
from osgeo import gdal
from osgeo_utils.samples.validate_cloud_optimized_geotiff import validate
gdal.UseExceptions()
found = []
for name in sys.argv[1:]:
    warnings, errors, details = validate(name, full_check=True)
    data = gdal.Open(name)
    band = data.GetRasterBand(1)
    found.append({'warnings': warnings, 'errors': errors, 'overviews': [
        [band.GetOverview(k).XSize, band.GetOverview(k).YSize, band.GetOverview(k).ReadAsArray(0, 0, 1, 1)[0][0].item(),
         band.GetOverview(k).GetNoDataValue()]
        for k in range(band.GetOverviewCount())]})
print(json.dumps(found))`;

import { outside } from '../../outside.ts';

describe('a GeoTIFF for readers on the far side of a network', () => {
  it.skipIf(!hasGdal)('is one by GDAL’s validator, with overviews, at every size', async () => {
    const sizes = [
      [1500, 700],
      [256, 256],
      [257, 3],
      [1, 1],
    ] as const;
    const paths: string[] = [];
    for (const [index, [width, height]] of sizes.entries()) {
      const path = join(folder, `${index}.tif`);
      writeFileSync(path, await encodeGeoTiff(gridOf(frame({ width, height }), (column) => column)));
      paths.push(path);
    }
    const { stdout, stderr, status } = spawnSync('/usr/bin/python3', ['-c', SCRIPT, ...paths], {
      encoding: 'utf8',
    });
    expect(status, stderr).toBe(0);
    const found = JSON.parse(stdout) as { errors: string[]; warnings: string[]; overviews: number[][] }[];
    const check = outside({
      room: 'writers',
      method: 'Layout of cloud-optimised GeoTIFFs',
      source: 'the validator of GDAL',
      unit: 'files with a complaint',
      allowed: 0,
    });
    for (const { errors, warnings } of found) check.same([...errors, ...warnings], []);
    check.done();
    // Means of columns 0..1, 0..3 and 0..7.
    expect(found.map(({ overviews }) => overviews)).toEqual([
      [
        [750, 350, 0.5, -9999],
        [375, 175, 1.5, -9999],
        [188, 88, 3.5, -9999],
      ],
      [],
      [[129, 2, 0.5, -9999]],
      [],
    ]);
  });
});

describe('overviews', () => {
  it('take the mean of what is known and the commonest class', () => {
    const floats = gridOf(frame({ width: 512, height: 2 }), (column, row) =>
      column === 0 ? Number.NaN : column < 4 ? column + row : Number.NaN,
    );
    expect([...levelsOf(floats)[1]!.cells.slice(0, 3)]).toEqual([1.5, 3, Number.NaN]);
    const classes = gridOf(
      frame({ width: 512, height: 2 }),
      (column, row) =>
        [
          [7, 3, 5, 5],
          [4, 3, 6, 5],
        ][row]![column] ?? 0,
      Uint8Array,
    );
    expect([...levelsOf(classes)[1]!.cells.slice(0, 3)]).toEqual([3, 5, 0]);
  });
});
