import { mkdir, mkdtemp, rm } from 'node:fs/promises';
import { basename, extname, join, resolve } from 'node:path';
import { Problem } from '../../../core/grid/problem.ts';
import { isoToday } from '../../../core/plan/days.ts';
import { freeName } from '../../store/free-name.ts';
import { runJob } from '../../workers/run-job.ts';
import type { Handlers, ServiceContext } from '../context.ts';
import { described, shelfId } from '../shelf.ts';
import type { ShelfRow } from '../shelf-requests.ts';
import { paintWhole } from './map.ts';

/** Paints the small map of the open property, once its ground is there to be painted. */
export async function keepSmallMap(context: ServiceContext): Promise<void> {
  const { property, shelf } = context;
  if (!property) return;
  // A small map is a convenience: a property closed meanwhile simply has none yet.
  await paintWhole(context, property)
    .then((png) => png && shelf.keepMap(property.path, png))
    .catch(() => {});
}

/** The shelf, with the open property as it is now rather than as it was when it was opened. */
async function listNow({ shelf, property }: ServiceContext): Promise<ShelfRow[]> {
  const rows = await shelf.list();
  if (!property) return rows;
  const id = shelfId(property.path);
  return rows.map((row) => (row.id === id ? { ...row, ...described(property.head) } : row));
}

const properties = ({ options }: ServiceContext) => join(options.dataFolder, 'properties');

const isOpen = ({ property }: ServiceContext, path: string): boolean =>
  property !== null && resolve(property.path) === path;

/** A folder for copies on their way, which is gone when the work is done. */
async function withRoom<T>(context: ServiceContext, work: (folder: string) => Promise<T>): Promise<T> {
  await mkdir(context.options.dataFolder, { recursive: true });
  const folder = await mkdtemp(join(context.options.dataFolder, 'copying-'));
  try {
    return await work(folder);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

export const shelfHandlers: Handlers<
  'shelf.list' | 'shelf.map' | 'shelf.note' | 'shelf.forget' | 'shelf.copy' | 'shelf.backup' | 'shelf.restore'
> = {
  'shelf.list': listNow,
  'shelf.map': ({ shelf }, { id }) => shelf.map(id),

  'shelf.note': async (context, { id, ...patch }) => {
    await context.shelf.change(id, patch);
    return listNow(context);
  },

  'shelf.forget': async (context, { id }) => {
    const { property, shelf } = context;
    if (property && shelfId(property.path) === id)
      throw new Problem('The open property stays on the shelf.', { fix: 'Open another one first.' });
    await shelf.forget(id);
    return listNow(context);
  },

  'shelf.copy': async (context, { id, nameless }) => {
    const row = await context.shelf.find(id);
    const stem = nameless ? 'Nameless property' : `${basename(row.path, extname(row.path))} copy`;
    const target = await freeName(properties(context), stem);
    const head = await withRoom(context, async (folder) => {
      const held = join(folder, 'open.gpkg');
      const open = isOpen(context, row.path);
      if (open) await context.property!.store.copyTo(held);
      return runJob(nameless ? 'nameless' : 'copy', { path: open ? held : row.path, target });
    });
    await context.shelf.place(head, nameless ? undefined : { client: row.client });
    return { path: target };
  },

  'shelf.backup': async (context) => {
    const rows = (await context.shelf.list()).filter(({ there }) => there);
    if (rows.length === 0)
      throw new Problem('There is no property to back up.', { fix: 'Open a property first.' });
    return withRoom(context, async (folder) => {
      const files = [];
      for (const { path, client, archived } of rows) {
        const open = isOpen(context, path);
        const held = join(folder, 'open.gpkg');
        if (open) await context.property!.store.copyTo(held);
        files.push({ path: open ? held : path, name: basename(path), client, archived });
      }
      const day = isoToday();
      const target = await freeName(join(context.options.dataFolder, 'backups'), `Shelf ${day}`, '.zip');
      const { bytes } = await runJob('backup', { files, folder, target });
      return { path: target, properties: rows.length, bytes };
    });
  },

  'shelf.restore': (context, { path }) =>
    withRoom(context, async (folder) => {
      const { restored } = await runJob('restore', { path, folder, into: properties(context) });
      for (const { head, client, archived } of restored)
        await context.shelf.place(head, { client, archived });
      return { properties: restored.length };
    }),
};
