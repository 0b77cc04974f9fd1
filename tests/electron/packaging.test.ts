import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { decode } from 'fast-png';
import { expect, test } from 'vitest';
import { root } from '../../electron/host/places.ts';

const recipe = JSON.parse(readFileSync(join(root, 'packaging', 'electron-builder.json'), 'utf8')) as {
  files: string[];
  directories: { buildResources: string };
  fileAssociations: { ext: string }[];
  asar: boolean;
};

test('the recipe takes in what the program opens at run time, and nothing that is not there', () => {
  const places = recipe.files.map((pattern) => pattern.replace(/\/\*\*$/, ''));
  // dist is made by the build that `npm run package` runs first.
  for (const place of places.filter((each) => each !== 'dist'))
    expect(existsSync(join(root, place)), place).toBe(true);
  expect(places).toEqual(expect.arrayContaining(['dist', 'sample-rasters/invented-farm', 'package.json']));
  // SQLite and the reading process open files by path, which an archive does not have.
  expect(recipe.asar).toBe(false);
  expect(recipe.fileAssociations.map(({ ext }) => ext)).toEqual(['gpkg']);
});

test('the icon is large enough for every system', () => {
  // 512 px is what electron-builder asks for to make the icons of macOS and Windows from one picture.
  const icon = decode(readFileSync(join(root, recipe.directories.buildResources, 'icon.png')));
  expect([icon.width, icon.height]).toEqual([512, 512]);
});
