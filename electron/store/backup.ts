import { once } from 'node:events';
import {
  closeSync,
  createReadStream,
  createWriteStream,
  openSync,
  readSync,
  renameSync,
  rmSync,
  statSync,
  writeSync,
} from 'node:fs';
import { basename, join } from 'node:path';
import { finished } from 'node:stream/promises';
import { strFromU8, strToU8, Unzip, UnzipPassThrough, Zip, ZipPassThrough } from 'fflate';
import { Cancelled, Problem } from '../../core/grid/problem.ts';
import type { Progress } from '../../core/grid/progress.ts';
import { problemOf } from './opening.ts';

/**
 * One file for many properties: a plain zip with each property file as it is (their tiles are compressed already)
 * and `shelf.json`, which says whose they are.
 */

export interface Backup {
  /** Where the property file lies. */
  path: string;
  /** Name it had. */
  name: string;
  client: string;
  archived: boolean;
}

const LIST = 'shelf.json';
const CHUNK = 4 * 1024 * 1024;
/** The plain zip format ends here, and fflate writes no other. */
const LARGEST = 4 * 1024 ** 3 - 1024 * 1024;

interface Unpacked {
  path: string;
  /** Null once all of it is written. */
  handle: number | null;
}

function close(entry: Unpacked): void {
  closeSync(entry.handle!);
  entry.handle = null;
}

const entryName = (index: number): string => `properties/${index + 1}.gpkg`;

/**
 * @returns size of the file, bytes
 * @throws Problem when the properties together are too large for one file, or there is no room for it
 */
export async function packBackup(
  files: readonly Backup[],
  target: string,
  progress: Progress,
): Promise<number> {
  const total = files.reduce((sum, { path }) => sum + statSync(path).size, 0);
  if (total > LARGEST) {
    throw new Problem(`The properties come to ${(total / 1e9).toFixed(1)} GB; one back-up file holds 4 GB.`, {
      fix: 'Take some properties off the shelf first, and copy their files by hand.',
    });
  }
  const building = `${target}.building-${process.pid}`;
  const out = createWriteStream(building);
  const zip = new Zip((error, bytes, final) => {
    if (error) out.destroy(error);
    else out.write(bytes);
    if (final) out.end();
  });
  const done = finished(out);
  // Awaited below; a failure before that is not to count as unhandled.
  done.catch(() => {});
  try {
    const list = new ZipPassThrough(LIST);
    zip.add(list);
    const rows = files.map(({ name, client, archived }, i) => ({
      entry: entryName(i),
      name,
      client,
      archived,
    }));
    list.push(strToU8(JSON.stringify(rows)), true);
    let written = 0;
    for (const [i, { path }] of files.entries()) {
      const entry = new ZipPassThrough(entryName(i));
      zip.add(entry);
      for await (const chunk of createReadStream(path, { highWaterMark: CHUNK })) {
        entry.push(new Uint8Array(chunk as Buffer));
        if (out.writableNeedDrain) await Promise.race([once(out, 'drain'), done]);
        written += (chunk as Buffer).length;
        progress(written / total);
      }
      entry.push(new Uint8Array(), true);
    }
    zip.end();
    await done;
    renameSync(building, target);
    return statSync(target).size;
  } catch (error) {
    throw roomProblem(error, target);
  } finally {
    rmSync(building, { force: true });
  }
}

function roomProblem(error: unknown, path: string): unknown {
  return (error as { code?: string }).code === 'ENOSPC'
    ? problemOf(Object.assign(new Error(), { code: 'SQLITE_FULL' }), path)
    : error;
}

const notOurs = (path: string): Problem =>
  new Problem(`${basename(path)} is not a back-up of this program.`, {
    file: path,
    fix: 'Choose the .zip file that “Back up” wrote, whole as it was written.',
  });

/**
 * Unpacks the property files into a folder that is there, under names of our own: those in the archive are never used as paths.
 *
 * @throws Problem when the file is not a back-up, is cut short, or claims more than the format can hold
 */
export async function unpackBackup(path: string, folder: string, progress: Progress): Promise<Backup[]> {
  const found = statSync(path, { throwIfNoEntry: false });
  if (!found?.isFile()) {
    throw new Problem(`There is no back-up at ${path}.`, { file: path, fix: 'Check the path.' });
  }
  const unpacked = new Map<string, Unpacked>();
  const list: Uint8Array[] = [];
  const unzip = new Unzip((file) => {
    if (file.name === LIST) {
      file.ondata = (_, chunk) => list.push(chunk.slice());
      file.start();
    } else if (/^properties\/\d+\.gpkg$/.test(file.name) && !unpacked.has(file.name)) {
      const target = join(folder, `${unpacked.size + 1}.gpkg`);
      const entry: Unpacked = { path: target, handle: openSync(target, 'w') };
      unpacked.set(file.name, entry);
      file.ondata = (error, chunk, final) => {
        // A name in a garbled archive may come with bytes that belong to none.
        if (error || !chunk || entry.handle === null) throw notOurs(path);
        writeSync(entry.handle, chunk);
        if (final) close(entry);
      };
      file.start();
    }
  });
  // Ours are stored, never packed: so nothing unpacks to more than the file itself holds.
  unzip.register(UnzipPassThrough);
  const input = openSync(path, 'r');
  try {
    for (let at = 0; at < found.size; ) {
      const buffer = new Uint8Array(Math.min(CHUNK, found.size - at));
      const read = readSync(input, buffer, 0, buffer.length, at);
      if (read === 0) break;
      at += read;
      unzip.push(buffer.subarray(0, read), at >= found.size);
      progress(at / found.size);
    }
  } catch (error) {
    // What the disk or the person stopped is passed on; what the zip reader makes of the bytes is in its own words.
    const { code } = error as { code?: unknown };
    throw typeof code === 'string' || error instanceof Cancelled || error instanceof Problem
      ? roomProblem(error, path)
      : notOurs(path);
  } finally {
    closeSync(input);
    for (const [name, entry] of unpacked) {
      if (entry.handle === null) continue;
      close(entry);
      unpacked.delete(name);
    }
  }
  const rows = readList(list, path);
  return rows.map(({ entry, name, client, archived }) => {
    const file = unpacked.get(entry);
    // Cut short, it was closed above and is not among them.
    if (!file) throw notOurs(path);
    return { path: file.path, name: basename(name), client, archived };
  });
}

function readList(parts: Uint8Array[], path: string): (Omit<Backup, 'path'> & { entry: string })[] {
  try {
    const rows: unknown = JSON.parse(parts.map((part) => strFromU8(part)).join(''));
    const isRow = (row: Record<string, unknown>) =>
      ['entry', 'name', 'client'].every((key) => typeof row[key] === 'string') &&
      typeof row.archived === 'boolean';
    if (Array.isArray(rows) && rows.length > 0 && rows.every(isRow)) return rows;
  } catch {
    // Not a list: told below.
  }
  throw notOurs(path);
}
