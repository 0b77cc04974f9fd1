import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { PinnedPicture } from '../../../electron/service/contract.ts';
import { makeNameless } from '../../../electron/store/nameless.ts';
import { openProperty } from '../../../electron/store/property-file.ts';
import { fixture } from '../readers/support.ts';
import { onHill } from './on-hill.ts';

/** A scan kept, pinned, undone and left out of a nameless copy, on a small property. */

const { hill, ask } = onHill(60);
const picturesNow = async () => (await ask('property.summary', {}))!.settings.pictures as PinnedPicture[];

async function keep(name: string, bytes: Uint8Array) {
  const { staging } = await ask('import.begin', {});
  await ask('import.file', { staging, name, last: true }, bytes);
  return ask('pictures.keep', { staging, name });
}
const scan = (name: string) => readFileSync(fixture(`scans/${name}`).path);

test('a scan is kept in the property file with its pins, which undo takes back', async () => {
  const { id, summary } = await keep('plat.tif', scan('grey-lzw.tif'));
  expect(summary.settings.pictures).toEqual([{ id, name: 'plat.tif', width: 41, height: 30, pins: [] }]);
  // PNG, ISO 15948.
  expect(Buffer.from(await ask('notes.picture', { id })).toString('latin1', 1, 4)).toBe('PNG');
  const pins = [
    { at: [0, 0], to: [439500, 4351200] },
    { at: [40, 0], to: [439540, 4351200] },
    { at: [0, 30], to: [439500, 4351170] },
  ] as PinnedPicture['pins'][number][];
  const three = await ask('pictures.fit', { pins });
  expect(three.fit).toMatchObject({ kind: 'affine', rms: null, misses: null });
  expect(three.sentences[0]).toMatch(/^3 pins fit exactly/);
  // 2 m off at one of four corners of a rectangle: a quarter of it is left at each by symmetry, 0.5 m or 1.6 ft.
  const four = await ask('pictures.fit', { pins: [...pins, { at: [40, 30], to: [439542, 4351170] }] });
  for (const miss of four.fit!.misses!) expect(miss).toBeCloseTo(0.5, 6);
  expect(four.sentences.join(' ')).toMatch(/missed by 1\.6 ft .*no survey/);
  await ask('settings.change', { patch: { pictures: [{ ...(await picturesNow())[0]!, pins }] } });
  expect((await picturesNow())[0]!.pins).toEqual(pins);
  await ask('edit.undo', {});
  expect((await picturesNow())[0]!.pins).toEqual([]);
  await ask('edit.redo', {});
  await expect(keep('again.tif', scan('grey-lzw.tif'))).rejects.toThrow(/on the map already/);
  await expect(keep('plat.pdf', Buffer.from('%PDF-1.7'))).rejects.toThrow(/plat\.pdf is not a picture/);
  const wrong = { pictures: [{ id: 'x', name: 'x', width: 1, height: 1, pins: [{ at: [0], to: [0, 0] }] }] };
  await expect(ask('settings.change', { patch: wrong })).rejects.toThrow(/pictures/);
  expect(await picturesNow()).toHaveLength(1);
});

test('it is there when the file is opened again, and stays behind in a nameless copy', async () => {
  const [shelved] = await ask('shelf.list', {});
  await hill.service.close();
  const { path } = shelved!;
  const again = openProperty(path);
  const [picture] = again.head().settings.pictures;
  expect(picture).toMatchObject({ name: 'plat.tif', width: 41 });
  expect(picture!.pins).toHaveLength(3);
  expect(again.media(picture!.id)?.type).toBe('image/png');
  again.close();
  const target = join(hill.dataFolder, 'nameless.gpkg');
  expect(makeNameless(path, target).settings.pictures).toEqual([]);
  expect(readFileSync(target).includes('plat.tif')).toBe(false);
});
