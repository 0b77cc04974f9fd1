import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { openProperty } from '../../electron/store/property-file.ts';

const at = (path: string): string => new URL(path, import.meta.url).href;

/** Makes edits and saves results as fast as it can, and says each once it is answered. */
const EDITOR = `
import { openProperty } from '${at('../../electron/store/property-file.ts')}';
import { artifactsOf } from '${at('../electron/writers/support.ts')}';
const property = openProperty(process.argv[2]);
const artifacts = artifactsOf();
for (let count = 1; ; count++) {
  property.putFeature({ id: 'counter', kind: 'stand', status: 'proposed', name: String(count), source: 'drawn',
    geometry: { type: 'Point', coordinates: [439000 + count, 4350000] }, attributes: {} });
  if (count % 3 === 0) property.saveResults({ ...artifacts, coverDoubts: [String(count)] });
  process.stdout.write(count + '\\n');
}`;

export interface KilledEdit {
  /** The last edit that was answered before the process was killed, and the one the file holds. */
  said: number;
  found: number;
  /** What SQLite says of the file after opening, undoing and redoing. */
  integrity: unknown;
  foreignKeys: unknown;
}

/** Kills a process that edits a property `wait` ms after its second answer, then opens the file again. */
export async function killWhileEditing(path: string, wait: number): Promise<KilledEdit> {
  const child = spawn(process.execPath, ['--input-type=module-typescript', '-e', EDITOR, '-', path], {
    cwd: fileURLToPath(new URL('../..', import.meta.url)),
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  let said = 0;
  for await (const line of createInterface({ input: child.stdout })) {
    said = Number(line);
    if (said === 2) setTimeout(() => child.kill('SIGKILL'), wait);
  }
  await once(child, 'close').catch(() => {});
  const property = openProperty(path);
  const found = Number(property.head().features.find(({ id }) => id === 'counter')!.name);
  property.undo();
  property.redo();
  property.close();
  const db = new Database(path, { readonly: true });
  try {
    return {
      said,
      found,
      integrity: db.pragma('integrity_check', { simple: true }),
      foreignKeys: db.pragma('foreign_key_check'),
    };
  } finally {
    db.close();
  }
}

/** True when the file is whole and holds the last answered edit, or the one in flight after it. */
export const survived = ({ said, found, integrity, foreignKeys }: KilledEdit): boolean =>
  (found === said || found === said + 1) &&
  integrity === 'ok' &&
  Array.isArray(foreignKeys) &&
  foreignKeys.length === 0;
