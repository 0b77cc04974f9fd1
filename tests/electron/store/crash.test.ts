import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import { openProperty } from '../../../electron/store/property-file.ts';
import { scratch } from './support.ts';

const { path, beside, farm } = scratch();

/** Makes edits and saves results as fast as it can, and says each once it is answered. */
const EDITOR = `
import { openProperty } from '${new URL('../../../electron/store/property-file.ts', import.meta.url).href}';
import { artifactsOf } from '${new URL('../writers/support.ts', import.meta.url).href}';
const property = openProperty(process.argv[2]);
const artifacts = artifactsOf();
for (let count = 1; ; count++) {
  property.putFeature({ id: 'counter', kind: 'stand', status: 'proposed', name: String(count), source: 'drawn',
    geometry: { type: 'Point', coordinates: [439000 + count, 4350000] }, attributes: {} });
  if (count % 3 === 0) property.saveResults({ ...artifacts, coverDoubts: [String(count)] });
  process.stdout.write(count + '\\n');
}`;

describe('a killed process', () => {
  it('loses at most the edit in flight and leaves a whole file', async () => {
    farm();
    let last = 0;
    for (const wait of [3, 17, 30, 44, 61]) {
      const child = spawn(
        process.execPath,
        ['--input-type=module-typescript', '-e', EDITOR, '-', path('farm.gpkg')],
        {
          cwd: fileURLToPath(new URL('../../..', import.meta.url)),
          stdio: ['ignore', 'pipe', 'inherit'],
        },
      );
      let said = 0;
      for await (const line of createInterface({ input: child.stdout })) {
        said = Number(line);
        // After the first answers, killed at another moment of its work each time.
        if (said === 2) setTimeout(() => child.kill('SIGKILL'), wait);
      }
      await once(child, 'close').catch(() => {});
      expect(said).toBeGreaterThan(1);
      const property = openProperty(path('farm.gpkg'));
      const found = Number(property.head().features.find(({ id }) => id === 'counter')!.name);
      expect([said, said + 1]).toContain(found);
      property.undo();
      property.redo();
      property.close();
      expect(beside('farm.gpkg')).toEqual([]);
      const db = new Database(path('farm.gpkg'), { readonly: true });
      expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
      expect(db.pragma('foreign_key_check')).toEqual([]);
      db.close();
      last = found;
    }
    expect(last).toBeGreaterThan(1);
  });
});
