import { readFileSync, writeFileSync } from 'node:fs';
import Database from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import type { Feature } from '../../../core/features/feature.ts';
import type { TypedArray } from '../../../core/grid/frame.ts';
import { createProperty, openProperty } from '../../../electron/store/property-file.ts';
import { resultParts } from '../../../electron/store/result-parts.ts';
import { openStore } from '../../../electron/store/store-client.ts';
import { artifactsOf, bytesOf, frame, gridOf, numbers } from '../writers/support.ts';
import { importedOf, scratch } from './support.ts';

const { path, beside, farm } = scratch();

/** Bit by bit, on shared memory, of the same kind. */
function expectSame(found: TypedArray, wanted: TypedArray): void {
  expect(found.buffer).toBeInstanceOf(SharedArrayBuffer);
  expect(found.constructor).toBe(wanted.constructor);
  expect(Buffer.compare(bytesOf(found), bytesOf(wanted))).toBe(0);
}

const stand = (id: string, name: string, x: number): Feature => ({
  id,
  kind: 'stand',
  status: 'proposed',
  name,
  geometry: { type: 'Point', coordinates: [x, 4350900.125] },
  attributes: { seatHeight: 5.5, quiet: true, note: null, weapon: 'bow' },
  source: 'drawn',
});

describe('a property file', () => {
  it('keeps what reports said, one a version, past undo and reopening', () => {
    createProperty(path('farm.gpkg'), importedOf(frame())).close();
    const property = openProperty(path('farm.gpkg'));
    expect(property.head().editions).toEqual([]);
    const edition = (version: string, made: string) => ({
      version,
      made,
      ownedArea: null,
      necks: [],
      stands: [],
      jobs: [],
      hours: 1,
      dollars: 2,
    });
    property.keepEdition(edition('1', '2026-03-04'));
    property.putFeature(stand('a', 'Oak', 439200));
    property.keepEdition(edition('1', '2026-03-05'));
    property.keepEdition(edition('2', '2026-04-01'));
    property.undo();
    expect(property.head().canUndo).toBe(false);
    property.close();
    const again = openProperty(path('farm.gpkg'));
    expect(again.head().editions).toEqual([edition('1', '2026-03-05'), edition('2', '2026-04-01')]);
    again.close();
  });

  for (const size of [frame(), frame({ width: 256, height: 512 }), frame({ width: 3, height: 2 })]) {
    it(`gives back what was imported, bit by bit, ${size.width} x ${size.height} cells`, () => {
      const imported = importedOf(size);
      createProperty(path('farm.gpkg'), imported).close();
      const property = openProperty(path('farm.gpkg'));
      const sources = property.sources();
      expectSame(sources.elevation.cells, imported.sources.elevation.cells);
      expectSame(sources.landcover!.cells, imported.sources.landcover!.cells);
      for (const [index, band] of imported.sources.imagery!.bands.entries()) {
        expectSame(sources.imagery!.bands[index]!, band);
      }
      expectSame(sources.imagery!.valid, imported.sources.imagery!.valid);
      const { bands: shown, frame: fine, valid } = property.display()!;
      expect(fine).toEqual(imported.display!.frame);
      for (const [index, band] of imported.display!.bands.entries()) expectSame(shown[index]!, band);
      expectSame(valid, imported.display!.valid);
      expectSame(sources.holes!.cells, imported.sources.holes!.cells);
      expectSame(sources.vegetation!.cells, imported.sources.vegetation!.cells);
      expect(sources.features).toEqual(imported.sources.features);
      const { hours, direction, speed, temperature, sky, ...said } = imported.sources.wind!;
      expect(sources.wind).toMatchObject(said);
      for (const [key, column] of Object.entries({ hours, direction, speed, temperature, sky })) {
        expectSame(sources.wind![key as 'hours'], column as Int32Array);
      }
      expect(property.head()).toMatchObject({
        frame: size,
        settings: imported.settings,
        notes: imported.notes,
        missing: imported.missing,
        files: imported.files,
        canUndo: false,
        canRedo: false,
        results: null,
      });
      property.close();
      expect(beside('farm.gpkg')).toEqual([]);
    });
  }

  it('keeps no second copy of a picture that is the same', () => {
    const imported = importedOf();
    createProperty(path('one.gpkg'), { ...imported, display: imported.sources.imagery }).close();
    const db = new Database(path('one.gpkg'), { readonly: true });
    const tiles = db.prepare("SELECT table_name FROM gpkg_contents WHERE data_type = 'tiles'").all();
    expect(tiles).toEqual([
      { table_name: 'surroundings_imagery' },
      { table_name: 'imagery' },
      { table_name: 'imagery_near_infrared' },
    ]);
    db.close();
    const property = openProperty(path('one.gpkg'));
    expectSame(property.display()!.bands[3]!, imported.sources.imagery!.bands[3]!);
    property.close();
  });

  it('does without imagery, land cover, wind, features and display', () => {
    const bare = importedOf();
    const none = { imagery: null, landcover: null, vegetation: null, holes: null, wind: null, features: [] };
    bare.sources = { ...bare.sources, ...none };
    const property = createProperty(path('bare.gpkg'), {
      ...bare,
      display: null,
    });
    expect(property.sources()).toMatchObject(none);
    expect(property.display()).toBeNull();
    property.close();
  });

  it('replaces a file as a whole and copies itself whole', () => {
    writeFileSync(path('farm.gpkg'), 'something else');
    const property = createProperty(path('farm.gpkg'), importedOf());
    property.putFeature(stand('s2', 'Ridge', 439100));
    property.copyTo(path('copy.gpkg'));
    property.close();
    const copy = openProperty(path('copy.gpkg'));
    expect(copy.head().features.map(({ id }) => id)).toContain('s2');
    expect(copy.head().canUndo).toBe(true);
    copy.close();
    expect(beside('copy.gpkg')).toEqual([]);
  });
});

describe('edits', () => {
  it('are taken back and made again in order, as a plain model has it', () => {
    const property = openProperty(farm());
    const random = numbers(21);
    const state = () => {
      const { features, settings } = property.head();
      return JSON.stringify({ features, settings });
    };
    // The model: every state there was, and where in that row we are.
    const states = [state()];
    let at = 0;
    for (let step = 0; step < 120; step++) {
      const dice = random();
      const { features, settings } = property.head();
      if (dice < 0.2) {
        expect(property.undo() !== null).toBe(at > 0);
        at = Math.max(0, at - 1);
      } else if (dice < 0.35) {
        expect(property.redo() !== null).toBe(at < states.length - 1);
        at = Math.min(states.length - 1, at + 1);
      } else {
        if (dice < 0.6)
          property.putFeature(stand(`s${Math.floor(random() * 6)}`, `Name ${step}`, 439000 + step));
        else if (dice < 0.7)
          property.putFeatures([stand(`p${step}`, 'Pair', 439001), stand('s1', `Again ${step}`, 439002)]);
        else if (dice < 0.85 && features.length > 0) {
          property.removeFeature(features[Math.floor(random() * features.length)]!.id);
        } else property.changeSettings({ ...settings, margin: step });
        states.splice(at + 1);
        states.push(state());
        at = states.length - 1;
      }
      expect(state(), `step ${step}`).toBe(states[at]);
      expect(property.head()).toMatchObject({ canUndo: at > 0, canRedo: at < states.length - 1 });
    }
    property.close();
    const again = openProperty(path('farm.gpkg'));
    expect(JSON.stringify({ features: again.head().features, settings: again.head().settings })).toBe(
      states[at],
    );
    // The row of edits is in the file too.
    while (again.undo() !== null) at--;
    expect(at).toBe(0);
    expect(JSON.stringify({ features: again.head().features, settings: again.head().settings })).toBe(
      states[0],
    );
    again.close();
  });

  it('put another wind record in force with what is said of it, and take it back', () => {
    const property = openProperty(farm());
    const before = property.sources().wind!;
    const { wind: id, notes } = property.head();
    const other = {
      ...before,
      station: 'other',
      speed: before.speed.map((speed) => speed + 1),
      notes: ['other wind'],
    };
    const files = [{ name: 'other.csv', hash: 'f'.repeat(64) }];
    const kept = property.keepWind(other, files);
    expect(property.head().wind).toBe(id);
    property.change('Bring in a wind record', [{ type: 'wind', id: kept }]);
    expect(property.wind()!.speed).toEqual(other.speed);
    // Gusts and ceilings come back where they were told, and only there.
    const ceiling = new Float32Array(other.hours.length).fill(900);
    const high = property.keepWind({ ...other, ceiling }, files);
    property.change('Bring in a wind record', [{ type: 'wind', id: high }]);
    expect(property.wind()!.ceiling).toEqual(ceiling);
    property.undo();
    expect(property.wind()!.ceiling).toBeUndefined();
    expect(property.head().notes).toContain('other wind');
    for (const note of before.notes) expect(property.head().notes).not.toContain(note);
    property.change('Leave out the wind', [{ type: 'wind', id: null }]);
    expect(property.wind()).toBeNull();
    expect(property.head().missing.join()).toContain('Wind record:');
    property.undo();
    property.undo();
    expect(property.wind()!.speed).toEqual(before.speed);
    expect(property.head().notes.toSorted()).toEqual([...new Set([...notes, ...before.notes])].toSorted());
    expect(property.head().missing.join()).not.toContain('Wind record:');
    property.close();
  });

  it('that change nothing are no edits', () => {
    const property = openProperty(farm());
    property.putFeature(stand('s2', 'Ridge', 439100));
    property.undo();
    property.removeFeature('no such feature');
    property.putFeatures([]);
    expect(property.head()).toMatchObject({ canUndo: false, canRedo: true });
    property.close();
  });
});

describe('results', () => {
  it('come back as they were, and say whether an edit came after them', () => {
    const property = openProperty(farm());
    const artifacts = artifactsOf();
    property.saveResults(artifacts);
    expect(property.head().results?.current).toBe(true);
    property.putFeature(stand('s9', 'Late', 439050));
    expect(property.head().results?.current).toBe(false);
    property.close();
    const again = openProperty(path('farm.gpkg'));
    const results = again.results();
    for (const name of [
      'cover',
      'forms',
      'passage',
      'coldAir',
      'accumulation',
      'blocks',
      'screening',
    ] as const) {
      expectSame(results[name]!.cells, artifacts[name].cells);
    }
    expect(results.necks).toEqual(artifacts.necks);
    expect(results.standRisks).toEqual(artifacts.standRisks);
    expect(results.coverSource).toBe('imagery');
    again.close();
  });

  it('replace the earlier ones and forget what is no longer made', () => {
    const property = openProperty(farm());
    property.saveResults(artifactsOf());
    const { passage: _gone, ...rest } = artifactsOf();
    const cover = gridOf(frame(), () => 3, Uint8Array);
    property.saveResults({ ...rest, necks: [], cover });
    const results = property.results();
    expect(results.passage).toBeUndefined();
    expect(results.necks).toEqual([]);
    expectSame(results.cover!.cells, cover.cells);
    expectSame(results.forms!.cells, rest.forms.cells);
    property.close();
  });

  it('leave out whole numbers that no tile can hold exactly', () => {
    const property = openProperty(farm());
    const fits = gridOf(frame(), (column) => (column === 7 ? 0x1000000 : 1), Uint32Array);
    property.saveResults({ accumulation: fits });
    expectSame(property.results().accumulation!.cells, fits.cells);
    property.saveResults({
      accumulation: gridOf(frame(), (column) => (column === 7 ? 0x1000001 : 1), Uint32Array),
    });
    expect(property.results().accumulation).toBeUndefined();
    property.close();
  });
});

describe('results saved in parts', () => {
  it('count only once the last part is there, and are older than edits made meanwhile', () => {
    const property = openProperty(farm());
    property.saveResults(artifactsOf());
    const parts = resultParts({ ...artifactsOf(), necks: [] });
    for (const part of parts.slice(0, 5)) property.saveResultPart(part);
    expect(property.head().results).toBeNull();
    expect(property.results()).toEqual({});
    property.putFeature(stand('s3', 'Meanwhile', 439060));
    for (const part of parts.slice(5)) property.saveResultPart(part);
    expect(property.head().results?.current).toBe(false);
    expect(property.results().necks).toEqual([]);
    property.close();
  });

  it('let an edit through before they are all saved', async () => {
    const store = await openStore(farm());
    const order: string[] = [];
    const on = frame({ width: 1500, height: 1500 });
    const saving = store.saveResults(artifactsOf(on)).then(() => order.push('saved'));
    await store.putFeature(stand('s4', 'Quick', 439070)).then(() => order.push('edited'));
    await saving;
    expect(order).toEqual(['edited', 'saved']);
    await store.close();
  });
});

describe('the store in its worker', () => {
  it('answers in order, on shared memory, and carries problems over', async () => {
    const imported = importedOf();
    farm();
    const store = await openStore(path('farm.gpkg'));
    const answers = await Promise.all([
      store.putFeature(stand('s2', 'One', 439010)),
      store.putFeature(stand('s2', 'Two', 439011)),
      store.head(),
      store.undo(),
      store.head(),
    ]);
    const names = [answers[2], answers[4]].map(
      ({ features }) => features.find(({ id }) => id === 's2')?.name,
    );
    expect(names).toEqual(['Two', 'One']);
    expectSame((await store.sources()).elevation.cells, imported.sources.elevation.cells);
    await store.saveResults(artifactsOf());
    expect((await store.results()).necks).toEqual(artifactsOf().necks);
    await expect(openStore(path('farm.gpkg'))).rejects.toThrow(/open in another/);
    await expect(store.copyTo(path('no/such/folder/x.gpkg'))).rejects.toMatchObject({ name: 'Problem' });
    await store.close();
    await expect(store.head()).rejects.toThrow(/closed/);
    expect(beside('farm.gpkg')).toEqual([]);
    await expect(openStore(path('none.gpkg'))).rejects.toMatchObject({ name: 'Problem', file: 'none.gpkg' });
    expect(readFileSync(path('farm.gpkg')).subarray(0, 15).toString()).toBe('SQLite format 3');
  });
});
